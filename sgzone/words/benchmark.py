"""Sentences about benchmarks: published, women's, fitted."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sgzone.benchmarks.women import FROM_YD, LEVELS
from sgzone.harmless import cut
from sgzone.words.digits import count
from sgzone.words.say import Say, Words

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks.calibration import Calibration

_NAME_ROOM = 26  # columns of the name of a curve

READ_KNOTS = "Between these points the curve is a monotone cubic; `--at` reads off one value."
READ_SOURCES = "`sgzone sources` spells the sources out."
READ_FITTED = (
    "Ranges: 9 in 10; none where no stroke was seen from that lie. n: strokes nearest to it.",
    READ_KNOTS,
)


def too_few_to_try(least: int) -> str:
    """Return why a fitted curve was not tried on rounds that it has not seen."""
    return f"Fewer than {least} rounds: too few to tell how well it predicts."


def not_claimed(names: Iterable[str], say: Say) -> Words:
    """Return a sentence for each women's curve among the names: what of it is not one."""
    unit = "metres" if say.metric else "yards"
    return tuple(
        f"{name} is a women's curve from {FROM_YD * say.factor('yd'):.0f} {unit} out only. Nearer "
        f"the hole and on the green it is the curve of {LEVELS[name][1]} itself, marked uncertain. "
        "No women's curve is claimed there."
        for name in names
        if name in LEVELS
    )


def works(figures: pd.DataFrame) -> Words:
    """Return each work that published figures come from, with what was studied."""
    return tuple(
        f"{work.source}: {work.authors} ({work.year}). {work.title} {work.where} [{work.studied}]"
        for work in figures.drop_duplicates("source").itertuples()
    )


def fitted_title(name: str, players: int, base: str) -> str:
    """Return what the table of a fitted curve is."""
    return f"{name}, fitted to strokes of {players} players, beside {base}"


def own_curve(player: str) -> str:
    """Return what a curve of one player's strokes is good for."""
    return (
        f"It is {player}'s own: good for better or worse than usual (gained, trend, compare). It "
        "cannot say what costs that player strokes."
    )


def calibration_title(level: float) -> str:
    """Return what the table of a fitted curve's calibration is."""
    return f"Strokes to hole out: needed and expected, ranges {Say(level=level).chances}"


def calibration_notes(found: Calibration, base: str) -> Words:
    """Return how well a curve predicts rounds that it has not seen, and how that was tried."""
    return (
        f"Error over all bands: {found.fitted_error:.3f} strokes fitted, {found.base_error:.3f} "
        f"{base}; {found.chance:.3f} would be chance alone.",
        f"Each round was predicted by a curve fitted to the others ({found.folds} groups).",
    )


READ_CURVES = (
    "Whole line: the fitted curve, its range in grey (9 in 10). Dashed: the curve it started from.",
    "Points: strokes that were needed, on average; upright lines: their ranges (9 in 10).",
)


def curves_title(name: str, base: str) -> str:
    """Return the title of the chart of a fitted curve."""
    fitted, start = (cut(one, _NAME_ROOM, "…") for one in (name, base))
    return f"Strokes to hole out: {fitted}, fitted to your own players, beside {start}"


def fitted_to(players: int, strokes: int) -> str:
    """Return what a curve was fitted to."""
    return f"Fitted to {count(strokes, 'stroke')} of {count(players, 'player')}."
