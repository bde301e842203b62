"""Sentences about what stands side by side: two ways of playing, two seasons, players."""

from __future__ import annotations

from datetime import date
from typing import Any

import pandas as pd

from sgzone.review.beside.grouping import MOST_GROUPS
from sgzone.review.beside.groups import GAP, WINDOW_YD
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import BETTER_HERE, LEANING
from sgzone.words.digits import count, listed, number, rows
from sgzone.words.digits import day as said_day
from sgzone.words.notes import CAREFUL
from sgzone.words.say import Say, Words

READ_PAIRS = ("Dot and ring: strokes gained a round, each with its range as a line.",)


def split_title(day: date) -> str:
    """Return the title of the chart of before and after a day."""
    return f"Strokes gained per round before {said_day(day)} and from that day on"


def split_names(day: date, rounds: tuple[int, int]) -> tuple[str, str]:
    """Return what dot and ring are: from the day on, and before, with the rounds of both."""
    after, before = (count(number, "round") for number in rounds)
    return f"from {said_day(day)} on ({after})", f"before ({before})"


def compared_title(by: str) -> str:
    """Return the title of the chart of a comparison."""
    return f"Compared by {by}: what the difference is worth, strokes per shot"


def compared_where(at: float | None, lie: str | None, part: str | None, say: Say) -> Words:
    """Return which strokes were compared."""
    chosen = [
        f"within {say.length(WINDOW_YD, 'yd')} of {say.typed(at)}" if at else "",
        f"from the {lie}" if lie else "",
        say.part(part) if part else "",
    ]
    said = [words for words in chosen if words]
    return (f"Only these strokes: {', '.join(said)}.",) if said else ()


READ_COMPARED: tuple[str, ...] = (
    "Right of 0 the second of a pair is better.",
    "Open dot: the difference, with its range as a line. Diamond: the best estimate.",
)
READ_FINISHES = (
    "Above: the share of shots that finish within each distance of the hole. Below: the shots from "
    "lies and distances that both have.",
)
NOTHING_COMPARED = "There are not two groups with shots to compare."
UNLIKE = "Careful: some pairs were played from unlike places; --wide says which."
_MOST_TOLD = 2  # pairs in one sentence


NO_DIFFERENCE = "Nothing can be set side by side: no part has strokes on both sides."

SAME_STROKES = (
    "Both values come from the same strokes: the difference is between the standards, not the "
    "player. It has no range."
)

ALL_AT_ONCE = "These ranges are right for all parts at once in 95 seasons of 100."

COURSES = (
    "Different courses, greens and weather do not compare: part of any difference is theirs.",
)

FIELD_NOTES = (
    "0 = average of those who played the same courses and days, directly or by way of others.",
    "Players of another pool cannot be compared with these.",
)


def field_title(say: Say) -> str:
    """Return what the table of players is."""
    return f"Strokes a round against the field, course and day taken out; ranges {say.chances}."


def compare_lead(table: pd.DataFrame, say: Say) -> Words:
    """Return which of the groups is better, or that none is shown to be, and what would settle it.

    ``table``: as ``review.beside.groups.compare_table``.
    """
    if table.empty:
        return (NOTHING_COMPARED,)
    shown = [_better(row) for row in rows(table[table["verdict"] == BETTER_HERE])]
    told = listed(shown[:_MOST_TOLD]) if shown else "no pair can be separated yet"
    each = f"{table['shots_to_settle'].iloc[0]:.0f}"
    return (
        f"{told[0].upper()}{told[1:]}.",
        f"To be sure of {GAP:.2f} a shot: about {each} shots with each.",
    )


def _better(row: Any) -> str:
    worse = row.first if row.better == row.second else row.second
    return f"{_the(row.better)} is better than {_the(worse)}"


def _the(group: str) -> str:
    """Return a group in a sentence: a club by its number takes an article."""
    return f"the {group}" if group[:1].isdigit() else group


def compare_notes(table: pd.DataFrame, by: str, at: float | None, against: str, say: Say) -> Words:
    """Return what was compared, how to read it, and what it does not count.

    ``at``: the number, yards, None for strokes of every distance.
    """
    if table.empty:
        return ()
    near = f"within {say.length(WINDOW_YD, 'yd')} of {say.typed(at)}" if at else "at like distances"
    what = f"By {by}, from the same lie {near}, against {against}. Ranges: {say.chances}."
    careful = (UNLIKE,) if table["note"].str.contains(CAREFUL).any() else ()
    return (what, "+: the second is better. Test blocks do not count here.", *careful)


def groups_left_out(more: int) -> Words:
    """Return the sentence about groups that are not compared, none where all are."""
    if not more:
        return ()
    return (
        f"The {MOST_GROUPS} with most shots are compared; {more} more with fewer shots are left "
        "out (--groups names those you mean).",
    )


