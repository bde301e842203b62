"""A round written as text and read again is the same round, whatever stands in it."""

from __future__ import annotations

import csv
import random
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.text.writer import card_text
from sgzone.resources import data_path
from sgzone.season.reading import find_problems, read_card
from tests.cards.text.typed import rows_of
from tests.hard.hostile import HOSTILE
from tests.strategies import Row, valid_cards

LENGTH_UNITS = ("ft", "yd", "m", "inches")
SMALLEST = ("course", "event")
"""The columns of a card that have a place in the first line."""


@cache
def demo() -> pd.DataFrame:
    """Return the card of the demo season."""
    return read_card(data_path("demo/season.csv"))


def back(card: pd.DataFrame, folder: Path) -> pd.DataFrame:
    """Return a card that was written as text and read again; nothing may be asked or noted."""
    path = folder / "round.txt"
    path.write_text(card_text(card.to_dict("records")), encoding="utf-8", newline="")
    errors = [p for p in find_problems(path) if p.severity == "error"]
    assert errors == [], path.read_text(encoding="utf-8")
    return read_card(path)


@pytest.mark.long
def test_the_demo_season_comes_back_without_a_question(tmp_path: Path) -> None:
    card = demo()
    assert card.groupby(["date", "round"]).ngroups == 40
    pd.testing.assert_frame_equal(back(card, tmp_path), card)
    assert find_problems(tmp_path / "round.txt") == []


@st.composite
def cells(draw: st.DrawFn, column: ColumnSpec) -> str:
    """Draw a cell that a column may hold, blank at times."""
    if draw(st.booleans()):
        return ""
    if column.kind in ("integer", "number"):
        low, high = int(column.low or 0), int(column.high or 1)
        if column.kind == "integer":
            return str(draw(st.integers(low, high)))
        value = draw(st.one_of(st.integers(low, high), st.floats(low, high).map(lambda x: x or 0)))
        return repr(value)
    if column.words and draw(st.booleans()):
        return draw(st.sampled_from(column.words))
    texts = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=15)
    hostile = st.sampled_from([text for text in HOSTILE if len(text) <= 80])
    odd = st.sampled_from(
        ("m", "round 2", "14 May 2026", "h", "x", "-", "a]b[", "50, full", "=", "c")
    )
    text = draw(st.one_of(texts, hostile, odd)).strip(" \t\r\n\u00a0\ufeff")
    return "" if text.startswith("#") or text.lower() == "foursomes" else text


_BY_NAME = [
    *("club", "swing", "measured", "carry_yd", "depth_ft", "side_ft", "spin_rpm", "wind", "note"),
    *("par", "course", "event", "lie_quality"),
]


@pytest.mark.long
@settings(max_examples=60)
@given(data=st.data())
def test_any_valid_round_comes_back(data: st.DataObject, tmp_path_factory: Any) -> None:
    folder = tmp_path_factory.mktemp("text")
    player = data.draw(st.sampled_from(("Ada", "O\u2019Low, N.", "14 May 2025", "(Ada)", "[x] m")))
    rows = data.draw(valid_cards(max_rounds=2, max_holes=3, player=player))
    named = [column for column in columns_of("shot") if column.name in _BY_NAME]
    wanted = data.draw(st.lists(st.sampled_from(named), unique_by=lambda c: c.name, max_size=5))
    table = [with_more(data, row, wanted) for row in rows]
    card = read_card(written(table, folder / "card.csv"))
    pd.testing.assert_frame_equal(back(card, folder), card)


@pytest.mark.parametrize("name", ["NaT", "<NA>", "nan", "None", "null"])
def test_a_course_of_a_name_that_means_nothing_elsewhere_comes_back(
    name: str, tmp_path: Path
) -> None:
    header = "player,date,round,hole,shot,lie,distance,result,course"
    row = f"Ada,2026-05-01,1,1,3,green,3 ft,holed,{name}"
    (tmp_path / "card.csv").write_text(f"{header}\n{row}\n", encoding="utf-8")
    card = read_card(tmp_path / "card.csv")
    assert card["course"].tolist() == [name]
    pd.testing.assert_frame_equal(back(card, tmp_path), card)


def with_more(data: st.DataObject, row: Row, wanted: Sequence[ColumnSpec]) -> dict[str, str]:
    """Return a row with more columns, and one that no card has."""
    found = row.cells(data.draw(st.sampled_from(LENGTH_UNITS)))
    found |= {column.name: data.draw(cells(column)) for column in wanted}
    return found | {"My column": data.draw(st.sampled_from(("", "a, b", "7", "x]y")))}


