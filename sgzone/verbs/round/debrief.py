"""The verb that looks back on one round."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import click

from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import DAY, Ask, number, reading_options_but
from sgzone.verbs.show import OF_TABLES, asked_of_tables, emit, tell

if TYPE_CHECKING:
    from sgzone.review.debrief.one_round import Debrief


@click.command()
@click.argument("day", type=DAY, metavar="[DATE]", required=False)
@click.option(
    "--round",
    "which",
    type=number("round"),
    help="Which round of that day, such as --round 2; without it the last.",
)
@click.option(
    "--brief", is_flag=True, help="A short text to send instead: debrief 2026-05-14 --brief."
)
@reading_options_but("level")
@chart_option()
def debrief(
    ask: Ask, chart: Chart, day: datetime | None, which: int | None, *, brief: bool
) -> None:
    """Look back on one round, the last or that of DATE."""
    from sgzone.benchmarks.saved import in_store
    from sgzone.review.debrief.one_round import debrief as look_back
    from sgzone.review.debrief.one_round import no_strokes

    if brief:
        refuse_idle("--brief", ("fmt", *OF_TABLES))
    with ask.one_player() as (store, selection):
        if day is None and which is None and store.rounds(selection).empty:
            if not brief:
                emit(no_strokes(), ask.fmt, "debrief", ask.say)
            return
        curve = in_store(store, ask.benchmark)
        date = None if day is None else day.date()
        found = look_back(store, curve, selection, date=date, round=which)
        chart.draw(store, selection, lambda pictures: pictures.one_round(found))
    if brief:
        _send(found, ask)
    elif ask.fmt == "table":
        _show(found, ask)
    else:
        emit(found.strokes, ask.fmt, "debrief", ask.say)


def _send(found: Debrief, ask: Ask) -> None:
    from sgzone.words.rounds.message import message

    tell(message(found, ask.say))


def _show(found: Debrief, ask: Ask) -> None:
    from sgzone.words.rounds import debrief as words

    say, wide = ask.say, asked_of_tables("wide", False)
    lead = words.typed(words.lead(found, say))
    emit(words.by_part(found, halves=wide), "table", "round_parts", say, lead=lead)
    strokes = words.told_all(found, say) if wide else words.told_short(found, say)
    if wide:
        tell("")
        emit(words.by_count(found), "table", "round_counts", say, first=False)
    tell("")
    emit(
        strokes,
        "table",
        "round_strokes",
        say,
        title=words.STROKES_TITLE,
        notes=(*(() if wide else words.counted(found)), *words.care(found, say), words.NEXT),
        first=False,
    )
