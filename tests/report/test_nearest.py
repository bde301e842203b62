"""A report against the nearest standard: one throughout, named; and beside, where all lose."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from sgzone.errors import CallError
from sgzone.report.write import write_report
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from tests.demo_season import demo_file
from tests.report.seasons import demo_report

SAID = "Against scratch, the standard nearest to your whole game."


def _page(folder: Path, **asked: object) -> str:
    with open_store(demo_file(), read_only=True) as store:
        [path] = write_report(folder / "r.html", store, **asked)  # type: ignore[arg-type]
    return re.sub(r"\s+", " ", path.read_text(encoding="utf-8"))


def test_where_every_part_loses_the_nearest_is_in_the_first_block() -> None:
    *_, last = demo_report("plain").page.summary
    assert last.startswith(
        "Nearest standard: scratch. Worse than scratch: sand 0-50 yd by 0.15 (0.08 to 0.21)"
    )


@pytest.mark.long
def test_a_block_is_against_the_standard_of_all_rounds_chosen(tmp_path: Path) -> None:
    page = _page(tmp_path, benchmark="auto", kind="block")
    assert page.count(SAID) == 1
    assert "9 rounds" in page  # too few for a standard of their own
    assert "against the scratch benchmark" in page


@pytest.mark.long
@pytest.mark.parametrize("kind", ["season", "block"])
def test_a_report_against_it_is_that_against_its_name(tmp_path: Path, kind: str) -> None:
    page = _page(tmp_path, benchmark="auto", kind=kind)
    plain = _page(tmp_path / "plain", benchmark="scratch", kind=kind)
    assert SAID not in plain
    lead = "You play like a golfer who averages 75 to 78 (8 in 10; 40 rounds)."
    both = [f"<p>{SAID}</p>", f"<p>{lead}</p>"]
    for line in both:
        assert line in page
        page = page.replace(f"{line} ", "", 1)
    assert page == plain


@pytest.mark.long
def test_too_few_rounds_are_against_the_tour_and_the_page_says_so(tmp_path: Path) -> None:
    few = Selection(until=date(2026, 6, 1))
    page = _page(tmp_path, benchmark="auto", selection=few)
    assert "against the tour benchmark" in page
    assert "no standard can be named for your whole game (20 rounds needed, 10 there)." in page


def test_a_teams_report_names_its_benchmark(tmp_path: Path) -> None:
    with pytest.raises(
        CallError, match=r"auto is each player's own\. Name one, such as amateur-90"
    ):
        _page(tmp_path, benchmark="auto", kind="team")
    assert not list(tmp_path.iterdir())
