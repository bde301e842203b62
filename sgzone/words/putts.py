"""Sentences about putts holed by distance."""

from __future__ import annotations

import pandas as pd

from sgzone.review.why.putting import FIT_FROM_FT, FIT_TO_FT
from sgzone.words.digits import count, rows
from sgzone.words.say import Say
from sgzone.words.season import benchmark_words

READ_WHERE = {
    "read": "published",
    "reproduced": "published, seen in a copy",
    "memory": "quoted from memory",
}
NO_PUTTS = (
    "The benchmark has no table of putts holed to set beside yours, or your putts from 2 to 20 ft "
    "are of fewer than 5 rounds."
)
PUTTS_HOLED = "Putts holed by distance"


def who(against: str) -> str:
    """Return whose line stands beside the player's putts."""
    return benchmark_words(against)


def putting_title(putts: int, say: Say) -> str:
    """Return which putts are drawn and how many."""
    near, far = (say.length(feet, "ft") for feet in (FIT_FROM_FT, FIT_TO_FT))
    return f"holed from {near} to {far}, {count(putts, 'putt')}"


def alone_title(putts: int, say: Say) -> str:
    """Return the title of the chart of putts where it stands alone."""
    near, far = (say.length(feet, "ft") for feet in (FIT_FROM_FT, FIT_TO_FT))
    return f"Putts holed from {near} to {far}, {count(putts, 'putt')}"


def read_putting(say: Say) -> tuple[str, ...]:
    """Return how to read the chart of putts holed."""
    return (
        "Points: the share holed, larger where there were more putts; upright lines: their "
        f"{say.sure} intervals. Broken line: what the benchmark holes.",
        "Of so many intervals one or two miss the true share by luck: look for neighbours that "
        "agree.",
    )


def putting_alt(points: pd.DataFrame, say: Say) -> str:
    """Return the chart of putts holed in words."""
    said = [
        f"from {say.length(row.distance_ft, 'ft')} {row.holed_share:.0%} ({row.interval}%, "
        f"n {row.putts}), benchmark {row.benchmark_share:.0%}"
        for row in rows(points)
    ]
    return f"Share of putts holed by distance: {'; '.join(said)}."
