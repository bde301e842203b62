"""The dictionary of answers against what the verbs and the report give out."""

from __future__ import annotations

import csv
import re
import sys
from collections import Counter
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from click.testing import CliRunner

from sgzone.answers import BY_ROW, DATA, SHORT, WIDE, answers, columns_of
from sgzone.benchmarks.calibration import CALIBRATION_COLUMNS
from sgzone.benchmarks.tables import FIT_COLUMNS
from sgzone.cli import sgzone
from sgzone.report.one_round import round_report
from sgzone.report.player import player_report
from sgzone.report.sections import notes
from sgzone.report.squad import team_report
from sgzone.scoring.gained import BY_COLUMNS
from sgzone.season.agreed.keeping import About, add
from sgzone.season.reading import problem_frame
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from sgzone.words import tables
from tests.demo_season import demo_file
from tests.report.seasons import ask, demo, season
from tests.report.squads import ask_all

CALLS = {
    "rounds": "rounds",
    "gained": "gained",
    "debrief": "debrief",
    "summary": "summary --by part",
    "plays_like": "summary --plays-like",
    "counts": "counts",
    "why": "why",
    "misses": "why --detail misses",
    "carry": "why --detail carry",
    "putting": "why --detail putting",
    "compare": "compare --by swing",
    "questions": "clubs --detail questions | clubs --detail changes",
    "trend": "trend",
    "before_after": "trend --split-date 2026-07-20",
    "agreements": "agree",
    "field": "field",
    "clubs": "clubs",
    "cover": "clubs --detail cover",
    "consistency": "clubs --detail consistency",
    "bag": "clubs --detail bag",
    "wear": "clubs --detail wear",
    "number": "number --from 90 --to 100",
    "practice": "practice --hours 6 --detail",
    "week": "practice --hours 6 --week",
    "blocks": "practice --blocks",
    "what_if": "practice --what-if wedge_50_100:long_short_spread:-20%",
    "benchmarks": "benchmarks",
    "curve": "benchmarks tour",
    "figures": "sources",
}
"""Answer -> the call whose csv it is; of two, one has some of the columns, one the others."""
MADE = {
    "auto": ["benchmark"],
    "calibration": CALIBRATION_COLUMNS,
    "fitted": ["benchmark", *FIT_COLUMNS, "base"],
    "problems": list(problem_frame([])),
}
"""Answer -> the columns of its csv, where a call would have to write or fail for it."""
SHOWN_ONLY = {
    *("by", "causes", "ratios", "miss_costs", "season", "splits", "week_page"),
    *(
        "counts_by_band",
        "sources",
        "proximity",
        "putts",
        "reasons",
        "hours",
        "sides",
        "squad",
        "squad_week",
    ),
    *("squad_agreed", "verdicts"),
    *("round_parts", "round_counts", "round_strokes", "round_holes", "card_notes"),
    *("rounds_so_far", "needs", "written_down", "page_strokes"),
}
"""Answers that are no csv: made for the eye, or for the report, whose exports are of frames."""
SHOWN_ALONE = {
    "gained": {"start", "end", "basis"},
    "summary": {"basis"},
    "why": {"ratio"},
    "compare": {"shots", "proximity", "depth_sd", "side_sd", "known"},
    "practice": {"role", "shots", "rounds"},
    "counts": {"player"},
    "before_after": {"luck", "alone"},
    "agreements": {"counted", "goal", "before_words", "since_words", "range_words"},
}
"""Columns that are shown and stand in no csv of these calls."""


def test_every_row_is_sound() -> None:
    for answer in answers():
        columns = columns_of(answer)
        names = [column.name for column in columns]
        assert Counter(names).most_common(1)[0][1] == 1, answer
        for column in columns:
            where = f"{answer}.{column.name}"
            assert column.meaning, where
            assert column.shown in (SHORT, WIDE, DATA), where
            assert column.sense in ("plain", "gain", "signed"), where
            assert column.unit in ("", "yd", "ft", BY_ROW), where
            assert column.share in (0, 1, 5), where
            assert not (column.share and column.unit), where
            if column.range_of:
                assert column.range_of in names, where
                ends = [c for c in columns if c.range_of == column.range_of]
                assert len(ends) == 2, where
                low, high = ends
                assert columns.index(high) == columns.index(low) + 1, where
                assert (low.unit, low.decimals, low.share, low.shown, low.sense) == (
                    *(high.unit, high.decimals, high.share, high.shown, high.sense),
                ), where


