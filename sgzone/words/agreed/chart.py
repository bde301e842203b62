"""What the chart of an agreement says."""

from __future__ import annotations

import math
from typing import Any

from sgzone.harmless import cut
from sgzone.terms import FEET, SHARE
from sgzone.words.agreed.going import NO_PROMISE, settling
from sgzone.words.agreed.measures import about, noun
from sgzone.words.say import Say, Words
from sgzone.words.season import benchmark_words

WHEN = {False: "before", True: "since"}
AGREED, DUE, TARGET = "agreed", "due", "target"
NOTHING_SEEN = "No stroke of these rounds is counted by this agreement."
READ = ("A dot a month with its range: hollow before it was agreed, filled since.",)
_TITLE = 70


def axis(unit: str, say: Say) -> str:
    """Return the title of the upright axis."""
    if unit == SHARE:
        return "share"
    return f"median, {say.unit(FEET)}" if unit == FEET else "gained a round, strokes"


def title(row: Any) -> str:
    """Return the title of the chart: the agreement itself."""
    return f"{row.agreement}. {cut(row.text, _TITLE, '…')}"


def read(row: Any, against: str, say: Say) -> Words:
    """Return how to read the chart: what is counted, and how sure it is."""
    what = about(row, say)
    sure = (*settling(row, say), *(() if math.isnan(row.met) else (NO_PROMISE,)))
    if isinstance(row.part, str):
        what += f", against {benchmark_words(against)}"
    sizes = f"{noun(row, row.shots_before)} before, {row.shots_since:,} since"
    return (f"{_sentence(what)}: {sizes}. Ranges: {say.chances}.", *READ, *map(_sentence, sure))


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]
