"""Words of the chart of one round, hole by hole."""

from __future__ import annotations

import pandas as pd

from sgzone.harmless import cut, one_line
from sgzone.review.debrief.one_round import Debrief
from sgzone.terms import PARTS, TURF_LIES
from sgzone.units import FT_PER_YD
from sgzone.words.digits import count, day, number, rows
from sgzone.words.rounds.strokes import places
from sgzone.words.say import Say, Words
from sgzone.words.season import player_words

LONG_FROM_FT = 50 * FT_PER_YD
"""From here on a shot at the green is an approach or a wedge, nearer it is short game."""
LONG, SHORT, PUTT = 0, 1, 2
_NAME_ROOM = 40

NOTHING = "No stroke of this round has a value, so there is nothing to draw."
READ_STRIP = (
    "Bars: each part's strokes on that hole; up gains, down loses. Dot: the hole in all.",
)
_OF_PART = {
    part.name: PUTT
    if part.name.startswith("putt")
    else LONG
    if part.low_ft >= LONG_FROM_FT and TURF_LIES[0] in part.lies
    else SHORT
    for part in PARTS
}


def group_of(part: str) -> int:
    """Return whether a part is a long shot, short game or putting.

    >>> [group_of(part) for part in ("wedge_50_100", "sand_0_50", "recovery", "putt_0_10")]
    [0, 1, 1, 2]
    """
    return _OF_PART[part]


def read(of: Debrief, say: Say) -> Words:
    """Return how to read the chart, and which stroke is marked."""
    far = f"{say.edge(LONG_FROM_FT / FT_PER_YD, 'yd')} {say.unit('yd')}"
    tones = f"Full tone: shots from {far} and more; half: short game and recovery; open: putts."
    return (*READ_STRIP, tones, *worst(of, say))


def whose(of: Debrief) -> str:
    """Return whose round a chart shows, when and where."""
    course = f", {cut(one_line(of.course), _NAME_ROOM, '…')}" if of.course else ""
    return f"{player_words(of.player)}: {day(of.date)}{course}, {count(of.holes_played, 'hole')}."


def lost(gained: float) -> str:
    """Return what a stroke gained, for a mark."""
    return number(gained, 2, signed=True)


def title(of: Debrief) -> str:
    """Return the title of the chart."""
    return f"Hole by hole on {day(of.date)}: strokes gained, by part"


def worst(of: Debrief, say: Say) -> Words:
    """Return which stroke is marked; nothing where none lost."""
    first = of.worst.head(1)
    if first.empty:
        return ()
    row = next(rows(first))
    (start,) = places(first["lie"], first["distance_yd"], say)
    (end,) = places(first["end_lie"], first["end_distance_yd"], say)
    return (f"Triangle: the worst stroke, hole {row.hole}, {start} to {end}, {lost(row.gained)}.",)


def alt(of: Debrief, say: Say) -> str:
    """Return the chart in words: what each hole gained."""
    sums = hole_sums(of.holes)
    said = [f"{hole} {number(value, 2, signed=True)}" for hole, value in sums.items()]
    return f"Strokes gained hole by hole, by part: {'; '.join(said)}. {' '.join(worst(of, say))}"


def hole_sums(holes: pd.DataFrame) -> pd.Series:
    """Return what each hole with a value gained in all, by its number."""
    known = holes[holes["gained"].notna()]
    sums: pd.Series = known.groupby("hole")["gained"].sum()
    return sums