def test_a_column_in_yards_or_feet_says_so_in_its_name() -> None:
    exempt = {"low", "high", "gap_low", "gap_high"}
    for answer in answers():
        for column in columns_of(answer):
            if column.unit in ("yd", "ft") and column.name not in exempt:
                assert f"_{column.unit}" in column.name, f"{answer}.{column.name}"


@pytest.mark.repeats
@pytest.mark.parametrize("answer", CALLS)
def test_every_csv_has_the_columns_of_its_answer(answer: str) -> None:
    head: set[str] = set()
    for call in CALLS[answer].split(" | "):
        words = [word.replace(":", " ") for word in call.split()]
        if words[0] not in ("benchmarks", "sources"):
            words += ["--db", str(demo_file())]
        done = CliRunner().invoke(sgzone, [*words, "--format", "csv"])
        assert done.exit_code == 0, done.output
        head |= set(next(csv.reader(StringIO(done.stdout))))
    known = {column.name for column in columns_of(answer)} - SHOWN_ALONE.get(answer, set())
    if answer == "summary":
        head -= {"part"}
    assert head == known


def test_every_answer_is_held_to_its_columns() -> None:
    for answer, columns in MADE.items():
        assert {column.name for column in columns_of(answer)} == {*columns}, answer
    assert set(answers()) == {*CALLS, *MADE, *SHOWN_ONLY}


@pytest.mark.long
def test_whatever_is_shown_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    """No row of the dictionary is about a column that the frames no longer have."""
    shown: dict[str, set[str]] = {}

    def kept(frame: pd.DataFrame, answer: str, *args: Any, **more: Any) -> tables.Table:
        shown.setdefault(answer, set()).update(frame.columns)
        return table_of(frame, answer, *args, **more)

    table_of = tables.table_of
    for name, module in sys.modules.items():
        if name.startswith("sgzone.") and getattr(module, "table_of", None) is table_of:
            monkeypatch.setattr(module, "table_of", kept)
    with open_store(demo_file(), read_only=True) as store:
        player_report(ask(store, other="scratch", with_notes=True))
        first_rounds = Selection(until=date(2026, 4, 12))
        player_report(ask(store, selection=first_rounds))
    with season(demo()) as store:
        goal = About(due=date(2027, 12, 1))
        add(store, store.players()[0], "two putts from 30 ft", goal)
        team_report(ask_all(store, meeting=date(2026, 7, 15)))
        notes.section(ask(store))
        round_report(ask(store), None, None, with_notes=True)
    hours = "practice --hours 6"
    for call in ("trend", "why", "why --detail ratio", f"{hours} --detail", f"{hours} --week"):
        done = CliRunner().invoke(sgzone, [*call.split(), "--db", str(demo_file())])
        assert done.exit_code == 0, done.output
    for answer in SHOWN_ONLY - {"by"}:
        known = {column.name for column in columns_of(answer) if column.shown != DATA}
        assert known <= shown[answer], answer


def test_whatever_strokes_are_grouped_by_has_a_row() -> None:
    assert {column.name for column in columns_of("by")} == {"player", *BY_COLUMNS}


def test_no_heading_and_no_format_stands_anywhere_else() -> None:
    """The dictionary is where headings are: no mapping of a column to one in the code."""
    headings = {c.heading for a in answers() for c in columns_of(a) if len(c.heading) > 12}
    package = Path(__file__).resolve().parent.parent / "sgzone"
    rooms = [*(package / "verbs").rglob("*.py"), *(package / "report").rglob("*.py")]
    assert len(rooms) > 40
    for path in rooms:
        text = path.read_text(encoding="utf-8")
        found = [h for h in headings if re.search(rf':\s*\w*\(?"{re.escape(h)}"', text)]
        assert not found, f"{path.name}: {found}"
