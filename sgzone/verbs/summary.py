"""The verbs `summary` (where strokes go, how sure) and `counts` (the plain ones)."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from sgzone.harmless import named
from sgzone.terms import NOT_ENOUGH, zone_words
from sgzone.units import FT_PER_YD
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.flat import curve_of, source_option, stroke_files
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import Ask, check_selection, reading_options, reading_options_but
from sgzone.verbs.show import emit, say

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark
    from sgzone.review.where.measuring import Measuring
    from sgzone.season.store import Store


_DRAWN = ({"part"}, {"band", "lie"})
"""What a summary is by where it has a chart; a row of everything changes nothing."""


@click.command()
@reading_options
@chart_option()
@click.option(
    "--by",
    default="part,total",
    show_default=True,
    metavar="COL,...",
    help="What to group by, crossed: part, band, lie, club, swing, course, event, player, month, "
    "measured, ...; total adds a last row of everything.",
)
@click.option(
    "--measuring/--no-measuring",
    default=True,
    show_default=True,
    help="Rerun every verdict under measuring errors.",
)
@source_option
def summary(ask: Ask, chart: Chart, by: str, measuring: bool, source: str | None) -> None:
    """Show where strokes are won and lost, how sure that is, and what may be said of it."""
    from sgzone.review.where.keys import columns_of

    columns = columns_of(by)
    if set(columns) - {"total"} not in _DRAWN:
        refuse_idle(f"--by {by}", ("chart",))
    if source is None:
        table = _of_season(ask, chart, columns, measuring)
    else:
        refuse_idle("--in", ("chart",))
        table = _of_files(ask, columns, measuring, source)
    keys = [str(name) for name in table.columns[: table.columns.get_loc("shots")]]
    emit(table, ask.fmt, "summary", ask.say, title=_title(table, keys, ask), keys=keys)


def _title(table: pd.DataFrame, keys: list[str], ask: Ask) -> str:
    """Return what the table is; an order of cells without a verdict is not called worst first."""
    from sgzone.review.where.summary import TOTAL

    cells = table[(table[keys] != TOTAL).all(axis=1)]
    judged = cells.empty or (cells["verdict"] != NOT_ENOUGH).any()
    sure = f"intervals {ask.level:.0%}, " if table["low"].notna().any() else ""
    order = "worst loss per round first" if judged else "lowest first, an order of luck so far"
    return (
        f"Strokes gained inside {zone_words(ask.units)} against {ask.benchmark}; {sure}"
        f"gained > 0 is good, a round is 18 holes, {order}"
    )


@click.command()
@reading_options_but("benchmark")
@chart_option()
def counts(ask: Ask, chart: Chart) -> None:
    """Show the plain counts: up-and-downs, sand saves, greens hit, proximity, putts."""
    from sgzone.questions import counts as count

    with ask.store() as store:
        check_selection(store, ask.selection)
        table = count(store, ask.selection, ask.level)
        chart.draw(store, ask.selection, lambda pictures: pictures.proximity())
    emit(table, ask.fmt, "counts", ask.say, title=f"Plain counts, intervals {ask.level:.0%}")


def _of_season(ask: Ask, chart: Chart, columns: list[str], measuring: bool) -> pd.DataFrame:
    from sgzone.benchmarks.saved import in_store
    from sgzone.questions import summarise
    from sgzone.review.where.counts import hole_endings
    from sgzone.scoring import scored

    with ask.store() as store:
        check_selection(store, ask.selection)
        curve = in_store(store, ask.benchmark)
        table = summarise(store, curve, ask.selection, columns, ask.level)
        chart.draw(
            store,
            ask.selection,
            lambda pictures: (pictures.parts if "part" in columns else pictures.cells)(table),
        )
        endings = hole_endings(store, ask.selection)
        if measuring:
            table = _measured(store, ask, columns, table)
        if ask.fmt == "table":
            table = _marked(table, curve, lambda: scored(store, curve, ask.selection))
    _say_endings(endings)
    return table


def _of_files(ask: Ask, columns: list[str], measuring: bool, source: str) -> pd.DataFrame:
    """Return the same table of strokes in Parquet files; what needs a season file is said."""
    from sgzone.questions import summarise
    from sgzone.scoring.flat import gained_reader
    from sgzone.season.flat import FlatStrokes

    def rows() -> pd.DataFrame:
        found: pd.DataFrame = gained_reader(strokes, curve, ask.selection).read_pandas()
        return found.assign(distance_ft=found["distance_yd"] * FT_PER_YD)

    curve = curve_of(ask)
    with FlatStrokes(stroke_files(source)) as strokes:
        table = summarise(strokes, curve, ask.selection, columns, ask.level)
        if ask.fmt == "table":
            table = _marked(table, curve, rows)
    if table.empty:
        say(f"No strokes in {named(source)} for this selection.")
    if measuring:
        say(
            "Verdicts are not rerun under measuring errors, nor unfinished holes counted, without "
            "a season file."
        )
    return table


def _marked(
    table: pd.DataFrame, curve: Benchmark, rows: Callable[[], pd.DataFrame]
) -> pd.DataFrame:
    """Return the table with what its benchmark values rest on, where that is not published."""
    from sgzone.review.where.measuring import MOST_STROKES
    from sgzone.review.where.proximity import PUBLISHED, with_basis

    keys = [str(name) for name in table.columns[: table.columns.get_loc("shots")]]
    if table.empty or table["shots"].sum() > 2 * MOST_STROKES:
        return table
    strokes = rows()
    if not set(keys) <= set(strokes.columns):
        return table
    marked = with_basis(table, strokes, curve, keys)
    other = marked["basis"].where(marked["basis"] != PUBLISHED, "")
    return marked.assign(basis=other) if (other != "").any() else table


def _measured(store: Store, ask: Ask, by: list[str], table: pd.DataFrame) -> pd.DataFrame:
    """Return the table with whether each verdict survives measuring; say what was noticed."""
    from sgzone.review.where.measuring import MOST_STROKES, check_measuring

    # A total beside cells counts every stroke a second time.
    twice = "total" in by and not {"total", "player"}.issuperset(by)
    strokes = int(table["shots"].sum()) // (1 + twice)
    if strokes > MOST_STROKES:
        say(
            f"{strokes} strokes: verdicts were not rerun under measuring errors (up to "
            f"{MOST_STROKES}); choose a player or dates."
        )
        return table
    found = check_measuring(store, table, ask.benchmark, ask.selection, by)
    _say_measuring(found)
    return table.assign(measuring=found.words)


def _say_measuring(found: Measuring) -> None:
    for row in found.heaping[found.heaping["heaped"]].itertuples():
        say(
            f"Distances {row.place}: {row.share:.0%} of {row.n} whole {row.unit} end in 0 or 5, "
            f"where {row.expected:.0%} would: they look guessed."
        )
    if found.disagree:
        say(
            f"{found.disagree} of {found.checked} strokes with depth and side put the ball "
            "elsewhere than the next row does; sgzone check lists them."
        )


def _say_endings(endings: dict[str, int]) -> None:
    holes = sum(endings.values())
    said = {
        "picked_up": "picked up: bad holes go missing that way",
        "conceded": "conceded: scored to where the ball lay, the given putt is no stroke",
    }
    for ending, words in said.items():
        if endings[ending]:
            say(f"{endings[ending]} of {holes} holes {words}.")
