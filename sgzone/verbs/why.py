"""The verb that says why strokes go, and the tables behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sgzone.terms import CAUSE_WORDS
from sgzone.verbs.options import Ask, check_selection, number, reading_options, the_player
from sgzone.verbs.show import Column, emit

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

WHY = {
    "part": Column("part"),
    "cause": Column("cause"),
    "loss_per_shot": Column("loss per shot, strokes", 3, signed=True),
    "low": Column("low", 3, signed=True),
    "high": Column("high", 3, signed=True),
    "proximity": Column("of it proximity", 3, signed=True),
    "missed_green": Column("of it missed green", 3, signed=True),
    "loss_per_round": Column("loss per round, strokes", 2, signed=True),
    "shots": Column("shots"),
    "note": Column("note"),
}
MISSES = {
    "part": Column("part"),
    "miss": Column("miss"),
    "share": Column("share of shots", 2),
    "loss_per_shot": Column("loss per shot, strokes", 2, signed=True),
    "low": Column("low", 2, signed=True),
    "high": Column("high", 2, signed=True),
    "shots": Column("shots"),
    "rounds": Column("rounds"),
    "note": Column("note"),
}
CARRY = {
    "club": Column("club"),
    "swing": Column("swing"),
    "landing_error_yd": Column("carry less meant, yd", 1, signed=True),
    "landing_low_yd": Column("low, yd", 1, signed=True),
    "landing_high_yd": Column("high, yd", 1, signed=True),
    "landing_sd_yd": Column("sd, yd", 1),
    "release_yd": Column("release, yd", 1, signed=True),
    "release_low_yd": Column("low, yd", 1, signed=True),
    "release_high_yd": Column("high, yd", 1, signed=True),
    "release_sd_yd": Column("sd, yd", 1),
    "dominates": Column("larger error"),
    "shots": Column("shots"),
    "rounds": Column("rounds"),
    "note": Column("note"),
}
PUTTING = {
    "band": Column("from"),
    "putts": Column("putts"),
    "holed_share": Column("share holed", 2),
    "low": Column("low", 2),
    "high": Column("high", 2),
    "benchmark_share": Column("benchmark", 2),
    "status": Column("how that was read"),
    "missed": Column("missed"),
    "next_putt_ft": Column("next putt, ft", 1),
    "next_low_ft": Column("low, ft", 1),
    "next_high_ft": Column("high, ft", 1),
    "benchmark_next_ft": Column("benchmark, ft (derived)", 1),
    "rounds": Column("rounds"),
}
RATIO = {
    "part": Column("part"),
    "cause": Column("cause"),
    "ratio": Column("times the assumed side : depth", 2),
    **{name: WHY[name] for name in ("loss_per_shot", "low", "high", "shots", "note")},
}
DETAILS = ("misses", "short-sided", "carry", "putting", "ratio")


@click.command()
@reading_options
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
def why(ask: Ask, ratio: float, detail: str | None) -> None:
    """Say why strokes go, part by part: tends, spread, penalties, and what is not explained."""
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        if detail is None:
            _causes(store, selection, ask, ratio)
        elif detail == "ratio":
            _at_ratios(store, selection, ask, ratio)
        else:
            _behind(store, selection, ask, detail)


def _causes(store: Store, selection: Selection, ask: Ask, ratio: float) -> None:
    from sgzone.review.why import why as split

    units = ask.units if ask.fmt == "table" else "yards"
    table = split(store, ask.benchmark, selection, ask.level, ratio, units=units)
    if ask.fmt == "table":
        table = _wide(table)
    title = (
        f"Why strokes go against {ask.benchmark}: loss > 0 costs strokes, intervals {ask.level:.0%}"
    )
    notes = (
        "Causes add up to the total of their part. The benchmark's spread rests on an assumed",
        "side : depth ratio; --detail ratio shows the causes at 0.8 and 1.2 times it.",
    )
    emit(table, ask.fmt, WHY, units=ask.units, title=title, notes=notes)


def _at_ratios(store: Store, selection: Selection, ask: Ask, ratio: float) -> None:
    from sgzone.review.why import why_sensitivity

    units = ask.units if ask.fmt == "table" else "yards"
    table = why_sensitivity(store, ask.benchmark, selection, ask.level, ratio, units=units)
    if ask.fmt == "table":
        table = table[table["column"] == "total"]
        table = table.assign(cause=table["factor"].map(CAUSE_WORDS))
        table = table.sort_values(["part", "cause", "ratio"], kind="stable")
    title = f"Causes against {ask.benchmark} under other side : depth ratios"
    emit(table, ask.fmt, RATIO, units=ask.units, title=title)


def _behind(store: Store, selection: Selection, ask: Ask, detail: str) -> None:
    from sgzone.benchmarks.saved import for_costs
    from sgzone.review.misses import misses, short_sided
    from sgzone.review.putting import putting
    from sgzone.review.release import release
    from sgzone.scoring import scored

    curve = for_costs(store, ask.benchmark, selection)
    strokes = scored(store, curve, selection)
    title = f"against {ask.benchmark}, intervals {ask.level:.0%}"
    if detail == "misses":
        table, columns, title = misses(strokes, ask.level), MISSES, f"The miss that hurts, {title}"
    elif detail == "short-sided":
        table, columns, title = short_sided(strokes, ask.level), MISSES, f"Missed greens, {title}"
    elif detail == "carry":
        table, columns = release(strokes, ask.level), CARRY
        title = f"Carry and release by club, intervals {ask.level:.0%}"
    else:
        table, columns, title = putting(strokes, curve, ask.level), PUTTING, f"Putts {title}"
    emit(table, ask.fmt, columns, units=ask.units, title=title)


def _wide(table: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part and cause, the two columns beside the total.

    What holds for a whole part is said once, on its total.
    """
    keys = ["part", "factor"]
    wide = table[table["column"] == "total"]
    for column in ("proximity", "missed_green"):
        rows = table[table["column"] == column].set_index(keys)["loss_per_shot"]
        wide = wide.join(rows.rename(column), on=keys)
    said = wide[wide["factor"] == "total"].set_index("part")["note"]
    notes = [
        note if factor == "total" else note.removesuffix(said[part]).removesuffix("; ")
        for part, factor, note in zip(wide["part"], wide["factor"], wide["note"], strict=True)
    ]
    return wide.assign(cause=wide["factor"].map(CAUSE_WORDS), note=notes)
