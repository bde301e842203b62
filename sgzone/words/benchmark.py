"""Sentences about benchmarks."""

from __future__ import annotations

from collections.abc import Iterable

from sgzone.benchmarks.women import FROM_YD, LEVELS
from sgzone.harmless import cut
from sgzone.units import FT_PER_YD, M_PER_FT
from sgzone.words.digits import count
from sgzone.words.say import Say

_NAME_ROOM = 26  # columns of the name of a curve


def not_claimed(names: Iterable[str], say: Say) -> list[str]:
    """Return a sentence for each women's curve among the names: what of it is not one."""
    metres = FROM_YD * FT_PER_YD * M_PER_FT
    start = f"{metres:.0f} metres" if say.metric else f"{FROM_YD:.0f} yards"
    return [
        f"{name} is a women's curve from {start} out only. Nearer the hole and on the "
        f"green it is the curve of {LEVELS[name][1]} itself, marked uncertain: no women's curve is "
        "claimed there."
        for name in names
        if name in LEVELS
    ]


READ_FITTED = (
    "Whole line: the fitted curve, its 90% band in grey. Dashed: the curve it started from.",
    "Points: strokes that were needed, on average; upright lines: their 90% intervals.",
)


def fitted_title(name: str, base: str) -> str:
    """Return the title of the chart of a fitted curve."""
    fitted, start = (cut(one, _NAME_ROOM, "…") for one in (name, base))
    return f"Strokes to hole out: {fitted}, fitted to your own players, beside {start}"


def fitted_to(players: int, strokes: int) -> str:
    """Return what a curve was fitted to."""
    return f"Fitted to {count(strokes, 'stroke')} of {count(players, 'player')}."
