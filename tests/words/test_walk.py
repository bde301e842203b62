"""No report speaks against itself: whole reports of many seasons and standards, read twice over.

A few are read with every change, many more under ``long``. That the reading finds what it is for
is shown by planting each kind of contradiction in a report that has none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import altair as alt
import pandas as pd
import pytest

from sgzone.demo.presets import demo_player, strong_amateur, tour_level
from sgzone.demo.simulate import simulate_season
from sgzone.report.page import Page, Section
from sgzone.report.player import player_report
from sgzone.season.store import Store, open_store
from sgzone.words.tables import Table
from tests.report.seasons import ask, demo_report
from tests.words.walk import DRAWN, WALKS, contradictions, is_answer, section

PLAYERS = (tour_level, strong_amateur, demo_player)
AGAINST = ("tour", "scratch", "amateur-80", "amateur-90")
FEW = ((strong_amateur, 6, 41, "tour"), (demo_player, 24, 42, "amateur-90"))
MANY = tuple(
    (golfer, rounds, 100 + seed, AGAINST[seed % len(AGAINST)])
    for seed, (golfer, rounds) in enumerate(
        (golfer, rounds)
        for rounds in (1, 2, 4, 6, 9, 12, 20, 30)
        for golfer in PLAYERS
        for _ in range(2)
    )
)
"""Golfer, rounds, seed, standard."""


@contextmanager
def a_season(golfer: Callable[[], Any], rounds: int, seed: int, folder: Path) -> Iterator[Store]:
    simulate_season(golfer(), rounds, seed).card.to_parquet(folder / "card.parquet")
    with open_store() as store:
        store.load(folder / "card.parquet")
        yield store


def named(one: Any) -> str:
    golfer, rounds, seed, against = one
    return f"{golfer.__name__}, {rounds} rounds ({seed}), {against}"


@pytest.mark.long
@pytest.mark.parametrize("one", FEW, ids=named)
def test_a_report_does_not_speak_against_itself(one: Any, tmp_path: Path) -> None:
    *season, against = one
    with a_season(*season, tmp_path) as store:
        assert contradictions(player_report(ask(store, against)).page) == []


@pytest.mark.long
@pytest.mark.parametrize("one", MANY, ids=named)
def test_no_report_speaks_against_itself(one: Any, tmp_path: Path) -> None:
    *season, against = one
    with a_season(*season, tmp_path) as store:
        assert contradictions(player_report(ask(store, against)).page) == []


def the_page() -> Page:
    return demo_report("plain").page


@pytest.mark.long
def test_the_demo_seasons_report_does_not_either() -> None:
    assert contradictions(the_page()) == []


def with_section(page: Page, name: str, change: Callable[[Section], Section]) -> Page:
    """Return a page with one section changed."""
    assert section(page, name) is not None
    kept = tuple(change(one) if one.id == name else one for one in page.sections)
    return replace(page, sections=kept)


def with_cell(table: Table, row: str, heading: str, text: str, nth: int = 0) -> Table:
    """Return a table with another text in one cell; of headings alike the ``nth``."""
    place = [k for k, name in enumerate(table.headings) if name == heading][nth]
    rows = [
        tuple(text if k == place else cell for k, cell in enumerate(cells))
        if cells[0] == row
        else cells
        for cells in table.rows
    ]
    assert tuple(rows) != table.rows
    return replace(table, rows=tuple(rows))


def in_figure(name: str, row: str, heading: str, text: str, nth: int = 0) -> Page:
    """Return the report with one printed cell of a section's first figure changed."""

    def change(one: Section) -> Section:
        first, *others = one.figures
        table = with_cell(first.table, row, heading, text, nth)
        return replace(one, figures=(replace(first, table=table), *others))

    return with_section(the_page(), name, change)


def in_lead(name: str, old: str, new: str) -> Page:
    """Return the report with a word of a section's sentences changed."""

    def change(one: Section) -> Section:
        lead = tuple(text.replace(old, new) for text in one.lead)
        assert lead != one.lead
        return replace(one, lead=lead)

    return with_section(the_page(), name, change)


def in_summary(old: str, new: str) -> Page:
    page = the_page()
    summary = tuple(text.replace(old, new) for text in page.summary)
    assert summary != page.summary
    return replace(page, summary=summary)


def in_chart(name: str, column: str, times: float) -> Page:
    """Return the report with one number of a section's first chart drawn elsewhere."""

    class Moved:
        def __init__(self, chart: alt.TopLevelMixin) -> None:
            self.chart = chart

        def to_dict(self) -> dict[str, Any]:
            spec: dict[str, Any] = self.chart.to_dict()
            rows = next(r for r in spec["datasets"].values() if r and column in r[0])
            for row in rows:
                row[column] = row[column] and row[column] * times
            return spec

    def change(one: Section) -> Section:
        first, *others = one.figures
        panel = replace(first.panels[0], chart=Moved(first.panels[0].chart))  # type: ignore[arg-type]
        return replace(one, figures=(replace(first, panels=(panel,)), *others))

    return with_section(the_page(), name, change)


def swapped_rows() -> Page:
    def change(one: Section) -> Section:
        first, *others = one.figures
        a, b, *rest = first.table.rows
        table = replace(first.table, rows=(b, a, *rest))
        return replace(one, figures=(replace(first, table=table), *others))

    return with_section(the_page(), "where", change)


