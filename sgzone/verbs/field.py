"""The verb that compares a squad's players across courses and days."""

from __future__ import annotations

import click

from sgzone.verbs.options import Ask, check_selection, reading_options_but
from sgzone.verbs.show import emit


@click.command()
@reading_options_but("units")
def field(ask: Ask) -> None:
    """Compare players, course and day taken out."""
    from sgzone.questions import field_strength
    from sgzone.words import sides as words

    with ask.store() as store:
        check_selection(store, ask.of_all)
        table = field_strength(store, ask.benchmark, ask.of_all, ask.level)
    notes = words.FIELD_NOTES if len(table) else ()
    emit(table, ask.fmt, "field", ask.say, lead=(words.field_title(ask.say),), notes=notes)