def compared(table: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return a comparison with the two groups' numbers side by side: ``12 | 15 ft``."""
    out = table.assign(verdict=told_verdicts(table))
    for name in ("shots", "known"):
        out[name] = _pairs(table[f"{name}_first"], table[f"{name}_second"], 0)
    factor, unit, places = say.factor("ft"), say.unit("ft"), say.places("ft")
    for name in ("proximity", "depth_sd", "side_sd"):
        first, second = (table[f"{name}_{end}_ft"] * factor for end in ("first", "second"))
        out[name] = [f"{pair} {unit}" for pair in _pairs(first, second, places)]
    return out


def told_verdicts(table: pd.DataFrame) -> list[str]:
    """Return the verdict of each pair in words, with the group it speaks for."""
    return [_verdict(row) for row in rows(table)]


def _verdict(row: Any) -> str:
    """Return a verdict with the group that it speaks for."""
    if row.verdict == LEANING:
        return f"leans to {_the(row.better)}"
    return f"{_the(row.better)} is better" if row.verdict == BETTER_HERE else str(row.verdict)


def _pairs(first: pd.Series, second: pd.Series, places: int) -> list[str]:
    return [
        " | ".join(number(value, places) if value == value else "?" for value in pair)
        for pair in zip(first, second, strict=True)
    ]


def pairs_alt(table: pd.DataFrame, names: tuple[str, str], say: Say) -> str:
    """Return the paired chart in words."""
    both = table[table["difference"].notna()]
    said = [
        f"{_part(row.part, say)} {number(row.gained_per_round, 2, signed=True)} and "
        f"{number(row.gained_per_round_other, 2, signed=True)}"
        for row in rows(both)
    ]
    return f"Strokes gained per round, {names[0]} and {names[1]}: {'; '.join(said)}."


def pairs_lead(table: pd.DataFrame, names: tuple[str, str], say: Say) -> Words:
    """Return what two seasons show, and what they cannot."""
    known = table[table["difference_low"].notna()]
    if known.empty:
        return (f"{names[0]} beside {names[1]}: too few rounds to say how they differ.",)
    luck = number(len(known) * (1 - say.level), 1)
    return (
        f"{names[0]} less {names[1]}, strokes a round, plus is better.",
        *(f"All strokes: {_difference(row)}." for row in rows(known[known["part"] == TOTAL])),
        *_changed(known, say, ranges=True),
        f"Of {len(known)} ranges ({say.chances}) about {luck} miss by luck alone.",
    )


def beside_line(table: pd.DataFrame, names: tuple[str, str], say: Say, *, seasons: bool) -> Words:
    """Return on one line how two seasons, or one against two standards, differ in all.

    ``table``: as ``review.beside.sides``; nothing where no part has strokes on both sides.
    """
    whole = next(rows(table[(table["part"] == TOTAL) & table["difference"].notna()]), None)
    if whole is None:
        return ()
    own, other = (
        number(value, 1, signed=True)
        for value in (whole.gained_per_round, whole.gained_per_round_other)
    )
    if not seasons:
        return (
            f"Against {names[0]} {own} a round, against {names[1]} {other}: the same strokes, "
            "another standard.",
        )
    both = f"{names[0]}: {own} a round. {names[1]}: {other}."
    if whole.difference_low != whole.difference_low:
        return (f"{both} Too few rounds to say what changed.",)
    changed = " ".join(_changed(table, say, ranges=False))
    return (f"{both} Difference {_difference(whole)}. {changed}",)


def _changed(table: pd.DataFrame, say: Say, *, ranges: bool) -> Words:
    """Return which parts differ by a range that is right for all of them at once, or the nearest.

    ``ranges``: with the range that says so.
    """
    parts = table[(table["part"] != TOTAL) & table["joint_low"].notna()]
    apart = parts[(parts["joint_low"] > 0) | (parts["joint_high"] < 0)]
    if len(apart):
        ends = apart[["joint_low", "joint_high"]].itertuples(index=False)
        said = _apart(apart, [tuple(pair) for pair in ends] if ranges else [], say)
        return (f"Really changed: {listed(said)}.", *((ALL_AT_ONCE,) if ranges else ()))
    none = "No part has really changed."
    if parts.empty:
        return (none,)
    most = parts.loc[[parts["difference"].abs().idxmax()]]
    ends = most[["difference_low", "difference_high"]].itertuples(index=False)
    [farthest] = _apart(most, [tuple(pair) for pair in ends] if ranges else [], say)
    return (none, f"Farthest apart, which luck can do: {farthest}.")


def _apart(parts: pd.DataFrame, ends: list[tuple[float, float]], say: Say) -> list[str]:
    ranges = [f" ({_between(*pair)})" for pair in ends] or [""] * len(parts)
    return [
        f"{_part(row.part, say)} {number(row.difference, 2, signed=True)}{end}"
        for row, end in zip(rows(parts), ranges, strict=True)
    ]


def _difference(row: Any) -> str:
    value, ends = row.difference, (row.difference_low, row.difference_high)
    return f"{number(value, 2, signed=True)} ({_between(*ends)})"


def _between(low: float, high: float) -> str:
    return f"between {number(low, 2, signed=True)} and {number(high, 2, signed=True)}"


def _part(part: str, say: Say) -> str:
    return say.parts.get(part, "all parts")
