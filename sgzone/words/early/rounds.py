"""Sentences about the first rounds, before there are enough for a verdict."""

from __future__ import annotations

import pandas as pd

from sgzone.clubs.stock import FEW
from sgzone.review.early import CHANGE, STANDARD, VERDICT
from sgzone.terms import MIN_ROUNDS
from sgzone.words.digits import count, rows
from sgzone.words.say import Words

ROUNDS = "The rounds so far, as played: no verdict yet"
NEEDED = "What more rounds bring"
WRITE_DOWN = "What to write down next"
COLUMNS = "What more columns bring, for strokes off the green"

_ANSWERS = {
    VERDICT: "a verdict on a part, its causes, and a practice plan",
    CHANGE: "what changed over the season",
    STANDARD: "the standard you play to",
}
_WHAT = {
    "swing": ("club and swing", f"how far each goes ({FEW} shots of one), what to hit at a number"),
    "miss": ("where it finished", "the usual miss: short or long, left or right"),
    "carry": ("the carry", "how far a swing flies, apart from its roll"),
    "measured": ("how you measured", "whether a verdict depends on your distances"),
}


def what_next(rounds: int) -> Words:
    """Return how many rounds a plan needs, and what to do until then."""
    more = max(MIN_ROUNDS - rounds, 0)
    return (
        f"{count(more, 'more round')} and the first verdicts and a practice plan are here.",
        "Until then, share your practice hours equally.",
    )


def needs(table: pd.DataFrame) -> pd.DataFrame:
    """Return what each answer takes, in words. ``table``: as ``review.early.still_needed``."""
    return pd.DataFrame(
        {
            "answer": [_ANSWERS[name] for name in table["answer"]],
            "needs": [_takes(row.rounds, row.shots) for row in rows(table)],
            "more": [count(row.more, "round") for row in rows(table)],
        }
    )


def _takes(rounds: int, shots: int) -> str:
    return (
        f"{count(rounds, 'round')}, {shots} shots of that part" if shots else count(rounds, "round")
    )


def columns(table: pd.DataFrame) -> pd.DataFrame:
    """Return what some strokes still lack and what it would bring, the least written first.

    ``table``: as ``review.early.written_down``.
    """
    lacking = table[table["written"] < table["strokes"]]
    order = lacking.sort_values("written", kind="stable")
    return pd.DataFrame(
        {
            "what": [_WHAT[name][0] for name in order["what"]],
            "now": [f"{row.written} of {row.strokes}" for row in rows(order)],
            "brings": [_WHAT[name][1] for name in order["what"]],
        }
    )
