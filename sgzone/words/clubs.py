"""Sentences about clubs and numbers."""

from __future__ import annotations

import pandas as pd

from sgzone.clubs.shots import COURSE, FROM_YD
from sgzone.clubs.stock import COVER_YD, WIDE_GAP
from sgzone.units import M_PER_YD
from sgzone.words.digits import count, listed, number, thousands
from sgzone.words.number import SHOTS
from sgzone.words.practice import Words
from sgzone.words.say import Say


def ladder_title(source: str) -> str:
    """Return the title of the ladder's chart."""
    return f"How far the stock swings carry, by {SHOTS[source]}"


def no_ladder(source: str) -> str:
    """Return that no swing can be drawn from these shots."""
    return NO_CLUBS if source == COURSE else f"There are no {SHOTS[source]} of a stock swing."


def numbers_title(lie: str, source: str) -> str:
    """Return the title of the chart of strokes by number."""
    return f"What to hit at each number, from the {lie}, by {SHOTS[source]}"


NO_NUMBERS = "No stock swing finishes near any of these numbers."


WEAR_TITLE = "Strokes gained per shot since a club was new"


def read_wear(shots: int) -> str:
    """Return how to read the chart of wear."""
    return (
        f"Each mark is the mean of {shots} shots on cards, its line the interval. Above 0 gains "
        "strokes."
    )


def no_wear(shots: int) -> str:
    """Return that no club has marks enough."""
    return f"No club of the bag has shots enough since it was new: two marks of {shots} are needed."


READ_CARRIES = (
    "Dark mark: the median carry. Blue bar: its interval. Pale bar: where two thirds of the shots "
    "land. Number of carries in brackets.",
    "Wide gaps and overlaps are named; unclear: two swings not shown to be apart.",
)


READ_LADDER = (
    "Each line: the carry of a stock swing, the median with its interval. Wide gaps and overlaps "
    "are marked; unclear: two swings not shown to be apart.",
)


READ_NUMBERS = (
    "Line: the swing with the fewest strokes to hole out from each number, named where it changes; "
    "the other marks are the second and third.",
    "From the fairway, no wind, to the middle of a usual green: another pin is another sheet.",
    "Where marks lie on one another it hardly matters what is hit.",
)


MOST_GAPS = 10  # named in one sentence


CLUBS_REST = "sgzone number 97 says which of these swings to hit at a number, and where to land it."


NO_CLUBS = (
    "No stroke says with which club and swing it was hit and how far it carried (club, swing and "
    "carry_yd of the card), so stock swings cannot be shown."
)


def clubs_lead(ladder: pd.DataFrame, cover: pd.DataFrame, say: Say) -> Words:
    """Return the ladder in sentences: how many swings, the wide gaps, what nothing fits."""
    said = [f"{count(len(ladder), 'stock swing')} from course shots, shortest first."]
    wide = ladder[ladder["step"] == WIDE_GAP]
    if len(wide):
        names = [
            f"after {club} {swing}".rstrip() + f" ({say.length(gap, 'yd')})"
            for club, swing, gap in zip(wide["club"], wide["swing"], wide["gap_yd"], strict=True)
        ]
        more = [f"{len(names) - MOST_GAPS} more"] if len(names) > MOST_GAPS else []
        said.append(f"Wide gaps: {listed([*names[:MOST_GAPS], *more])}.")
    strokes = int(cover["strokes"].sum()) if len(cover) else 0
    if strokes:
        bare = int(cover["uncovered"].sum())
        said.append(
            f"{bare} of {count(strokes, 'stroke')} from {_reach(say)} started at a number with "
            f"no stock swing within {say.length(COVER_YD, 'yd')}."
        )
    return tuple(said)


def clubs_more(left_out: int) -> Words:
    """Return the sentence about swings that the page leaves out, none where it has all."""
    if not left_out:
        return ()
    return (
        f"The swings with most shots are shown; {thousands(left_out)} more with fewer shots are "
        "left out. sgzone clubs lists them all.",
    )


def numbers_alt(numbers: pd.DataFrame, say: Say) -> str:
    """Return the best swing of each number in words."""
    best = numbers[numbers["rank"] == 1]
    said = [
        f"{say.length(yards, 'yd')} {club} {swing}".rstrip() + f" {number(strokes, 2)}"
        for yards, club, swing, strokes in zip(
            *(best[name] for name in ("number_yd", "club", "swing", "expected_strokes")),
            strict=True,
        )
    ]
    return f"Strokes to hole out by number, with the best swing: {'; '.join(said)}."


def ladder_alt(ladder: pd.DataFrame, say: Say) -> str:
    """Return the ladder in words."""
    said = [
        f"{club} {swing} {say.length(carry, 'yd')} (n {shots})"
        for club, swing, carry, shots in zip(
            *(ladder[name] for name in ("club", "swing", "carry_yd", "shots")), strict=True
        )
    ]
    return f"Carries of the stock swings: {'; '.join(said)}."


def _reach(say: Say) -> str:
    """Return the numbers a stock swing is for."""
    near = f"{number(FROM_YD * M_PER_YD, 0)}" if say.metric else f"{FROM_YD:.0f}"
    return f"{near} to {say.zone}"
