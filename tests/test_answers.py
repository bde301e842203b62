"""The dictionary of answers against what the verbs and the report give out."""

from __future__ import annotations

import csv
import re
from collections import Counter
from io import StringIO
from pathlib import Path

import pytest
from click.testing import CliRunner

from sgzone.answers import BY_ROW, DATA, SHORT, WIDE, answers, columns_of
from sgzone.cli import sgzone
from sgzone.scoring.gained import BY_COLUMNS
from tests.demo_season import demo_file

CALLS = {
    "rounds": "rounds",
    "gained": "gained",
    "summary": "summary --by part",
    "counts": "counts",
    "why": "why",
    "misses": "why --detail misses",
    "carry": "why --detail carry",
    "putting": "why --detail putting",
    "compare": "compare --by swing",
    "trend": "trend",
    "before_after": "trend --split-date 2026-07-20",
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
"""Answer -> the call whose csv it is."""
SHOWN_ALONE = {
    "gained": {"start", "end", "basis"},
    "summary": {"basis"},
    "why": {"ratio"},
    "compare": {"shots", "proximity", "depth_sd", "side_sd", "known"},
    "practice": {"role", "shots", "rounds"},
    "counts": {"player"},
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


@pytest.mark.parametrize("answer", CALLS)
def test_every_csv_has_the_columns_of_its_answer(answer: str) -> None:
    words = [word.replace(":", " ") for word in CALLS[answer].split()]
    if words[0] not in ("benchmarks", "sources"):
        words += ["--db", str(demo_file())]
    done = CliRunner().invoke(sgzone, [*words, "--format", "csv"])
    assert done.exit_code == 0, done.output
    head = set(next(csv.reader(StringIO(done.stdout))))
    known = {column.name for column in columns_of(answer)} - SHOWN_ALONE.get(answer, set())
    if answer == "summary":
        head -= {"part"}
    assert head == known


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
