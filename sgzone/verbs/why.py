"""The verb that says why strokes go, and the tables behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import Ask, check_selection, number, reading_options, the_player
from sgzone.verbs.show import emit

if TYPE_CHECKING:
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

DETAILS = ("misses", "short-sided", "carry", "putting", "ratio")
_DRAWN = (None, "misses", "putting")


@click.command()
@reading_options
@chart_option()
@click.option(
    "--ratio",
    type=number("ratio"),
    default=1.0,
    show_default=True,
    help="Times the assumed side : depth ratio of the benchmark's spread.",
)
@click.option(
    "--detail",
    type=click.Choice(DETAILS),
    help="Instead of the causes: the four misses and their cost, short-sided misses, carry against "
    "release by club, putts by distance, or the causes at 0.8, 1 and 1.2 times the ratio.",
)
def why(ask: Ask, chart: Chart, ratio: float, detail: str | None) -> None:
    """Say why strokes go, part by part: tends, spread, penalties, and what is not explained."""
    if detail is not None and detail != "ratio":
        refuse_idle(f"--detail {detail}", ("ratio",))
    if detail not in _DRAWN:
        refuse_idle(f"--detail {detail}", ("chart",))
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        if detail is None:
            _causes(store, selection, ask, chart, ratio)
        elif detail == "ratio":
            _at_ratios(store, selection, ask, ratio)
        else:
            _behind(store, selection, ask, detail)
            chart.draw(
                store,
                selection,
                lambda pictures: pictures.misses() if detail == "misses" else pictures.putts(),
            )


def _causes(store: Store, selection: Selection, ask: Ask, chart: Chart, ratio: float) -> None:
    from sgzone.review.why.split import why as split
    from sgzone.words.notes import causes, noted

    found = split(store, ask.benchmark, selection, ask.level, ratio)
    chart.draw(store, selection, lambda pictures: pictures.causes(found))
    table, answer = found, "causes"
    if ask.fmt == "table":
        table = causes(table, ask.say)
    else:
        table, answer = noted(table, "why", ask.said_plainly), "why"
    title = (
        f"Why strokes go against {ask.benchmark}: loss > 0 costs strokes, intervals {ask.level:.0%}"
    )
    notes = (
        "Causes add up to the total of their part. The benchmark's spread rests on an assumed",
        "side : depth ratio; --detail ratio shows the causes at 0.8 and 1.2 times it.",
    )
    emit(table, ask.fmt, answer, ask.say, title=title, notes=notes)


def _at_ratios(store: Store, selection: Selection, ask: Ask, ratio: float) -> None:
    from sgzone.review.why.split import why_sensitivity
    from sgzone.words.notes import noted

    table = why_sensitivity(store, ask.benchmark, selection, ask.level, ratio)
    table = noted(table, "why", ask.say if ask.fmt == "table" else ask.said_plainly)
    answer = "why"
    if ask.fmt == "table":
        table = table[table["column"] == "total"]
        table = table.sort_values(["part", "factor", "ratio"], kind="stable")
        answer = "ratios"
    title = f"Causes against {ask.benchmark} under other side : depth ratios"
    emit(table, ask.fmt, answer, ask.say, title=title)


def _behind(store: Store, selection: Selection, ask: Ask, detail: str) -> None:
    from sgzone.benchmarks.saved import for_costs
    from sgzone.review.why.flight import release
    from sgzone.review.why.misses import misses, short_sided
    from sgzone.review.why.putting import putting
    from sgzone.scoring import scored

    curve = for_costs(store, ask.benchmark, selection)
    strokes = scored(store, curve, selection)
    title = f"against {ask.benchmark}, intervals {ask.level:.0%}"
    if detail == "misses":
        table, answer, title = misses(strokes, ask.level), "misses", f"The miss that hurts, {title}"
    elif detail == "short-sided":
        table, answer, title = short_sided(strokes, ask.level), "misses", f"Missed greens, {title}"
    elif detail == "carry":
        table, answer = release(strokes, ask.level), "carry"
        title = f"Carry and release by club, intervals {ask.level:.0%}"
    else:
        table, answer, title = putting(strokes, curve, ask.level), "putting", f"Putts {title}"
    emit(table, ask.fmt, answer, ask.say, title=title)
