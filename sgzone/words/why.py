"""Sentences about causes, misses and putts holed."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from sgzone.answers import columns_of
from sgzone.review.why.notes import MIN_RANK, MIN_SPLIT
from sgzone.review.why.putting import FIT_FROM_FT, FIT_TO_FT
from sgzone.review.why.split import largest_causes, sure_causes
from sgzone.stats.verdict import GAIN, LOSS, OPEN
from sgzone.terms import CAUSE_WORDS
from sgzone.words.digits import count, estimate, interval_words, number, rows
from sgzone.words.notes import UNSURE, as_gains
from sgzone.words.say import Say, Words

_MOST_TOLD = 2  # parts told in sentences; the table has them all
NO_CAUSE = "none shown"
_SIDES = {"long_short_bias": ("short", "long"), "left_right_bias": ("left", "right")}
READ_REASONS = "Strokes a round against {against}; ranges: {sure}.{doubt} All causes: --wide."
MAY_BE_LUCK = " A question mark: may be luck."
NEXT = "Next: sgzone why --detail misses (or putting); sgzone practice --hours 5."

CAUSES_TITLE = "Why strokes go: the main causes, and what each costs a round"


MISSES_TITLE = "Where the ball finishes around the hole"


READ_MAIN = (
    "Bars and their numbers: what each cause gains or loses a round; line: its range. In "
    "brackets: shots of the part.",
    "The rest: all smaller causes of these parts in one bar, a sum without a range. The bars add "
    "up.",
)
LUCK, REST = "may be luck", "the rest"
_MOST_DRAWN = 8
"""Causes drawn, but for the largest of every part, which always is."""
_LEAST_DRAWN = 0.005  # strokes a round: what is less is written 0.00

TITLES = {
    None: "Every cause against {against}: + gains, - loses; ranges {sure}",
    "misses": "The miss that hurts, against {against}: + gains, - loses; ranges {sure}",
    "short-sided": "Missed greens, against {against}: + gains, - loses; ranges {sure}",
    "carry": "Carry and release by club, ranges {sure}",
    "putting": "Putts against {against}, ranges {sure}",
    "ratio": "Causes against {against} under other side : depth ratios",
}
"""Detail of ``sgzone why`` (None: the causes) -> what its table is."""

READ_MISS = (
    "Around the hole (cross), seen along the line of the shot. Inner ring: half your shots; outer: "
    "8 in 10.",
)

WHY_RESTS = (
    "How the standard's own shots spread is modelled: sgzone why --detail ratio tries others.",
)

READ_CAUSES = ("Causes add up to the total of their part.", *WHY_RESTS)

MISSES_CAPTION = "The miss that hurts: + gains, - loses"

NO_WHY = (
    "To say why, write down where balls finish: short or long, left or right (depth_ft, side_ft). "
    f"It takes {MIN_SPLIT} shots of a part."
)

NO_MISSES = (
    "No misses to draw. Write down where balls finish: short or long, left or right (depth_ft, "
    "side_ft)."
)


def title(detail: str | None, against: str, say: Say) -> str:
    """Return what the table is; ``detail``: a key of ``TITLES``."""
    return TITLES[detail].format(against=against, sure=say.chances)


def read_reasons(shown: pd.DataFrame, against: str, say: Say) -> Words:
    """Return how to read the table of main causes, and what to ask next. ``shown``: ``reasons``."""
    doubt = MAY_BE_LUCK if shown["cause"].str.endswith("?").any() else ""
    return (READ_REASONS.format(against=against, sure=say.chances, doubt=doubt), NEXT)


def why_lead(why: pd.DataFrame, say: Say, told: pd.DataFrame | None = None) -> Words:
    """Return the main cause of the parts that lose most, where it can be named.

    ``told``: ``reasons``, where they are at hand.
    """
    causes, sure = largest_causes(why), sure_causes(why)
    if not causes:
        return (
            f"No main cause can be named yet: that takes {MIN_RANK} shots of a part that loses. "
            "Write down where they finish: short or long, left or right.",
        )
    told = reasons(why, say) if told is None else told
    return tuple(
        f"{_capital(say.part(row.part))}: the main cause is {CAUSE_WORDS[causes[row.part]]}, "
        f"{estimate(row.gained_per_round, row.low, row.high, say.level)} a round"
        f"{'' if row.part in sure else f'; {UNSURE}'}."
        for row in rows(told[told["part"].isin(causes)].iloc[:_MOST_TOLD])
    )


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


def reasons(why: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return one row per part, what loses most first: its main cause and its usual miss.

    Columns of the answer ``reasons``.
    """
    table = as_gains(why[why["column"] == "total"])
    totals = table[table["factor"] == "total"].sort_values("gained_per_round", kind="stable")
    named = largest_causes(why)
    found = []
    for row in rows(totals):
        of_part = table[table["part"] == row.part]
        found.append({"part": row.part, "whole": row.gained_per_round, "shots": row.shots})
        found[-1] |= _main(of_part, named.get(row.part)) | {"miss": _usual_miss(of_part, say)}
    columns = [column.name for column in columns_of("reasons")]
    return pd.DataFrame(found, columns=columns)


def _main(of_part: pd.DataFrame, cause: str | None) -> dict[str, Any]:
    """Return the main cause of a part, what it costs a round and the range of that."""
    if cause is None:
        return {"cause": NO_CAUSE if of_part["split"].any() else ""}
    row = of_part[of_part["factor"] == cause].iloc[0]
    a_round = row["shots"] and row["gained_per_round"] / row["gained_per_shot"]
    return {
        "cause": CAUSE_WORDS[cause] if row["sure"] else f"{CAUSE_WORDS[cause]}?",
        "gained_per_round": row["gained_per_round"],
        "low": row["low"] * a_round,
        "high": row["high"] * a_round,
    }


