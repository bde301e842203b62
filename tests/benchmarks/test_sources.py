"""No figure without a source, no source without a use."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.benchmarks.sources import (
    CITED_BY_CODE,
    FIGURE_COLUMNS,
    anchor,
    anchor_range,
    cited_figures,
    figures,
    read_published,
    sources,
)
from sgzone.resources import data_path

PUBLISHED = sorted(path.name for path in data_path("published").glob("*.csv"))


def test_every_row_of_every_published_file_is_a_figure() -> None:
    table = figures()
    assert list(table.columns) == FIGURE_COLUMNS
    counts = table.groupby("file").size().to_dict()
    assert counts == {name: len(read_published(name)) for name in PUBLISHED}
    assert (table["value"] != "").all()


def test_every_key_in_use_exists_and_every_key_is_used() -> None:
    keys = sources()["key"]
    assert keys.is_unique
    assert set(figures()["source"]) | set(CITED_BY_CODE) == set(keys)
    assert not set(CITED_BY_CODE) & set(figures()["source"])


def test_keys_cited_by_code_stand_in_the_code() -> None:
    package = Path(__file__).resolve().parents[2] / "sgzone"
    code = "\n".join(
        path.read_text(encoding="utf-8")
        for path in package.rglob("*.py")
        if path.name != "sources.py"
    )
    assert {key for key in CITED_BY_CODE if key not in code.lower()} == set()


def test_an_anchor_by_its_words() -> None:
    figure = anchor("scratch", "expected strokes", "140 yd par-3 tee")
    assert (figure.value, figure.unit, figure.source) == (3.2, "strokes", "broadie2008")
    quantity = "median leave as percent of start distance"
    low, high = anchor_range("tour", quantity, "fairway 50-100 yd")
    assert (low.value, high.value, high.source) == (5.2, 6.5, "james_rees2008")
    with pytest.raises(KeyError, match="0 anchors"):
        anchor("tour", "expected strokes", "the moon")


def test_what_is_read_cannot_spoil_the_original() -> None:
    mine, keys = read_published("anchors.csv"), sources()
    mine["value"], keys["key"] = "0", "none"
    assert anchor("tour", "distance where putts average 2.0", "green").value == 33
    assert "none" not in set(sources()["key"])


def test_cited_figures_have_their_work_beside_them() -> None:
    table = cited_figures()
    assert len(table) == len(figures()) + len(CITED_BY_CODE)
    assert (table["authors"] != "").all()
