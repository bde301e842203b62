"""The verb that compares a squad's players across courses and days."""

from __future__ import annotations

import click

from sgzone.verbs.options import Ask, reading_options_but
from sgzone.verbs.show import emit


@click.command()
@reading_options_but("units")
def field(ask: Ask) -> None:
    """Compare players across courses: gained against those on the same course the same day."""
    from sgzone.questions import field_strength

    with ask.everybody() as store:
        table = field_strength(store, ask.benchmark, ask.selection, ask.level)
    title = (
        f"Gained per round against the field, course and day taken out; intervals {ask.level:.0%}"
    )
    notes = (
        "0 is the mean player of the pool. Players share a pool where rounds on the same course",
        "and day link them, also by way of others; between pools nothing can be compared.",
    )
    emit(table, ask.fmt, "field", ask.say, title=title, notes=notes if len(table) else ())
