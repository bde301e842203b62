"""Sentences about causes, misses and putts holed."""

from __future__ import annotations

import pandas as pd

from sgzone.review.why.notes import MIN_RANK, MIN_SPLIT
from sgzone.review.why.putting import FIT_FROM_FT, FIT_TO_FT
from sgzone.review.why.split import largest_causes, sure_causes
from sgzone.terms import CAUSE_WORDS
from sgzone.words.digits import count, number, rows
from sgzone.words.notes import UNSURE
from sgzone.words.say import Say, Words

CAUSES_TITLE = "Why strokes go: what each cause costs a shot"


MISSES_TITLE = "Where the ball finishes around the hole"


READ_WHY = (
    "Bars: what each cause costs a shot, split by proximity and missed greens; right of the line "
    "costs. Dot and line: their sum with its interval.",
    "Causes add up to the total. A bar to the left is a real saving and is not cut off.",
)

TITLES = {
    None: "Why strokes go against {against}: loss > 0 costs strokes, intervals {sure}",
    "misses": "The miss that hurts, against {against}, intervals {sure}",
    "short-sided": "Missed greens, against {against}, intervals {sure}",
    "carry": "Carry and release by club, intervals {sure}",
    "putting": "Putts against {against}, intervals {sure}",
    "ratio": "Causes against {against} under other side : depth ratios",
}
"""Detail of ``sgzone why`` (None: the causes) -> what its table is."""

READ_MISS = (
    "Distance from the hole (cross), seen along the line of the shot. The lines hold half and 80% "
    "of a normal pattern.",
)

WHY_RESTS = (
    "The benchmark's own spread is modelled, with an assumed ratio of side to depth; sgzone why "
    "--detail ratio shows how much hangs on it.",
)

READ_CAUSES = ("Causes add up to the total of their part.", *WHY_RESTS)

NO_WHY = (
    "Too few strokes say where the ball finished, short or long and left or right (depth_ft and "
    f"side_ft of the card), to say why: {MIN_SPLIT} a part are needed."
)

NO_MISSES = (
    "No stroke says where the ball finished, short or long and left or right (depth_ft and side_ft "
    "of the card), so misses cannot be drawn."
)


def title(detail: str | None, against: str, say: Say) -> str:
    """Return what the table is; ``detail``: a key of ``TITLES``."""
    return TITLES[detail].format(against=against, sure=say.sure)


def why_lead(why: pd.DataFrame, say: Say) -> Words:
    """Return the largest cause of each part that has the shots to name one."""
    causes, sure = largest_causes(why), sure_causes(why)
    if not causes:
        return (
            f"No largest cause is named: that takes a part with {MIN_RANK} shots with direction "
            "whose verdict is a loss.",
        )
    totals = why[why["column"] == "total"].set_index(["part", "factor"])["loss_per_round"]
    said = [
        f"{say.parts[part]}: {CAUSE_WORDS[factor]}, "
        f"{number(totals[part, factor], 2)} of {number(totals[part, 'total'], 2)} strokes a round"
        f"{'' if part in sure else f' ({UNSURE})'}"
        for part, factor in causes.items()
    ]
    first = "; ".join(said)
    return (f"The largest cause, where it can be named. {first[0].upper()}{first[1:]}.",)


def cause_alt(causes: pd.DataFrame) -> str:
    """Return one part's causes in words."""
    sums = causes[causes["column"] == "total"]
    said = [
        f"{CAUSE_WORDS[row.factor]} {number(row.loss_per_shot, 3, signed=True)}"
        for row in rows(sums)
    ]
    return f"Bars of strokes lost per shot by cause: {'; '.join(said)}."


def miss_alt(group: str, points: pd.DataFrame, say: Say) -> str:
    """Return one miss map in words."""
    depth, side = points["depth_ft"], points["side_ft"]
    return (
        f"Finish of {count(len(points), 'shot')}, {say.parts.get(group, group)}: "
        f"{(depth < 0).mean():.0%} short, {(side < 0).mean():.0%} left; median "
        f"{say.length(abs(depth).median(), 'ft')} long or short, "
        f"{say.length(abs(side).median(), 'ft')} wide."
    )


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
