"""The verb that lists every stroke with its value."""

from __future__ import annotations

import click

from sgzone.verbs.options import Ask, reading_options, warn_unknown_player
from sgzone.verbs.show import Column, emit

COLUMNS = {
    "player": Column("player"),
    "date": Column("date"),
    "round": Column("round"),
    "hole": Column("hole"),
    "shot": Column("shot"),
    "lie": Column("from"),
    "distance_yd": Column("distance, yd", 1),
    "part": Column("part"),
    "end_lie": Column("to"),
    "end_distance_yd": Column("left, yd", 1),
    "penalty": Column("penalty"),
    "expected_before": Column("expected before", 2),
    "expected_after": Column("expected after", 2),
    "gained": Column("gained, strokes", 2, signed=True),
    "status": Column("status"),
}


@click.command()
@reading_options
def gained(ask: Ask) -> None:
    """List every stroke inside 150 yards with what it gained against the benchmark."""
    from sgzone.scoring import strokes_gained

    with ask.store() as store:
        warn_unknown_player(store, ask.selection)
        frame = strokes_gained(store, ask.benchmark, ask.selection)
    title = f"Strokes gained against {ask.benchmark}, {len(frame)} strokes"
    emit(frame, ask.fmt, COLUMNS, units=ask.units, title=title)
