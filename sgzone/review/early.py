"""What the first rounds can say: each round as played, what is written down, what more is needed.

No verdict is made of so few: sums and counts alone.
"""

from __future__ import annotations

import pandas as pd

from sgzone.review.trend import LEAST_ROUNDS
from sgzone.review.where.plays_like import TOTAL
from sgzone.terms import GREEN, MIN_ROUNDS, MIN_SHOTS

VERDICT, CHANGE, STANDARD = "verdict", "change", "standard"
"""What a reader wants to know of a season, by the rounds it takes."""
WRITTEN = {
    "swing": ("club",),
    "miss": ("depth_ft", "side_ft"),
    "carry": ("carry_yd",),
    "measured": ("measured",),
}
"""What may be written down of a stroke, and the columns that it takes."""


def rounds_played(strokes: pd.DataFrame, sizes: pd.DataFrame) -> pd.DataFrame:
    """Return a row a round in order of time: ``date, course, gained, strokes, putts, holes``.

    ``strokes``: as ``scoring.gained.scored``, of them those with a value count; ``sizes``: as
    ``round_sizes``. ``gained``: all of them together, as played, not per 18 holes.
    """
    known = strokes[strokes["gained"].notna()]
    found = known.assign(putt=known["lie"] == GREEN).groupby("round_key")
    sums = pd.DataFrame(
        {
            "strokes": found["gained"].size(),
            "putts": found["putt"].sum(),
            "gained": found["gained"].sum(),
        }
    )
    rounds = sizes.merge(sums, left_on="round_key", right_index=True, how="left")
    rounds = rounds.sort_values(["date", "round", "round_key"], kind="stable", ignore_index=True)
    whole = {name: rounds[name].fillna(0).astype(int) for name in ("strokes", "putts")}
    columns = ["date", "course", "gained", "strokes", "putts", "holes"]
    return rounds.assign(**whole)[columns]


def written_down(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return how many strokes off the green have what may be noted: ``what, written, strokes``."""
    off = strokes[strokes["lie"] != GREEN]
    rows = [
        (what, int(off[list(columns)].notna().all(axis=1).sum()), len(off))
        for what, columns in WRITTEN.items()
    ]
    return pd.DataFrame(rows, columns=["what", "written", "strokes"])


def still_needed(rounds: int, standards: pd.DataFrame) -> pd.DataFrame:
    """Return how many rounds each answer takes: ``answer, rounds, more, shots``, the fewest first.

    ``standards``: as ``review.where.plays_like``. ``shots``: of one part; 0 where rounds do.
    """
    whole = standards.loc[standards["part"] == TOTAL, "rounds_needed"]
    needed = [(VERDICT, MIN_ROUNDS, MIN_SHOTS), (CHANGE, LEAST_ROUNDS, 0)]
    needed += [(STANDARD, int(n), 0) for n in whole if n > 0]
    table = pd.DataFrame(needed, columns=["answer", "rounds", "shots"])
    return table.assign(more=(table["rounds"] - rounds).clip(lower=0))