def better_split() -> Page:
    def change(one: Section) -> Section:
        splits = with_cell(one.tables[0], "equal", "worth a round", "+0.90")
        return replace(one, tables=(splits, *one.tables[1:]))

    return with_section(the_page(), "practice", change)


APPROACH, SHORT = "approach 100-150 yd", "putts 0-10 ft"
PLANTED: dict[str, tuple[Callable[[], Page], str]] = {
    "a loss that gains": (
        lambda: in_figure("where", APPROACH, "verdict", "clear gain"),
        "words_against_ranges",
    ),
    "a clear word over a range that reaches 0": (
        lambda: in_figure("where", APPROACH, "range", "-1.39 to +0.20", 1),
        "words_against_ranges",
    ),
    "a best estimate outside its range": (
        lambda: in_figure("where", APPROACH, "range", "-1.00 to -0.93", 1),
        "words_against_ranges",
    ),
    "a table out of order": (swapped_rows, "words_against_ranges"),
    "another amount in the sentence": (
        lambda: in_summary("(1.16)", "(1.26)"),
        "summary_against_table",
    ),
    "another order in the sentence": (
        lambda: in_summary(
            f"{APPROACH} (1.16) and {SHORT} (0.62)", f"{SHORT} (0.62) and {APPROACH} (1.16)"
        ),
        "summary_against_table",
    ),
    "a loss told as a gain": (
        lambda: in_summary("Most goes in", "Most comes from"),
        "summary_against_table",
    ),
    "a dot drawn elsewhere": (
        lambda: in_chart("where", "shrunk_per_round", 1.1),
        "drawn_against_printed",
    ),
    "a bar drawn elsewhere": (
        lambda: in_chart("where", "gained_per_round", -1.0),
        "drawn_against_printed",
    ),
    "a share drawn elsewhere": (
        lambda: in_chart("practice", "share", 3.0),
        "drawn_against_printed",
    ),
    "a cause drawn elsewhere": (
        lambda: in_chart("why", "gained_per_round", 1.5),
        "drawn_against_printed",
    ),
    "a cell drawn elsewhere": (
        lambda: in_chart("grid", "shrunk_per_shot", 2.0),
        "drawn_against_printed",
    ),
    "a split that beats the plan": (better_split, "plan_against_alternatives"),
    "another share in the sentence": (
        lambda: in_lead("practice", "60%", "40%"),
        "plan_against_alternatives",
    ),
    "another worth in the sentence": (
        lambda: in_lead("practice", "Worth about 0.36", "Worth about 0.46"),
        "plan_against_alternatives",
    ),
    "a toss-up that is none": (
        lambda: in_figure("practice", "chip 0-30 yd", "why", "loses 0.51 a round, toss-up"),
        "plan_against_alternatives",
    ),
    "another loss in the plan": (
        lambda: in_figure("practice", APPROACH, "why", "loses 1.26 a round, toss-up"),
        "losses_of_plan",
    ),
    "another verdict to agree on": (
        lambda: in_lead("agree", f"{SHORT} (clear loss", f"{SHORT} (probable loss"),
        "agreed_against_verdicts",
    ),
    "another total of the causes": (
        lambda: in_figure("where", APPROACH, "as played", "-1.36"),
        "causes_against_table",
    ),
    "another amount of the main cause": (
        lambda: in_lead("why", "control, 0.33", "control, 0.53"),
        "causes_against_table",
    ),
    "a change that is not told": (
        lambda: in_figure("trend", APPROACH, "verdict", "real change"),
        "trend_against_table",
    ),
    "another share of the standard": (
        lambda: in_lead("why", "holes 82%", "holes 83%"),
        "putts_against_table",
    ),
    "another share of the player": (
        lambda: in_lead("why", "hole 67%", "hole 57%"),
        "putts_against_table",
    ),
    "a change that is not there": (
        lambda: in_lead("trend", "No real change shown", "Putts 0-10 ft: +0.50 strokes a round"),
        "trend_against_table",
    ),
}


@pytest.mark.repeats
@pytest.mark.parametrize("kind", PLANTED)
def test_a_planted_contradiction_is_found(kind: str) -> None:
    page, name = PLANTED[kind]
    walk = next(walk for walk in WALKS if walk.__name__ == name)
    assert walk(page())


def test_every_way_of_reading_has_something_planted() -> None:
    assert {name for _, name in PLANTED.values()} == {walk.__name__ for walk in WALKS}


def test_every_chart_that_has_a_table_is_read() -> None:
    """All but the misses and the numbers of clubs, which draw single balls and best swings."""
    unread = {
        panel.id.split("-")[0]
        for one in the_page().sections
        for figure in one.figures
        for panel in figure.panels
        if not any(panel.id.startswith(name) for name in DRAWN)
        or not any(
            is_answer(pd.DataFrame(rows), panel)
            for rows in panel.chart.to_dict()["datasets"].values()
        )
    }
    assert unread == {"misses", "numbers"}


def test_the_seasons_are_many_and_of_every_kind() -> None:
    assert len({one[2] for one in MANY}) == len(MANY) == 48
    assert {one[3] for one in MANY} == set(AGAINST)
