"""A page of a season too short for any verdict draws no bars of single strokes."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest

from sgzone.report.asked import Asked, knowing
from sgzone.report.page import Page, Place
from sgzone.report.paper.order import on_paper
from sgzone.report.player import player_report
from sgzone.report.sections import grid, misses, where
from sgzone.terms import NOT_ENOUGH
from sgzone.words import paper as words
from sgzone.words.counts import counts_lead
from sgzone.words.digits import NO_INTERVAL
from sgzone.words.say import Say
from sgzone.words.tables import Table
from sgzone.words.where import parts_lead
from tests.report.seasons import ONE_HOLE, ask, card, demo, demo_report, season


@pytest.mark.long
def test_a_season_without_a_verdict_has_the_table_and_its_sentence_but_no_chart(
    tmp_path: Path,
) -> None:
    with season(card(tmp_path, ONE_HOLE)) as store:
        asked = ask(store)
        section = where.section(asked)
        assert section.figures == grid.section(asked).figures == ()
    parts = asked.parts
    assert (parts["verdict"] == NOT_ENOUGH).all()
    played, table = section.tables
    assert played.rows == (  # 2.80 from 100 yards against tour, in 3 strokes
        ("2026-05-01", "-0.2", "3", "2", "1"),
    )
    assert len(table.rows) == (parts["shots"] > 0).sum() == 3
    assert section.lead == parts_lead(parts[parts["shots"] > 0], asked.say)
    assert any("not enough shots" in " ".join(row) for row in table.rows)


def test_one_part_with_a_verdict_is_enough_for_the_chart(asked: Asked) -> None:
    section = where.section(asked)
    assert [panel.id for figure in section.figures for panel in figure.panels] == ["by-part"]
    assert section.tables == ()


@pytest.mark.long
def test_four_rounds_show_no_empty_column_and_no_word_of_intervals_that_are_not_there(
    tmp_path: Path,
) -> None:
    with season(first_rounds(tmp_path, 4)) as store:
        page = player_report(ask(store)).page
    empty = [
        (table.caption, heading)
        for table in tables(page)
        for heading, cells in zip(table.headings, zip(*table.rows, strict=True), strict=True)
        if set(cells) <= {"", NO_INTERVAL}
    ]
    assert empty == []
    sections = {section.id: section for section in page.sections}
    played, parts = sections["where"].tables
    assert played.headings == ("date", "course", "gained in all", "strokes", "putts", "holes")
    assert len(played.rows) == 4
    assert parts.headings == ("part", "shots", "as played", "verdict")
    assert "range" not in " ".join(sections["where"].lead)
    assert "too early: the order is mostly luck" in sections["where"].lead[0]
    printed = {section.id: section for section in on_paper(page).sections}
    for name in ("where", "counts", "practice"):  # on the first sheet, numbers and all
        assert printed[name].tables == sections[name].tables
        assert printed[name].place == Place.PLAYER
        assert words.ON_THE_NEXT not in printed[name].lead
    assert "numbers" not in printed
    assert list(printed)[:4] == ["where", "counts", "practice", "agree"]
    whole = {section.id: section for section in on_paper(demo_report("season").page).sections}
    assert words.ON_THE_NEXT not in whole["where"].lead
    assert "ranges: 8 in 10" in sections["counts"].lead[0]  # these have some


def test_misses_that_never_happened_have_no_row_and_no_stroke_is_lost(asked: Asked) -> None:
    none = asked.misses.assign(shots=asked.misses["shots"].where(asked.misses.index > 1, 0))
    (table,) = (f.table for f in misses.section(knowing(asked, misses=none)).figures)
    shots = table.headings.index("shots")
    assert len(table.rows) == len(none) - 2
    assert sum(int(row[shots]) for row in table.rows) == none["shots"].sum()
    kept = none[none["shots"] > 0]
    told = [row[table.headings.index("a shot")] for row in table.rows]
    assert told == [f"{-loss:+.2f}" for loss in kept["loss_per_shot"]]  # minus loses


def test_a_season_with_verdicts_says_its_level() -> None:
    (section,) = (s for s in demo_report("season").page.sections if s.id == "where")
    assert "worst first; ranges 8 in 10." in section.lead[0]


def test_counts_without_an_interval_have_no_word_of_one() -> None:
    rows = pd.DataFrame({"measure": ["sand saves"], "low": [float("nan")]})
    assert counts_lead(rows, Say()) == ("What can be counted without a benchmark.",)
    assert "ranges: 9 in 10" in counts_lead(rows.assign(low=0.2), Say(level=0.9))[0]


def first_rounds(folder: Path, days: int) -> Path:
    """Write a card of the demo season's first days."""
    with demo().open(encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    at = head.index("date")
    kept = sorted({row[at] for row in rows})[:days]
    path = folder / "first.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *(row for row in rows if row[at] in kept)])
    return path


def tables(page: Page) -> Iterator[Table]:
    """Yield every table of a page, those behind charts too."""
    for section in page.sections:
        yield from (figure.table for figure in section.figures)
        yield from section.tables
