"""The verb that lists every stroke with its value."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sgzone.terms import HOLED
from sgzone.units import FT_PER_YD, M_PER_YD
from sgzone.verbs.flat import curve_of, flat_gained, flat_options, refuse_half_a_call
from sgzone.verbs.options import Ask, reading_options_but
from sgzone.verbs.show import emit

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark


@click.command()
@reading_options_but("level")
@flat_options
def gained(ask: Ask, source: str | None, engine: str, out: str | None) -> None:
    """List every stroke inside 150 yards with what it gained against the benchmark."""
    from sgzone.benchmarks.saved import in_store
    from sgzone.scoring import strokes_gained

    refuse_half_a_call(source, engine, out)
    if source is not None:
        curve = curve_of(ask)
        if (rest := flat_gained(ask, curve, source, engine, out)) is not None:
            _show(rest, ask, curve)
        return
    with ask.everybody() as store:
        curve = in_store(store, ask.benchmark)
        frame = strokes_gained(store, curve, ask.selection)
    _show(frame, ask, curve)


def _show(frame: pd.DataFrame, ask: Ask, curve: Benchmark) -> None:
    if ask.fmt == "table":
        words = curve.status(frame["lie"].to_numpy(object), frame["distance_yd"] * FT_PER_YD)
        if (words != "published").any():
            frame = frame.assign(basis=words)
        frame = frame.assign(
            start=_place(frame["lie"], frame["distance_yd"], ask.units),
            end=_place(frame["end_lie"], frame["end_distance_yd"], ask.units),
        )
    title = f"Strokes gained against {ask.benchmark}, {len(frame)} strokes"
    emit(frame, ask.fmt, "gained", ask.say, title=title)


def _place(lie: pd.Series[str], yards: pd.Series[float], units: str) -> pd.Series[str]:
    """Return where a ball lay as a player says it: yards off the green, feet on it."""
    if units == "metric":
        text = _said(yards * M_PER_YD, "{:.1f} m")
    else:
        text = _said(yards, "{:.0f} yd")
        short = lie.isin(("green", "fringe"))
        text = text.where(~short, _said(yards * FT_PER_YD, "{:.1f} ft"))
    place = lie.fillna("unknown") + " " + text
    return place.where(lie.notna() & (lie != HOLED), lie.fillna("unknown"))


def _said(lengths: pd.Series[float], form: str) -> pd.Series[str]:
    """Return lengths as text, which of no lengths at all is text too."""
    return lengths.map(form.format).astype(str)
