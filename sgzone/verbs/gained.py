"""The verb that lists every stroke with its value."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sgzone.units import FT_PER_YD
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.nearest import against, put_together
from sgzone.verbs.options import Ask, reading_options_but
from sgzone.verbs.parquet import curve_of, parquet_gained, parquet_options, refuse_half_a_call
from sgzone.verbs.person.settings import everybody_option
from sgzone.verbs.season.only import ONLY, only_of, only_options
from sgzone.verbs.show import asked_of_tables, emit
from sgzone.words.digits import PUBLISHED
from sgzone.words.tables import more_rows

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark
    from sgzone.words.say import Words


@click.command()
@reading_options_but("level")
@everybody_option
@only_options
@parquet_options
def gained(
    ask: Ask,
    source: str | None,
    engine: str,
    out: str | None,
    lie: str | None,
    club: str | None,
    part: str | None,
) -> None:
    """List strokes with what each gained: worst and best first."""
    from sgzone.benchmarks.saved import in_store
    from sgzone.scoring import strokes_gained
    from sgzone.words.screen.only import only_line

    refuse_half_a_call(source, engine, out)
    if source is not None:
        refuse_idle("--in", ONLY)
        curve = curve_of(ask)
        if (rest := parquet_gained(ask, curve, source, engine, out)) is not None:
            _show(rest, ask, ask.benchmark, curve)
        return
    only = only_of(lie, club, part)
    with ask.everybody() as store:
        games = ask.games(store)
        curves = [in_store(store, game.benchmark) for game in games]
        frames = [
            strokes_gained(store, curve, game.selection, only=only)
            for game, curve in zip(games, curves, strict=True)
        ]
    if several := len(games) > 1:
        frames = [_marked(*pair, ask) for pair in zip(frames, curves, strict=True)]
    whole, unmarked = put_together(frames, games), None if several else curves[0]
    _show(whole, ask, against(games), unmarked, only_line(only, ask.say))


def _marked(frame: pd.DataFrame, curve: Benchmark, ask: Ask) -> pd.DataFrame:
    """Return the strokes with what a table shows: their places, what the values rest on."""
    from sgzone.words.rounds.strokes import places

    if ask.fmt == "table":
        words = curve.status(frame["lie"].to_numpy(object), frame["distance_yd"] * FT_PER_YD)
        if (words != PUBLISHED).any():
            frame = frame.assign(basis=[word if word != PUBLISHED else "" for word in words])
        frame = frame.assign(
            start=places(frame["lie"], frame["distance_yd"], ask.say),
            end=places(frame["end_lie"], frame["end_distance_yd"], ask.say),
        )
    return frame


def _show(
    frame: pd.DataFrame, ask: Ask, named: str, curve: Benchmark | None, only: Words = ()
) -> None:
    """Print the strokes. ``curve``: of all of them; None where they are marked already."""
    from sgzone.words.rounds.strokes import daggers, ends, gained_lead

    if ask.fmt != "table":
        emit(frame, ask.fmt, "gained", ask.say)
        return
    wide = asked_of_tables("wide", False)
    whose = ("player",) if len(set(frame["player"])) > 1 else ()
    shown, notes = frame, more_rows(0)
    if not (wide or asked_of_tables("rows", 0)):
        shown = ends(frame)
        notes = more_rows(len(frame) - len(shown))
    if curve is not None:  # of a season fewer strokes are shown than there are
        shown = _marked(shown, curve, ask)
    shown, marks = daggers(shown, "start", ask.say, wide=wide)
    lead, notes = (*only, *gained_lead(frame, named)), (*notes, *marks)
    emit(shown, "table", "gained", ask.say, lead=lead, notes=notes, keys=whose)
