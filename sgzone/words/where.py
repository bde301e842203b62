"""Sentences on where strokes are won and lost: parts and summaries."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from sgzone.review.where.measuring import MOST_STROKES, SENSITIVE
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import OPEN, side_of
from sgzone.terms import NOT_ENOUGH
from sgzone.words.digits import (
    DAGGER,
    PUBLISHED,
    interval_words,
    listed,
    number,
    rows,
)
from sgzone.words.say import Say, Words

LUCK_SO_FAR = "too early: the order is mostly luck"

NEXT = "Next: sgzone why says what causes it; sgzone practice shares out your hours."

PARTS_TITLE = "Where strokes go: gained per round of 18 holes, by part of the game"


TOO_FEW_TO_DRAW = (
    "Too few shots: bars of single strokes would look like a finding. A verdict needs 10 strokes "
    "over 5 rounds."
)


READ_PARTS = (
    "Bars and their numbers: as played, orange to the left loses, blue to the right gains.",
    "Dot and line: the best estimate and its range. The verdict speaks of them.",
)

GREY_PARTS = "Grey bars: neither is shown, or too few shots to judge."

MARKED = {
    "some": f"{DAGGER} The benchmark's value here is not published but fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
    "all": f"{DAGGER} No benchmark value here is published: they are fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
}

WITHOUT_A_SEASON_FILE = (
    "Verdicts are not rerun under measuring errors, nor unfinished holes counted, without a season "
    "file."
)


def not_rerun(strokes: int) -> str:
    """Return why no verdict was tried with measuring errors."""
    return (
        f"{strokes} strokes: verdicts were not rerun under measuring errors (up to "
        f"{MOST_STROKES}); choose a player or dates."
    )


def summary_title(table: pd.DataFrame, keys: Sequence[str], against: str) -> str:
    """Return what a summary by ``keys`` is; an order without a verdict is not called worst first.

    ``table``: as ``review.where.summary.summarise``.
    """
    cells = table[(table[list(keys)] != TOTAL).all(axis=1)]
    judged = cells.empty or (cells["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else LUCK_SO_FAR
    if list(keys)[:1] == ["month"]:
        order = "in order of time"
    return f"Strokes a round of 18 holes against {against}: + gains, - loses, {order}."


def ranges(table: pd.DataFrame, say: Say) -> Words:
    """Return how often a range is right, where a table has one."""
    return (f"Ranges: {say.chances}.",) if table["low"].notna().any() else ()


def _named(parts: pd.Series, say: Say) -> list[str]:
    words = say.parts
    return [words.get(part, f"the {part}") for part in parts]  # the total is a row too


def parts_lead(parts: pd.DataFrame, say: Say) -> Words:
    """Return what the parts are and what is sensitive to distances."""
    sure = f"; ranges {say.chances}" if parts["shrunk_low_per_round"].notna().any() else ""
    judged = (parts["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else LUCK_SO_FAR
    lead = f"Strokes a round of 18 holes, by part of the game, {order}{sure}."
    return (lead, *sensitive(parts, say))


def sensitive(parts: pd.DataFrame, say: Say) -> Words:
    """Return which verdicts would change with other distances; nothing where none was tried."""
    if "measuring" not in parts or (parts["verdict"] == NOT_ENOUGH).all():
        return ()
    names = _named(parts.loc[parts["measuring"] == SENSITIVE, "part"], say)
    if not names:
        return ("No verdict changes with distances 10% longer or shorter.",)
    return (f"Distance-sensitive: {listed(names)} (10% more or less changes the verdict).",)


def read_parts(verdicts: pd.Series) -> Words:
    """Return how to read the chart by part; of grey bars only where there are some."""
    sided = verdicts.map(side_of) != OPEN
    return READ_PARTS if sided.all() else (*READ_PARTS, GREY_PARTS)


def parts_alt(parts: pd.DataFrame, say: Say) -> str:
    """Return the chart by part in words."""
    ends = interval_words(parts["shrunk_low_per_round"], parts["shrunk_high_per_round"], 2)
    said = [
        f"{say.parts[row.part]} {number(row.gained_per_round, 2, signed=True)}, "
        f"{_best(row)}{row.verdict}"
        for row in rows(parts.assign(ends=ends))
    ]
    return f"Strokes gained per round by part, as played: {'; '.join(said)}."


def _best(row: Any) -> str:
    """Return the best estimate of a part with its range, before its verdict; empty for none."""
    if row.shrunk_per_round != row.shrunk_per_round:
        return ""
    return f"best estimate {number(row.shrunk_per_round, 2, signed=True)} ({row.ends}), "


def marked(basis: pd.Series) -> Words:
    """Return what the mark beside a number means, where one stands."""
    known = basis[basis != ""]
    other = known != PUBLISHED
    if not other.any():
        return ()
    return (MARKED["all" if other.all() else "some"],)
