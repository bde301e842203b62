"""The verb that says why strokes go, and the tables behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import Ask, number, reading_options
from sgzone.verbs.show import asked_of_tables, emit

if TYPE_CHECKING:
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

DETAILS = ("misses", "short-sided", "carry", "putting", "ratio")
_IDLE: dict[str | None, tuple[str, ...]] = {
    **dict.fromkeys(("misses", "putting"), ("ratio",)),
    "short-sided": ("ratio", "chart"),
    "carry": ("ratio", "benchmark", "chart"),
    "ratio": ("chart",),
}
"""``--detail`` -> the options that it never reads."""


@click.command()
@reading_options
@chart_option()
@click.option(
    "--ratio",
    type=number("ratio"),
    default=1.0,
    show_default=True,
    help="Change the standard's assumed side : depth spread, such as --ratio 1.2.",
)
@click.option(
    "--detail",
    type=click.Choice(DETAILS),
    help="Instead of the causes: the four misses, short-sided misses, carry and release, putts. "
    "ratio: the causes at other ratios.",
)
def why(ask: Ask, chart: Chart, ratio: float, detail: str | None) -> None:
    """Say why strokes go: distance control, line, usual miss."""
    refuse_idle(f"--detail {detail}", _IDLE.get(detail, ()))
    with ask.one_player() as (store, selection):
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
    from sgzone.benchmarks.saved import for_costs
    from sgzone.review.why.holed import telling_putts
    from sgzone.review.why.split import why_and_strokes
    from sgzone.words import why as words
    from sgzone.words.notes import causes, noted

    curve = for_costs(store, ask.benchmark, selection)
    found, strokes = why_and_strokes(store, curve, selection, ask.level, ratio)
    chart.draw(store, selection, lambda pictures: pictures.causes(found))
    if ask.fmt != "table":
        emit(noted(found, "why", ask.in_notes), ask.fmt, "why", ask.say)
    elif asked_of_tables("wide", False):
        title, lead = words.title(None, ask.benchmark, ask.say), words.why_lead(found, ask.say)
        shown = causes(found, ask.say)
        emit(shown, ask.fmt, "causes", ask.say, lead=lead, title=title, notes=words.READ_CAUSES)
    else:
        shown = words.reasons(found, ask.say)
        lead = words.why_lead(found, ask.say, shown)
        holed = words.holed_lines(telling_putts(strokes, curve.name, ask.level), ask.say)
        notes = (*holed, *words.read_reasons(shown, ask.benchmark, ask.say))
        emit(shown, ask.fmt, "reasons", ask.say, lead=lead, notes=notes)


def _at_ratios(store: Store, selection: Selection, ask: Ask, ratio: float) -> None:
    from sgzone.review.why.split import why_sensitivity
    from sgzone.words import why as words
    from sgzone.words.notes import as_gains, noted

    table = why_sensitivity(store, ask.benchmark, selection, ask.level, ratio)
    table, answer = noted(table, "why", ask.in_notes), "why"
    if ask.fmt == "table":
        table = as_gains(table[table["column"] == "total"])
        table = table.sort_values(["part", "factor", "ratio"], kind="stable")
        answer = "ratios"
    title = words.title("ratio", ask.benchmark, ask.say)
    emit(table, ask.fmt, answer, ask.say, title=title)


def _behind(store: Store, selection: Selection, ask: Ask, detail: str) -> None:
    from sgzone.benchmarks.saved import for_costs
    from sgzone.review.why.flight import release
    from sgzone.review.why.misses import misses, short_sided
    from sgzone.review.why.putting import putting
    from sgzone.scoring import scored
    from sgzone.words import why as words
    from sgzone.words.notes import as_gains

    curve = for_costs(store, ask.benchmark, selection)
    strokes = scored(store, curve, selection)
    if detail == "misses":
        table, answer = misses(strokes, ask.level), "misses"
    elif detail == "short-sided":
        table, answer = short_sided(strokes, ask.level), "misses"
    elif detail == "carry":
        table, answer = release(strokes, ask.level), "carry"
    else:
        table, answer = putting(strokes, curve, ask.level), "putting"
    if answer == "misses" and ask.fmt == "table":
        table, answer = as_gains(table), "miss_costs"
    title = words.title(detail, ask.benchmark, ask.say)
    emit(table, ask.fmt, answer, ask.say, title=title)
