"""The verdicts: what may be said of a mean, of two groups, of a change, of a way to play."""

from __future__ import annotations

from dataclasses import dataclass

CLEAR, PROBABLE = 0.95, 0.80
"""What a verdict of each strength is believed with, at least."""
LOSS, GAIN, OPEN = "loss", "gain", "open"
"""The side a verdict speaks for; open: for none."""
SURE, LIKELY, NONE = "clear", "probable", ""
"""How strongly it speaks."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What may be said of a mean: its code in data, the side it speaks for, and how strongly."""

    code: str
    side: str = OPEN
    strength: str = NONE


CLEAR_LOSS, PROBABLE_LOSS = "clear loss", "probable loss"
CLEAR_GAIN, PROBABLE_GAIN = "clear gain", "probable gain"
LEVEL, NOT_SETTLED = "level", "not settled"
VERDICTS = {
    verdict.code: verdict
    for verdict in (
        Verdict(CLEAR_LOSS, LOSS, SURE),
        Verdict(CLEAR_GAIN, GAIN, SURE),
        Verdict(PROBABLE_LOSS, LOSS, LIKELY),
        Verdict(PROBABLE_GAIN, GAIN, LIKELY),
        Verdict(LEVEL),
        Verdict(NOT_SETTLED),
    )
}
SIDES = {code: verdict.side for code, verdict in VERDICTS.items()}
STRENGTHS = {code: verdict.strength for code, verdict in VERDICTS.items()}

TOO_FEW, NO_DIFFERENCE = "too few", "no difference shown"
LEANING, BETTER_HERE = "leaning", "better here"
NOT_WRITTEN = "not written down"
"""What may be said of two groups; which of them is better stands beside it."""
MORE_THAN_NOISE, WITHIN_NOISE = "more than noise", "no more than noise"
NOT_ENOUGH_ROUNDS = "not enough rounds"
"""What may be said of a change over time."""
BETTER_SINCE, WORSE_SINCE = "better since", "worse since"
"""What may be said of an agreement, beside ``NOT_SETTLED`` and ``TOO_FEW``."""
BEST, EQUAL = "best", "equal here"
TOO_CLOSE, COSTS = "too close to separate", "costs more"
"""What may be said of a way to play a number."""


def side_of(code: str) -> str:
    """Return the side of a verdict's code, open for any other word."""
    return SIDES.get(code, OPEN)