def main_causes(table: pd.DataFrame) -> pd.DataFrame:
    """Return the largest causes of the parts that are split, what loses most first, and the rest.

    ``table``: as ``review.why.split.why`` or ``questions.why``. Columns: part, factor, shots,
    gained_per_round with ``low`` and ``high`` (strokes a round; missing for the rest), ``side``
    (``loss`` or ``gain``; ``open`` where the range reaches 0 or a named cause may be luck). The
    last row is the rest, ``folded`` causes in one; its part is empty.
    """
    of_all = as_gains(table[table["column"] == "total"])
    split = set(of_all.loc[of_all["factor"] == "long_short_spread", "part"])
    of_all = of_all[of_all["part"].isin(split)]
    whole = of_all[of_all["factor"] == "total"].set_index("part")
    single = of_all[of_all["factor"] != "total"]
    times = of_all["gained_per_round"] / of_all["gained_per_shot"]
    a_round = times.groupby(of_all["part"]).median()  # the same for every cause of a part
    size = single["gained_per_round"].abs().where(single["factor"] != "rest", 0.0)
    first = size.eq(size.groupby(single["part"]).transform("max")) & (size > 0)
    most = size.rank(method="first", ascending=False) <= _MOST_DRAWN
    kept = first | (most & (size >= _LEAST_DRAWN))
    rate = single["part"].map(a_round)
    rows_ = single.assign(low=single["low"] * rate, high=single["high"] * rate, folded=0)
    rows_ = rows_.assign(side=_sides(rows_), whole=rows_["part"].map(whole["gained_per_round"]))
    drawn = rows_[kept].sort_values(["whole", "part", "gained_per_round"], kind="stable")
    columns = [*("part", "factor", "shots", "gained_per_round", "low", "high", "side", "folded")]
    rest = rows_[~kept & (rows_["gained_per_round"] != 0)]
    if rest.empty:
        return drawn[columns].reset_index(drop=True)
    last = {"part": "", "factor": REST, "gained_per_round": rest["gained_per_round"].sum()}
    last |= {"shots": 0, "side": OPEN, "folded": len(rest)}
    return pd.concat([drawn[columns], pd.DataFrame([last])], ignore_index=True)[columns]


def _sides(causes: pd.DataFrame) -> pd.Series[Any]:
    """Return the side that each cause is shown on, none where it may be luck."""
    reaches = ~((causes["low"] > 0) | (causes["high"] < 0))
    if {"largest", "sure"} <= set(causes):
        reaches |= causes["largest"].astype(bool) & ~causes["sure"].astype(bool)
    lost = causes["gained_per_round"] < 0
    side = np.select([reaches, lost], [OPEN, LOSS], GAIN)
    return pd.Series(side, index=causes.index, dtype=object)


def main_alt(main: pd.DataFrame, say: Say) -> str:
    """Return the chart of main causes in words; ``main``: as ``main_causes``."""
    ends = interval_words(main["low"], main["high"], 2)
    said = [
        f"{say.parts[row.part]}, {CAUSE_WORDS[row.factor]} "
        f"{number(row.gained_per_round, 2, signed=True)} ({row.ends})"
        if row.part
        else f"{REST} {number(row.gained_per_round, 2, signed=True)}"
        for row in rows(main.assign(ends=ends))
    ]
    return f"Bars of strokes gained per round by cause: {'; '.join(said)}."


def _usual_miss(of_part: pd.DataFrame, say: Say) -> str:
    """Return where shots finish on average: only a side that is shown."""
    said = []
    for factor, ways in _SIDES.items():
        row = next(rows(of_part[of_part["factor"] == factor]), None)
        if row is not None and row.mean_low_ft * row.mean_high_ft > 0:
            said.append(f"{say.length(abs(row.mean_ft), 'ft')} {ways[row.mean_ft > 0]}")
    return ", ".join(said)


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
    "No putts to compare: this standard has no table of putts holed, or you have under 5 rounds of "
    "putts."
)
PUTTS_HOLED = "Putts holed by distance"
_HOLED = (
    "From {near} to {far} you hole {share:.0%} of {putts}; this standard holes "
    "{theirs:.0%}{footing}."
)


def holed_lines(telling: pd.DataFrame, say: Say) -> Words:
    """Return a line for each part of putts that shows a loss: from where, how many, the standard's.

    ``telling``: as ``review.why.holed.telling_putts``.
    """
    return tuple(
        _HOLED.format(
            near=say.edge(row.near_ft, "ft"),
            far=f"{say.edge(row.far_ft, 'ft')} {say.unit('ft')}",
            share=row.holed_share,
            putts=count(int(row.putts), "putt"),
            theirs=row.benchmark_share,
            footing=f" ({READ_WHERE['memory']})" if row.status == "memory" else "",
        )
        for row in rows(telling)
    )


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
        "Points: the share holed, larger for more putts; upright lines: ranges "
        f"({say.chances}). Broken line: what the standard holes.",
        "One or two ranges miss by luck: look for neighbours that agree.",
    )


def putting_alt(points: pd.DataFrame, say: Say) -> str:
    """Return the chart of putts holed in words."""
    said = [
        f"from {say.length(row.distance_ft, 'ft')} {row.holed_share:.0%} ({row.interval}%, "
        f"n {row.putts}), benchmark {row.benchmark_share:.0%}"
        for row in rows(points)
    ]
    return f"Share of putts holed by distance: {'; '.join(said)}."
