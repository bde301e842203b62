"""Sentences about finish and break-even."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from sgzone.review.where.proximity import BEYOND, WITHIN, against_break_even
from sgzone.terms import MIN_SHOTS
from sgzone.words.digits import count, listed, rows
from sgzone.words.say import Say, Words

_TENTHS_BELOW = 10
PROXIMITY_TITLE = "How near the hole balls finish, against break-even"


READ_FINISH = (
    "Upright line: the middle ball, missed greens included; grey: its range.",
    "Under each distance: the middle ball, then break-even. Low rows (n): too few shots for one.",
    "Faint marks: strokes, each at the distance it came from.",
    "One scale for all, stretched near the hole. Arrows: finishes beyond it, the farthest named.",
)

READ_PROXIMITY = (
    *READ_FINISH,
    "A ball on the green gained left of the dashed line and lost right of it.",
)

MIDDLE = {
    "outside": "middle ball outside break-even",
    "inside": "inside break-even",
    "open": "cannot tell yet",
}
"""Side of break-even -> what its mark is called."""


def cell_label(band: str, finish: float, even: float, shots: int, say: Say) -> str | list[str]:
    """Return the name of a distance, below it its middle ball and break-even.

    Of one without a middle ball the name and how few shots it has. ``finish``, ``even``: feet, or
    metres, as the reader has them.
    """
    if finish != finish:
        return f"{band}, n {shots}"
    unit = say.unit("ft")
    if even != even:
        return [band, f"{_near(finish)} {unit}"]
    return [band, f"{_near(finish)}, even {_near(even)} {unit}"]


def _near(length: float) -> str:
    """Return a length in whole units, a short one in tenths."""
    return f"{length:.{int(length < _TENTHS_BELOW)}f}"


HALF_IS_NOT_ENOUGH = (
    "Half inside is not enough to be level: a missed green costs more than a close ball wins."
)

NO_PROXIMITY = "No stroke at a green has a known finish, so proximity cannot be shown."

NO_BREAK_EVEN = (
    "This standard has no break-even: it lacks the green or the lies. Finishes are shown alone."
)


def proximity_lead(medians: pd.DataFrame, say: Say) -> Words:
    """Return where the range of the median finish is all beyond or all inside break-even."""
    if medians["break_even_ft"].isna().all():
        return (NO_BREAK_EVEN,)
    known = medians[medians["finish_ft"].notna() & medians["break_even_ft"].notna()]
    if known.empty:
        return ("No lie and distance has enough shots yet to hold against break-even.",)
    side = against_break_even(known)
    beyond, inside = known[side == BEYOND], known[side == WITHIN]
    said = ["Break-even: finish closer and you gain."]
    if len(beyond):
        said.append(f"Your middle ball finishes outside it from {_places(beyond, say)}.")
    if len(inside):
        said.append(f"Your middle ball finishes inside it from {_places(inside, say)}.")
    if rest := len(known) - len(beyond) - len(inside):
        said.append(f"{rest} of {count(len(known), 'distance')} cannot tell yet.")
    said.append(HALF_IS_NOT_ENOUGH)
    return tuple(said)


def _places(cells: pd.DataFrame, say: Say) -> str:
    """Return the lies with their distances, neighbouring bands joined."""
    said = []
    for lie, bands in cells.groupby("lie", sort=False):
        spans: list[list[float]] = []
        for low, high in zip(bands["from_yd"], bands["to_yd"], strict=True):
            if spans and spans[-1][1] == low:
                spans[-1][1] = high
            else:
                spans.append([low, high])
        ends = [f"{say.edge(low, 'yd')}-{say.edge(high, 'yd')}" for low, high in spans]
        said.append(f"{lie} {listed(ends)} {say.unit('yd')}")
    return listed(said)


def proximity_alt(lie: str, strokes: int, medians: pd.DataFrame, say: Say) -> str:
    """Return one panel in words."""
    known = medians[medians["finish_ft"].notna()]
    said = [
        f"from {say.bands[row.band]} median {say.length(row.finish_ft, 'ft')}, break-even "
        f"{say.length(row.break_even_ft, 'ft')}"
        for row in rows(known)
    ]
    what = "; ".join(said) or "no distance has enough shots for a median"
    return f"Finish against start distance, {lie}, {count(strokes, 'stroke')}: {what}."


def left_out(points: pd.DataFrame, drawn: Sequence[str]) -> Words:
    """Return which lies have too few strokes for a panel."""
    missing = points[~points["lie"].isin(drawn)].groupby("lie").size()
    if missing.empty:
        return ()
    names = [f"{lie} ({size})" for lie, size in missing.items()]
    return (f"Not drawn, under {MIN_SHOTS} strokes: {listed(names)}.",)
