"""Sentences about the standard a part plays to."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import pandas as pd

from sgzone.review.where.nearest import LEVEL, Beside, Nearest
from sgzone.review.where.plays_like import (
    BETTER,
    BEYOND,
    FACTS,
    FAMILY,
    FEW_ROUNDS,
    MOST_HALF_WIDTH,
    NEVER,
    OFF_GREEN,
    OPEN_RANGE,
    PUTTING,
    TOO_WIDE,
    TOTAL,
)
from sgzone.stats.verdict import GAIN, LIKELY, LOSS, STRENGTHS, SURE, side_of
from sgzone.terms import AUTO
from sgzone.words.digits import count, estimate, listed, rows
from sgzone.words.notes import Row
from sgzone.words.say import Say, Words

TITLE = "The standard each part plays to, as an average score"
READ = (
    "Line: the range of average scores; dot: the estimate; dashed: the named standards. Further "
    "left is better.",
)
ESTIMATED = (
    "An estimate, between the published curves of tour and 90-golfer. A scratch player is taken "
    "to average 75 (common practice, no source).",
)
TO_EACH = "each player's nearest standard"
"""What several players are against, where each has a standard of their own."""
_MOST_NAMED = 8
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
    return (f"Ranges: {say.chances}. {ESTIMATED[0]}", *said)


def alt(table: pd.DataFrame, say: Say) -> str:
    """Return the chart in words."""
    called, read = names(say), table[table["refusal"] == ""]
    said = [f"{called[row.part]} {_ends(row)} ({count(row.shots, 'shot')})" for row in rows(read)]
    return f"Ranges of average score by part: {'; '.join(said)}."


def nearest(found: Nearest, say: Say) -> Words:
    """Return what ``auto`` means for one player: the standard, or why it is the tour."""
    if found.refusal:
        why = _WHY[found.refusal](found)
        return (f"Against {found.name}: no standard can be named for your whole game ({why}).",)
    lead = f"Against {found.name}, the standard nearest to your whole game."
    return (lead, _whole_game(found))


def nearest_of_each(found: Mapping[str, Nearest]) -> Words:
    """Return what ``auto`` means for several players, and who has no standard."""
    lead = "Each player is against the standard nearest to their own whole game."
    none = [f"{name} ({_WHY[one.refusal](one)})" for name, one in found.items() if one.refusal]
    if not none:
        return (lead,)
    more = [f"{len(none) - _MOST_NAMED} more"] if len(none) > _MOST_NAMED else []
    told = listed(none[:_MOST_NAMED] + more)
    return (lead, f"Against {FAMILY[0]}, as no standard can be named: {told}.")


def beside(found: Beside, say: Say) -> Words:
    """Return which parts are worse and better than the nearest standard, where all lose."""
    name, parts = found.nearest.name, found.parts
    differ = [
        f"{lead} {name}: {'; '.join(_part(row, say) for row in rows(chosen))}."
        for (side, strength), lead in _BESIDE.items()
        if len(chosen := _of(parts, side, strength))
    ]
    told = differ[0] if differ else f"No part is shown to be better or worse than {name}."
    return (f"Nearest standard: {name}. {told}",)


def next_beside(found: Beside) -> str:
    """Return how to see every answer against the nearest standard."""
    return f"Next: every answer against {found.nearest.name}, --benchmark {AUTO}."


_BESIDE = {
    (LOSS, SURE): "Worse than",
    (LOSS, LIKELY): "Probably worse than",
    (GAIN, SURE): "Better than",
    (GAIN, LIKELY): "Probably better than",
}
"""Side and strength of a verdict against the nearest standard -> how its parts are listed."""


def _of(parts: pd.DataFrame, side: str, strength: str) -> pd.DataFrame:
    """Return the parts whose verdict has this side and strength, what differs most first."""
    sides, strengths = parts["verdict"].map(side_of), parts["verdict"].map(STRENGTHS)
    chosen = parts[(sides == side) & (strengths == strength)]
    return chosen.sort_values("per_round", key=abs, ascending=False, kind="stable")


def _part(row: Row, say: Say) -> str:
    size = estimate(row.per_round, row.per_round_low, row.per_round_high, say.level)
    return f"{say.part(row.part)} by {size} a round, {count(row.shots, 'shot')}"


def _whole_game(found: Nearest) -> str:
    return (
        f"You play like a golfer who averages {_ends(found)} ({Say(level=LEVEL).chances}; "
        f"{count(found.rounds, 'round')})."
    )
