"""The verb that compares a squad's players across courses and days."""

from __future__ import annotations

import click

from sgzone.verbs.options import Ask, check_selection, reading_options
from sgzone.verbs.show import Column, emit

FIELD = {
    "player": Column("player"),
    "pool": Column("pool"),
    "rounds": Column("rounds"),
    "shared_rounds": Column("shared rounds"),
    "gained_per_round": Column("gained per round, strokes", 2, signed=True),
    "against_field": Column("against the field, strokes per round", 2, signed=True),
    "low": Column("low", 2, signed=True),
    "high": Column("high", 2, signed=True),
    "note": Column("note"),
}


@click.command()
@reading_options
def field(ask: Ask) -> None:
    """Compare players across courses: gained against those on the same course the same day."""
    from sgzone.review.field import field_strength

    with ask.store() as store:
        check_selection(store, ask.selection)
        table = field_strength(store, ask.benchmark, ask.selection, ask.level)
    title = (
        f"Gained per round against the field, course and day taken out; intervals {ask.level:.0%}"
    )
    notes = (
        "0 is the mean player of the pool. Players share a pool where rounds on the same course",
        "and day link them, also by way of others; between pools nothing can be compared.",
    )
    emit(table, ask.fmt, FIELD, units=ask.units, title=title, notes=notes if len(table) else ())
