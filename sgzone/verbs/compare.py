"""The verbs that compare two ways of playing, and the season with itself over time."""

from __future__ import annotations

from datetime import datetime

import click

from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.options import DAY, Ask, length, reading_options
from sgzone.verbs.show import asked_of_tables, emit, say


@click.command()
@reading_options
@chart_option()
@click.option("--by", help="Column to compare by, such as club, swing, wind; several: club,swing.")
@click.option("--at", type=length("at"), help="The number, such as --at 90 or --at 82m.")
@click.option("--lie", help="Only from this lie, such as --lie rough.")
@click.option("--part", help="Only this part, such as putt_0_10 or wedge_50_100.")
@click.option("--groups", help='Only these, in this order, such as "54 full,50 three-quarter".')
@click.option(
    "--split-date",
    type=DAY,
    help="Compare before with from this day on, such as 2026-06-01.",
)
def compare(
    ask: Ask,
    chart: Chart,
    by: str | None,
    at: float | None,
    lie: str | None,
    part: str | None,
    groups: str | None,
    split_date: datetime | None,
) -> None:
    """Compare clubs, swings, conditions at one number and lie."""
    from sgzone.review.beside.grouping import left_out
    from sgzone.review.beside.groups import compare_table, compared_strokes
    from sgzone.words import sides as words
    from sgzone.words.notes import noted

    keys = by if by is not None else "date" if split_date else ""
    chosen = [name.strip() for name in groups.split(",")] if groups is not None else None
    with ask.one_player() as (store, selection):
        day = split_date.date() if split_date else None
        rows = compared_strokes(
            store, keys, at, ask.benchmark, selection, split_date=day, lie=lie, part=part
        )
        table = noted(compare_table(rows, at, ask.level, chosen), "compare", ask.in_notes)
        found, only = table, words.compared_where(at, lie, part, ask.say)
        chart.draw(store, selection, lambda pictures: pictures.compared(rows, found, keys, only))
    say(*words.groups_left_out(left_out(rows["group"], chosen)))
    lead = words.compare_lead(table, ask.say)
    notes = words.compare_notes(table, keys, at, ask.benchmark, ask.say)
    if ask.fmt == "table":
        table = words.compared(table, ask.say)
    kept = ("at_yd", "difference")
    emit(table, ask.fmt, "compare", ask.say, lead=lead, notes=notes, kept=kept)


@click.command()
@reading_options
@chart_option()
@click.option(
    "--split-date",
    type=DAY,
    help="Each part before and from this day on, such as 2026-06-01.",
)
def trend(ask: Ask, chart: Chart, split_date: datetime | None) -> None:
    """Follow the season: has anything really changed?"""
    from sgzone.review.trend import before_after
    from sgzone.review.trend import trend as followed
    from sgzone.words import trend as words

    day = split_date.date() if split_date else None
    with ask.one_player() as (store, selection):
        if day:
            table = before_after(store, day, ask.benchmark, selection, ask.level)
            chart.draw(store, selection, lambda pictures: pictures.split(day))
        else:
            drawn = ask.fmt != "table" or chart.file is not None or asked_of_tables("wide", False)
            table = followed(store, ask.benchmark, selection, ask.level, curve=drawn)
            chart.draw(store, selection, lambda pictures: pictures.season(table))
    rests = words.trend_title(ask.benchmark, day)
    answer, notes = "before_after" if day else "trend", words.read_change(table, day)
    lead = words.split_lead(table, day, ask.say) if day else words.trend_lead(table, ask.say)
    if ask.fmt == "table":
        table = words.split_table(table) if day else words.season_table(table)
        answer = "before_after" if day else "season"
    notes = (rests, *notes) if len(table) else ()
    emit(table, ask.fmt, answer, ask.say, lead=lead, notes=notes, kept=("luck",))
