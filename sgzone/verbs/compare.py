"""The verbs that compare two ways of playing, and the season with itself over time."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import click

from sgzone.units import M_PER_YD
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.options import Ask, check_selection, number, reading_options, the_player
from sgzone.verbs.show import emit, say

if TYPE_CHECKING:
    import pandas as pd


@click.command()
@reading_options
@chart_option()
@click.option("--by", help="Column to compare by, such as club, swing, wind; several: club,swing.")
@click.option("--at", type=number("at"), help="The number, yards.")
@click.option("--lie", help="Only from this lie.")
@click.option("--part", help="Only this part, such as putt_0_10 or wedge_50_100.")
@click.option("--groups", help='Only these, in this order: "54 full,50 three-quarter".')
@click.option(
    "--split-date",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="Compare before this day with from this day on.",
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
    """Compare clubs, swings or conditions at the same number and lie; course shots only."""
    from sgzone.review.beside.grouping import left_out
    from sgzone.review.beside.groups import GAP, compare_table, compared_strokes
    from sgzone.words.sides import compared_where

    keys = by if by is not None else "date" if split_date else ""
    chosen = [name.strip() for name in groups.split(",")] if groups is not None else None
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        day = split_date.date() if split_date else None
        rows = compared_strokes(
            store, keys, at, ask.benchmark, selection, split_date=day, lie=lie, part=part
        )
        units = ask.units if ask.fmt == "table" else "yards"
        found = table = compare_table(rows, at, ask.level, chosen, units)
        only = compared_where(at, lie, part, ask.say)
        chart.draw(store, selection, lambda pictures: pictures.compared(rows, found, keys, only))
    if more := left_out(rows["group"], chosen):
        say(more)
    each = f"{table['shots_to_settle'].iloc[0]:.0f}" if len(table) else "?"
    if ask.fmt == "table":
        table = _beside(table, ask.units)
    where = _near(at, ask.units) if at else "from the same lie and distance step"
    notes = (
        f"difference > 0: the second is better; interval {ask.level:.0%}. A true gap of {GAP:.2f} "
        f"strokes is settled by about {each} shots each.",
        "Spreads are those at the number in 'at'. Test blocks are not in here.",
    )
    title = f"Compared by {keys} {where}, against {ask.benchmark}"
    said = notes if len(table) else ()
    kept = ("at_yd", "difference")
    emit(table, ask.fmt, "compare", ask.say, title=title, notes=said, kept=kept)


@click.command()
@reading_options
@chart_option()
@click.option(
    "--split-date",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="Compare before this day with from this day on, part by part.",
)
def trend(ask: Ask, chart: Chart, split_date: datetime | None) -> None:
    """Follow the season: gained per round by part, smoothed, and whether it is a change."""
    from sgzone.review.trend import before_after
    from sgzone.review.trend import trend as followed

    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        if split_date:
            day = split_date.date()
            table = before_after(store, day, ask.benchmark, selection, ask.level)
            chart.draw(store, selection, lambda pictures: pictures.split(day))
        else:
            found = table = followed(store, ask.benchmark, selection, ask.level)
            chart.draw(store, selection, lambda pictures: pictures.season(found))
    answer = "trend"
    notes = [
        "Luck alone: in this share of cases (parts: corrected for looking at several at once)."
    ]
    title = f"The season over time against {ask.benchmark}, intervals {ask.level:.0%}"
    if split_date:
        answer, title = "before_after", f"Before and from {split_date:%Y-%m-%d}: {title}"
        notes += ["Season, course and weather change at the same time: a date is not a cause."]
    elif ask.fmt == "table":
        table, answer = _whole_season(table), "season"
        notes += ["One row per part and round: --format csv."]
    notes = notes if len(table) else []
    emit(table, ask.fmt, answer, ask.say, title=title, notes=notes, kept=("p",))


def _near(at: float, units: str) -> str:
    from sgzone.review.beside.groups import WINDOW_YD

    if units == "metric":
        return f"within {WINDOW_YD * M_PER_YD:.0f} m of {at * M_PER_YD:.0f} m"
    return f"within {WINDOW_YD:g} yd of {at:g} yd"


def _whole_season(table: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part: the ends of its curve and what may be said of the change."""
    parts = table.groupby("part", sort=False)
    ends = parts.agg(
        first_value=("smoothed", "first"),
        last_value=("smoothed", "last"),
        rolling=("rolling", "last"),
        shots=("shots", "sum"),
    )
    whole = ["change", "change_low", "change_high", "p", "rounds", "verdict"]
    return ends.join(parts[whole].first()).reset_index()


def _beside(table: pd.DataFrame, units: str) -> pd.DataFrame:
    """Return the table with the two groups' numbers side by side: ``12 | 15 ft``."""
    from sgzone.units import M_PER_FT

    factor, unit, digits = (M_PER_FT, " m", 1) if units == "metric" else (1.0, " ft", 0)
    out = table.copy()
    for name in ("shots", "known"):
        pair = zip(table[f"{name}_first"], table[f"{name}_second"], strict=True)
        out[name] = [f"{a:.0f} | {b:.0f}" for a, b in pair]
    for name in ("proximity", "depth_sd", "side_sd"):
        pair = zip(table[f"{name}_first_ft"], table[f"{name}_second_ft"], strict=True)
        out[name] = [
            f"{_length(a * factor, digits)} | {_length(b * factor, digits)}{unit}" for a, b in pair
        ]
    return out


def _length(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if value == value else "?"
