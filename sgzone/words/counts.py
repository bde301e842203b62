"""Sentences about what was counted, and about what went missing from the card."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from sgzone.review.where.counts import PROXIMITY, PUTTS, SAND_SAVES, THREE_PUTTS, UP_AND_DOWNS
from sgzone.words.digits import count, rows
from sgzone.words.notes import left_out
from sgzone.words.say import Say, Words

NO_COUNTS = "There are no holes to count."
UNIT_NOUNS = {"yd": "yards", "ft": "feet", "m": "metres"}


def holes_note(endings: Mapping[str, int]) -> Words:
    """Return what picked-up and conceded holes do to the numbers."""
    said = []
    if endings["picked_up"]:
        said.append(f"{count(endings['picked_up'], 'hole')} picked up: the real loss is larger.")
    if endings["conceded"]:
        said.append(f"{count(endings['conceded'], 'given putt')} not counted.")
    return (" ".join(said),) if said else ()


def unscored(total: pd.Series) -> Words:
    """Return how many strokes of the summary's row of all have no value."""
    said = left_out(total)
    return (f"{said[0].upper()}{said[1:]}.",) if said else ()


def heaped(heaping: pd.DataFrame) -> Words:
    """Return whether distances look guessed. ``heaping``: as ``review.where.measuring.heaping``.

    The unit is the one the card was written in, whatever the report is in.
    """
    return tuple(
        f"Distances {row.place}: {row.share:.0%} of {row.n} whole {UNIT_NOUNS[str(row.unit)]} end "
        f"in 0 or 5, where {row.expected:.0%} would; they look guessed."
        for row in heaping[heaping["heaped"]].itertuples()
    )


def disagreeing(strokes: int, checked: int) -> Words:
    """Return how many of the strokes with depth and side end elsewhere than the next row starts."""
    if not strokes:
        return ()
    return (
        f"{strokes} of {checked} strokes with depth and side put the ball elsewhere than the next "
        "row does. sgzone check lists them.",
    )


def short_counts(table: pd.DataFrame, say: Say) -> Words:
    """Return the counts that a player asks for first; of several players what the table is.

    ``table``: as ``review.where.counts``.
    """
    ranges = f"Ranges: {say.chances}."
    if "player" in table or table.empty:
        return (f"Plain counts by player. {ranges}" if len(table) else NO_COUNTS,)
    whole = table.drop_duplicates("measure")
    known = {row.measure: row for row in rows(whole) if row.value == row.value}
    said = [words.format(known[name]) for name, words in _FIRST.items() if name in known]
    return (f"{'; '.join(said)}.", ranges) if said else (ranges,)


_FIRST = {
    UP_AND_DOWNS: "Up and down {0.value:.0%} of the time (n {0.n})",
    SAND_SAVES: "sand saves {0.value:.0%} (n {0.n})",
    PUTTS: "{0.value:.1f} putts a round",
    THREE_PUTTS: "{0.value:.1f} three-putts",
}
"""What a player asks for first."""


def counts_lead(rows: pd.DataFrame, say: Say) -> Words:
    """Return what the plain counts are. ``rows``: as ``review.where.counts``."""
    sure = f"; ranges: {say.chances}" if rows["low"].notna().any() else ""
    said = [f"What can be counted without a benchmark{sure}."]
    if PROXIMITY in set(rows["measure"]):
        said.append("Proximity: the middle ball, missed greens included.")
    return (" ".join(said),)
