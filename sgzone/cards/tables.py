"""The kinds of table that can be loaded, one record for each; their columns: ``columns.csv``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from sgzone.cards.columns import names_of
from sgzone.cards.rules import Rule, plain_rules
from sgzone.cards.shot_rules import SHOT_RULES


@dataclass(frozen=True, slots=True)
class Table:
    """One kind of table.

    ``kind``: its word in ``columns.csv``. ``name``: what it is called. ``marks``: headers, any of
    which tells it from the others. ``key``: the columns that say what a row belongs to: what is
    there already is not loaded again. ``key_name``: what all rows of one key are. ``replaced_by``:
    the columns of what a file replaces. ``stored_in``: the table of the season file.
    """

    kind: str
    name: str
    marks: tuple[str, ...]
    key: tuple[str, ...]
    key_name: str
    replaced_by: tuple[str, ...]
    stored_in: str
    rules: tuple[Rule, ...]


def _once(key: str) -> Rule:
    return Rule(
        "repeated key",
        "player",
        "prev_row IS NOT NULL",
        f"the same {key} is in row {{prev_row}} already",
        "Keep one of the two rows, or add them up into one.",
        scope="hole",
    )


_BAG_DATES = Rule(
    "dates in order",
    "in_play_to",
    "in_play_to < in_play_from",
    "out of play before it came into play ({cell_in_play_from})",
    "Check the two dates.",
    scope="hole",
)

TABLES = (
    Table(
        kind="shot",
        name="shot card",
        marks=("hole", "shot"),
        key=("player", "date", "round"),
        key_name="round",
        replaced_by=("player", "date", "round"),
        stored_in="strokes",
        rules=SHOT_RULES,
    ),
    Table(
        kind="log",
        name="practice log",
        marks=("minutes",),
        key=("player", "date", "part", "club"),
        key_name="entry",
        replaced_by=("player", "date"),
        stored_in="practice_log",
        rules=(*plain_rules("log"), _once("player, date, part and club")),
    ),
    Table(
        kind="test",
        name="test blocks",
        marks=("block",),
        key=("player", "date", "block"),
        key_name="block",
        replaced_by=("player", "date", "block"),
        stored_in="test_balls",
        rules=plain_rules("test"),
    ),
    Table(
        kind="bag",
        name="bag",
        marks=("in_play_from",),
        key=("player", "club", "in_play_from"),
        key_name="bag entry",
        replaced_by=("player", "club", "in_play_from"),
        stored_in="bag",
        rules=(*plain_rules("bag"), _BAG_DATES, _once("player, club and first day in play")),
    ),
)
"""In the order they are looked for: the first whose mark is among the headers."""

TABLE = {table.kind: table for table in TABLES}

READ_INTO_OTHERS = ("distance", "unit", "to_lie", "to_distance")
"""Columns of a card that are not kept as written: they make where a stroke starts and ends."""


@cache
def all_names() -> frozenset[str]:
    """Return every column name of any table."""
    return frozenset(name for table in TABLES for name in names_of(table.kind))


def kind_of(headers: Iterable[str]) -> str | None:
    """Return which table these headers make, or None.

    >>> kind_of(["player", "minutes"])
    'log'
    """
    there = set(headers)
    return next((table.kind for table in TABLES if there & set(table.marks)), None)