def written(table: Sequence[dict[str, str]], path: Path) -> Path:
    """Write a table as CSV."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, table[0])
        writer.writeheader()
        writer.writerows(table)
    return path


HARD = {
    "a_lost_ball": ["tee,140,1,", ",,,picked_up"],
    "a_lie_alone": ["tee,140,1,", "rough,,,picked_up"],
    "a_length_alone": ["tee,140,1,", ",30 ft,,picked_up"],
    "putts_that_grow": ["green,2,,", "green,5,,", "green,30,,", "green,4,,"],
    "a_putt_from_the_fringe": ["fringe,7 ft,,holed"],
    "a_score_at_the_end": ["green,18,,", "green,2,,", "green,5,,"],
    "a_number_first": ["green,4,,", "fairway,112,,", "green,18,,"],
    "a_long_putt": ["green,61,,", "green,199.9,,", "green,1,,"],
    "hundredths": ["green,4.51,,", "green,0.25,,"],
    "inches": ["green,7'10\",,", "green,0'6\",,"],
    "metres": ["fairway,102.4 m,,", "green,5.5 m,,"],
    "a_given_long_putt": ["green,25,,conceded"],
    "holed_from_far": ["fairway,150,,holed"],
    "tee_again": ["tee,146,2,", "tee,146,,holed"],
}


def test_finishes_in_the_row_of_their_stroke_come_back(tmp_path: Path) -> None:
    path = tmp_path / "card.csv"
    head = "player,date,hole,shot,lie,distance,to_lie,to_distance"
    ends = ("1,1,fairway,112,green,18", "2,1,rough,90,holed,0", "3,1,green,8,green,2 m")
    path.write_text("\nAda,2026-05-14,".join([head, *ends]))
    card = read_card(path)
    assert card["to_lie"].tolist() == ["green", "holed", "green"]
    pd.testing.assert_frame_equal(back(card, tmp_path), card)


@pytest.mark.repeats
@pytest.mark.parametrize("strokes", HARD.values(), ids=HARD)
def test_holes_that_could_be_asked_about_come_back(strokes: list[str], tmp_path: Path) -> None:
    table = [
        {"player": "Ada", "date": "2026-05-14", "hole": "7", "shot": str(shot)}
        | dict(zip(("lie", "distance", "penalty", "result"), stroke.split(","), strict=True))
        for shot, stroke in enumerate(strokes, 2)
    ]
    card = read_card(written(table, tmp_path / "card.csv"))
    pd.testing.assert_frame_equal(back(card, tmp_path), card)


def keystrokes(columns: tuple[str, ...], *, putter: bool = False) -> tuple[float, float]:
    """Return the signs of the demo season as text: of hole lines, of headings, per 18 holes."""
    card = demo()
    if not putter:  # nobody writes what a putt was struck with
        card = card.assign(club=card["club"].where(card["lie"] != "green"))
    lines = [line for line in card_text(card.to_dict("records"), columns).splitlines() if line]
    holes = [line for line in lines if line[0].isdigit()]
    heads = [line for line in lines if not line[0].isdigit()]
    ends = len(holes) + len(heads)
    assert (len(holes), len(heads), ends) == (670, 40, 710)
    return (sum(map(len, holes)) + 670) / 670 * 18, sum(map(len, heads)) / 40 + 1


def test_a_round_is_some_250_keystrokes() -> None:
    """Of 18 holes, the ends of lines included; the first line is counted apart."""
    plain, head = keystrokes(SMALLEST)
    assert 200 < plain < 260
    assert head < 80
    with_clubs, same_head = keystrokes((*SMALLEST, "club"))
    assert plain < with_clubs < 330
    assert same_head == head


def slips(line: str, draw: random.Random) -> str:
    """Return a line with one blank less."""
    start = line.index(" ") + 1
    blanks = [place for place, sign in enumerate(line) if sign == " " and place >= start]
    place = draw.choice(blanks)
    return line[:place] + line[place + 1 :]


@pytest.mark.repeats
@pytest.mark.parametrize("columns", [SMALLEST, None])
def test_a_lost_blank_is_asked_about_or_does_no_harm(
    columns: tuple[str, ...] | None, tmp_path: Path
) -> None:
    """A slip that is read as something else without a word is what may not happen often."""
    card, draw = demo(), random.Random(20260101)
    plain = card_text(card.to_dict("records"), columns).splitlines()
    lines = [line for line in plain if line[:1].isdigit() and line.count(" ") > 1]
    true = [f"Ada, 2026-05-14, -\n{line}" for line in lines]
    slipped = [f"Ada, 2026-05-14, -\n{slips(line, draw)}" for line in lines]
    path = tmp_path / "round.txt"
    path.write_text("\n".join(f"{day(n)}\n{text[19:]}" for n, text in enumerate(slipped)))
    asked = {(p.row or 0) // 2 - 1 for p in find_problems(path) if p.severity == "error"}
    silent = [
        text
        for number, (text, sound) in enumerate(zip(slipped, true, strict=True))
        if number not in asked and rows_of(text) != rows_of(sound)
    ]
    assert len(lines) > 500
    assert len(asked) / len(lines) > 0.7
    assert len(silent) / len(lines) <= 0.03, silent


def day(number: int) -> str:
    """Return a first line of a day of its own."""
    return f"Ada, {pd.Timestamp('2020-01-01') + pd.Timedelta(days=number):%Y-%m-%d}, -"
