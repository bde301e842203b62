"""Sentences about the standard a part plays to."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pandas as pd

from sgzone.review.where.plays_like import (
    BETTER,
    BEYOND,
    FACTS,
    FEW_ROUNDS,
    MOST_HALF_WIDTH,
    NEVER,
    OFF_GREEN,
    OPEN_RANGE,
    PUTTING,
    TOO_WIDE,
    TOTAL,
)
from sgzone.words.digits import count, listed, rows
from sgzone.words.notes import Row
from sgzone.words.say import Say, Words

TITLE = "The standard each part plays to, as an average score"
READ = (
    "Line: the range of average scores; dot: the estimate; dashed: the named standards. Further "
    "left is better.",
)
ESTIMATED = (
    "An estimate: between the published curves of tour and 90-golfer, a scratch player taken to "
    "average 75 (common practice, no source).",
)
NOBODY = "No part has the rounds to read a standard from."

_WHY: dict[str, Callable[[Row], str]] = {
    NEVER: lambda _: "a season leaves its range too wide",
    FEW_ROUNDS: lambda row: f"{row.rounds_needed} rounds needed, {row.rounds} there",
    OPEN_RANGE: lambda _: "its range has no end",
    TOO_WIDE: lambda _: f"its range is wider than {2 * MOST_HALF_WIDTH:.0f} strokes",
    BETTER: lambda _: "better than tour",
    BEYOND: lambda _: "beyond amateur-100",
}
"""Refusal -> why there is no range of score."""


def names(say: Say) -> dict[str, str]:
    """Return what each row is called."""
    more = {TOTAL: f"all from {say.zone} in", OFF_GREEN: "off the green"}
    return {**more, PUTTING: "putting", **say.parts}


def reasoned(table: pd.DataFrame) -> pd.DataFrame:
    """Return ``plays_like`` with ``reason`` in words in place of the facts behind it."""
    said = [reason(row) for row in rows(table)]
    return table.drop(columns=list(FACTS)).assign(reason=np.array(said, dtype=object))


def reason(row: Row) -> str:
    """Return why there is no range, or of putts what it hangs on; else empty."""
    if row.refusal:
        return _WHY[row.refusal](row)
    if row.score_shorter != row.score_shorter:
        return ""
    return (
        f"about {row.score_shorter:.0f} or {row.score_longer:.0f} if distances are 10% short or "
        "long"
    )


def lead(table: pd.DataFrame, say: Say) -> Words:
    """Return whom the player plays like, all in all and by part."""
    read = table[table["refusal"] == ""]
    if read.empty:
        return (NOBODY,)
    called = names(say)
    total = read[read["part"] == TOTAL]
    parts = [f"{called[row.part]} {_ends(row)}" for row in rows(read[read["part"] != TOTAL])]
    said = []
    if len(total):
        said.append(
            f"From {say.zone} in you play like a golfer who averages {_ends(total.iloc[0])}."
        )
    if parts:
        said.append(f"By part: {'; '.join(parts)}.")
    return tuple(said)


def _ends(row: Row) -> str:
    return f"{row.score_low:.0f} to {row.score_high:.0f}"


def notes(table: pd.DataFrame, say: Say) -> Words:
    """Return how sure that is, and which parts are not read and why."""
    called, refused = names(say), table[table["refusal"] != ""]
    by_reason: dict[str, list[str]] = {}
    for row in rows(refused):
        by_reason.setdefault(reason(row), []).append(called[row.part])
    left = [f"{listed(parts)}: {why}" for why, parts in by_reason.items()]
    said = (f"Not read: {'; '.join(left)}.",) if left else ()
    return (f"Ranges: {say.sure}. {ESTIMATED[0]}", *said)


def alt(table: pd.DataFrame, say: Say) -> str:
    """Return the chart in words."""
    called, read = names(say), table[table["refusal"] == ""]
    said = [f"{called[row.part]} {_ends(row)} ({count(row.shots, 'shot')})" for row in rows(read)]
    return f"Ranges of average score by part: {'; '.join(said)}."
