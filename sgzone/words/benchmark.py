"""Sentences about benchmarks."""

from __future__ import annotations

from collections.abc import Iterable

from sgzone.benchmarks.women import FROM_YD, LEVELS
from sgzone.units import FT_PER_YD, M_PER_FT
from sgzone.words.say import Say


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
