"""A file of ours is known by what it holds, one of before too, and nobody else's is."""

from __future__ import annotations

import re
from collections.abc import Mapping

import altair as alt
import pandas as pd
import pytest
import vl_convert

from sgzone.report.charts.file import write_chart
from sgzone.report.marks import CHART_MARK, CHARTS, LISTING, REPORTS, SHEETS
from sgzone.report.page import Page
from sgzone.report.paper.pdf import to_pdf
from sgzone.report.paper.pocket_card import sheet_pdf, write_sheet
from sgzone.report.screen.html import to_html
from sgzone.writing import Kind

CHART = alt.Chart(pd.DataFrame({"x": [1, 2]})).mark_point().encode(x=alt.X("x:Q"))
PAGE = Page("Ada: the strokes from 150 yards in", "", (), ())
SHEET_COLUMNS = [
    *("number_yd", "rank", "club", "swing", "landing_yd", "side_aim_ft", "expected_strokes"),
    *("verdict", "moved_yd", "prepare"),
]
KINDS: Mapping[str, Kind] = {
    **{f"report{end}": kind for end, kind in REPORTS.items()},
    **{f"chart{end}": kind for end, kind in CHARTS.items()},
    **{f"sheet{end}": kind for end, kind in SHEETS.items()},
}


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """One file of each kind that is written, by the names of ``KINDS``."""
    folder = tmp_path_factory.mktemp("ours")
    for end in CHARTS:
        write_chart(CHART, folder / f"chart{end}")
    for end in SHEETS:
        write_sheet(pd.DataFrame(columns=SHEET_COLUMNS), folder / f"sheet{end}")
    (folder / "report.html").write_text(to_html(PAGE), encoding="utf-8")
    (folder / "report.pdf").write_bytes(to_pdf(PAGE))
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_each_is_known_as_what_it_is_and_nothing_else(ours: dict[str, bytes]) -> None:
    assert set(ours) == set(KINDS)
    for name, held in ours.items():
        assert [other for other, kind in KINDS.items() if kind.known(held)] == [name]


def test_one_of_before_is_known_too(ours: dict[str, bytes]) -> None:
    """They had no mark; only a sheet on paper had nothing else to be known by."""
    marks = {
        "report.html": rb'<meta name="generator"[^>]*>\n',
        "report.pdf": rb"<pdf:Keywords>[^<]*</pdf:Keywords>",
        "chart.html": rb"\n    " + re.escape(CHART_MARK.encode()),
    }
    for name, mark in marks.items():
        before, times = re.subn(mark, b"", ours[name])
        assert times == 1
        assert KINDS[name].known(before), name


def test_nobody_elses_is_known() -> None:
    spec = {**CHART.to_dict(), "background": "white"}
    strange = {
        ".html": [
            b"<!DOCTYPE html>\n<html><head><title>My page</title></head></html>",
            vl_convert.vegalite_to_html(spec, bundle=True).encode(),
        ],
        ".pdf": [b"%PDF-1.7\n%mine", sheet_pdf(pd.DataFrame(columns=SHEET_COLUMNS))[:200]],
        ".csv": [b"number_yd,mine\n1,2\n", b"player,date,hole,shot\n"],
        ".json": [b'{"my": 1}', b"[1]", b"[" * 100_000, b'{"$schema": 1}', b"\xff{"],
        ".svg": [b"<html><svg></svg></html>", b"svg"],
        ".png": [b"\xff\xd8\xff\xe0 a photograph", b"PNG"],
    }
    for name, kind in KINDS.items():
        for held in strange[f".{name.split('.')[1]}"]:
            assert not kind.known(held), (name, held[:40])
    assert not LISTING.known(b"file,of,mine\n")


def test_a_picture_of_another_program_is_a_picture() -> None:
    drawn = b'\xef\xbb\xbf<?xml version="1.0"?>\n<!-- made elsewhere -->\n<svg xmlns="x"></svg>'
    assert CHARTS[".svg"].known(drawn)
