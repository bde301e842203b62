"""Every sentence the report can say, with its variants for weak evidence.

A loss is said as strokes lost, never as a minus.
"""

from __future__ import annotations

import pandas as pd

from sgzone.review.where.measuring import HANGS
from sgzone.stats.verdict import OPEN, side_of
from sgzone.terms import NOT_ENOUGH
from sgzone.words.digits import DAGGER, PUBLISHED, interval_words, listed, number
from sgzone.words.say import Say

Words = tuple[str, ...]


PARTS_TITLE = "Where strokes go: gained per round of 18 holes, by part of the game"


TOO_FEW_TO_DRAW = (
    "Too few shots: bars of single strokes would look like a finding. A verdict needs 10 strokes "
    "over 5 rounds."
)


READ_PARTS = (
    "Orange bars, left of the line: strokes lost per round; blue bars, right of it: gained.",
    "The thin line is the interval, the words are the verdict.",
)


LEANS = (
    "holds 0, yet the verdict names a side: it is about the value adjusted for few shots, which "
    "leans on the player's other parts."
)


GREY_PARTS = "Grey bars: neither is shown, or too few shots to judge."


MARKED = {
    "some": f"{DAGGER} The benchmark's value here is not published but fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
    "all": f"{DAGGER} No benchmark value here is published: they are fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
}


def _named(parts: pd.Series, say: Say) -> list[str]:
    words = say.parts
    return [words[part] for part in parts]


def parts_lead(parts: pd.DataFrame, say: Say) -> Words:
    """Return what the parts are and what hangs on measuring."""
    known = parts["low_per_round"].notna().any()
    sure = f"; intervals {say.sure}" if known else ""
    judged = (parts["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else "lowest first, an order of luck so far"
    said = [f"Strokes gained per round of 18 holes, by part of the game, {order}{sure}."]
    hangs = parts[parts["measuring"] == HANGS] if "measuring" in parts else parts[:0]
    names = _named(hangs["part"], say)
    if names:
        verdicts = "verdict hangs" if len(names) == 1 else "verdicts hang"
        said.append(
            f"The {verdicts} on how distances were measured for {listed(names)}: distances a "
            "tenth longer or shorter, or plain measuring errors, change what is said."
        )
    elif "measuring" in parts and (parts["verdict"] != NOT_ENOUGH).any():
        said.append(
            "No verdict changes with distances a tenth longer or shorter, or with plain measuring "
            "errors."
        )
    return tuple(said)


def read_parts(verdicts: pd.Series) -> Words:
    """Return how to read the chart by part; of grey bars only where there are some."""
    sided = verdicts.map(side_of) != OPEN
    return READ_PARTS if sided.all() else (*READ_PARTS, GREY_PARTS)


def leaning(parts: pd.DataFrame, say: Say) -> Words:
    """Return which parts have a side though the interval of their own strokes holds 0, and why."""
    sided = parts["verdict"].map(side_of) != OPEN
    held = parts[sided & (parts["low_per_round"] < 0) & (parts["high_per_round"] > 0)]
    if held.empty:
        return ()
    return (f"The interval of {listed(_named(held['part'], say))} {LEANS}",)


def parts_alt(parts: pd.DataFrame, say: Say) -> str:
    """Return the chart by part in words."""
    ranges = interval_words(parts["low_per_round"], parts["high_per_round"], 2)
    said = [
        f"{part} {number(value, 2, signed=True)} ({ends}), {verdict}"
        for part, value, ends, verdict in zip(
            _named(parts["part"], say),
            parts["gained_per_round"],
            ranges,
            parts["verdict"],
            strict=True,
        )
    ]
    return f"Bars of strokes gained per round by part: {'; '.join(said)}."


def marked(basis: pd.Series) -> Words:
    """Return what the mark beside a number means, where one stands."""
    known = basis[basis != ""]
    other = known != PUBLISHED
    if not other.any():
        return ()
    return (MARKED["all" if other.all() else "some"],)
