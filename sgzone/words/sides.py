"""Sentences about two seasons or two benchmarks side by side."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.review.beside.groups import WINDOW_YD
from sgzone.words.digits import count, listed, number
from sgzone.words.digits import day as said_day
from sgzone.words.say import Say
from sgzone.words.squad import Words

READ_PAIRS = ("Dot and ring: strokes gained per round, each with its interval as a line.",)


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
        f"within {say.length(WINDOW_YD, 'yd')} of {say.length(at, 'yd')}" if at else "",
        f"from the {lie}" if lie else "",
        say.part(part) if part else "",
    ]
    said = [words for words in chosen if words]
    return (f"Only these strokes: {', '.join(said)}.",) if said else ()


READ_COMPARED: tuple[str, ...] = (
    "Right of 0 the second of a pair is better. Open dot: the difference, with its interval as a "
    "line; diamond: adjusted for few shots.",
)
READ_FINISHES = (
    "Above: the share of shots that finish within each distance of the hole. Below: the shots from "
    "lies and distances that both have.",
)
NOTHING_COMPARED = "There are not two groups with shots to compare."


NO_DIFFERENCE = "Nothing can be set side by side: no part has strokes on both sides."


SAME_STROKES = (
    "Both values come from the same strokes, so the difference tells the benchmarks apart, not the "
    "player, and has no interval."
)


COURSES = (
    "Different courses, greens and weather do not compare: part of any difference is theirs.",
)


def pairs_alt(table: pd.DataFrame, names: tuple[str, str], say: Say) -> str:
    """Return the paired chart in words."""
    both = table[table["difference"].notna()]
    said = [
        f"{_part(part, say)} {number(a, 2, signed=True)} and {number(b, 2, signed=True)}"
        for part, a, b in zip(
            *(both[name] for name in ("part", "gained_per_round", "gained_per_round_other")),
            strict=True,
        )
    ]
    return f"Strokes gained per round, {names[0]} and {names[1]}: {'; '.join(said)}."


def pairs_lead(table: pd.DataFrame, names: tuple[str, str], say: Say) -> Words:
    """Return what two seasons show, and what they cannot."""
    known = table[table["difference_low"].notna()]
    if known.empty:
        return (f"{names[0]} beside {names[1]}: too few rounds to say how they differ.",)
    apart = known[(known["difference_low"] > 0) | (known["difference_high"] < 0)]
    luck = number(len(known) * (1 - say.level), 1)
    said = [
        f"{_part(part, say)} {number(value, 2, signed=True)} ({number(low, 2, signed=True)} to "
        f"{number(high, 2, signed=True)})"
        for part, value, low, high in zip(
            *(apart[name] for name in ("part", "difference", "difference_low", "difference_high")),
            strict=True,
        )
    ]
    start = f"{names[0]} less {names[1]}, strokes per round, plus is better"
    found = f"{start}: {listed(said)}." if said else f"{start}: no difference is shown."
    return (
        found,
        f"Of {len(known)} intervals of {say.sure} about {luck} miss the true difference by luck "
        "alone.",
    )


def _part(part: str, say: Say) -> str:
    return say.parts.get(part, "all parts")
