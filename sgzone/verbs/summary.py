"""The verbs `summary` (where strokes go, how sure) and `counts` (the plain ones)."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

import click

from sgzone.harmless import named
from sgzone.review.where.keys import columns_of
from sgzone.units import FT_PER_YD
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.nearest import Game, against, put_together
from sgzone.verbs.options import Ask, reading_options, reading_options_but
from sgzone.verbs.parquet import curve_of, source_option, stroke_files
from sgzone.verbs.person.settings import everybody_option
from sgzone.verbs.season.only import ONLY, only_of, only_options
from sgzone.verbs.show import asked_of_tables, emit, say
from sgzone.words.say import Say

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark
    from sgzone.report.pictures import Drawn, Pictures
    from sgzone.scoring.only import Only
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store


_DRAWN = ({"part"}, {"band", "lie"})
"""What a summary is by where it has a chart; a row of everything changes nothing."""


@click.command()
@reading_options
@everybody_option
@chart_option()
@click.option(
    "--by",
    default="part,total",
    show_default=True,
    metavar="COL,...",
    help="Group by columns, such as --by part,lie or --by club; total adds a last row. Also band, "
    "swing, course, event, month, measured and more.",
)
@click.option(
    "--measuring/--no-measuring",
    default=True,
    show_default=True,
    help="Show which verdicts change if distances are off.",
)
@click.option(
    "--plays-like",
    is_flag=True,
    help="Show the standard each part plays to, as a range of average scores.",
)
@only_options
@source_option
def summary(
    ask: Ask,
    chart: Chart,
    by: str,
    measuring: bool,
    plays_like: bool,
    source: str | None,
    lie: str | None,
    club: str | None,
    part: str | None,
) -> None:
    """Say where strokes are won and lost, and how sure that is."""
    from sgzone.words.rounds.strokes import daggers
    from sgzone.words.screen.only import only_line
    from sgzone.words.season import summary_lead
    from sgzone.words.where import ranges

    if plays_like:
        idle = ("by", "measuring", "benchmark", "source", "everybody", *ONLY)
        refuse_idle("--plays-like", idle)
        _standards(ask, chart)
        return
    columns = columns_of(by)
    if set(columns) - {"total"} not in _DRAWN:
        refuse_idle(f"--by {by}", ("chart",))
    notes: tuple[str, ...] = ()
    only = only_of(lie, club, part)
    if source is None:
        table, named_so, notes = _of_season(ask, chart, columns, measuring, only)
    else:
        refuse_idle("--in", ("chart", *ONLY))
        table, named_so = _of_files(ask, columns, measuring, source), ask.benchmark
        notes = ranges(table, ask.say)
    keys = [str(name) for name in table.columns[: table.columns.get_loc("shots")]]
    lead = (*only_line(only, ask.say), *summary_lead(table, keys, named_so, ask.say))
    if ask.fmt == "table":
        wide = asked_of_tables("wide", False)
        if len(keys) > 1 and not wide:  # they leave no room for it in 80 columns
            table = table.drop(columns="gained_per_round")
        table, marks = daggers(table, keys[-1], ask.say, wide=wide)
        notes = (*notes[:1], *marks, *notes[1:])
    emit(table, ask.fmt, "summary", ask.say, lead=lead, keys=keys, notes=notes)


def _standards(ask: Ask, chart: Chart) -> None:
    from sgzone.review.where.plays_like import plays_like
    from sgzone.words import plays_like as words

    with ask.one_player() as (store, selection):
        found = plays_like(store, selection, ask.level)
        chart.draw(store, selection, lambda pictures: pictures.standards(found))
    table = words.reasoned(found)
    if ask.fmt == "table":
        table = table.assign(part=table["part"].map(words.names(ask.say)))
    lead, notes = words.lead(found, ask.say), words.notes(found, ask.say)[:1]
    emit(table, ask.fmt, "plays_like", ask.say, lead=lead, notes=notes)


@click.command()
@reading_options_but("benchmark")
@everybody_option
@chart_option()
@only_options
def counts(ask: Ask, chart: Chart, lie: str | None, club: str | None, part: str | None) -> None:
    """Count up-and-downs, sand saves, greens hit, putts."""
    from sgzone.review.where.counts import counts as count
    from sgzone.words.counts import short_counts
    from sgzone.words.notes import noted
    from sgzone.words.screen.only import WHOLE_HOLES, only_line

    only = only_of(lie, club, part)
    if only.columns:
        refuse_idle(f"--{only.columns[0]}", ("chart",))
    with ask.everybody() as store:
        found = count(store, ask.selection, ask.level, only=only)
        table = noted(found, "counts", Say(level=ask.level))
        chart.draw(store, ask.selection, lambda pictures: pictures.proximity())
    notes: tuple[str, ...] = ()
    if only.columns and ask.fmt == "table":
        table, notes = table[table["n"] > 0], (WHOLE_HOLES,)
    first = short_counts(table, ask.say)
    emit(
        table,
        ask.fmt,
        "counts",
        ask.say,
        lead=(*only_line(only, ask.say), *(() if notes and table.empty else first)),
        notes=notes,
    )


def _of_season(
    ask: Ask, chart: Chart, columns: list[str], measuring: bool, only: Only
) -> tuple[pd.DataFrame, str, tuple[str, ...]]:
    """Return the table, what it is against, and what stands below it."""
    from sgzone.benchmarks.saved import in_store
    from sgzone.review.where.counts import hole_endings
    from sgzone.review.where.summary import summarise
    from sgzone.words.counts import holes_note
    from sgzone.words.notes import noted
    from sgzone.words.where import ranges

    with ask.everybody() as store:
        games, tables = ask.games(store), []
        if len(games) > 1:
            refuse_idle(f"--benchmark {ask.benchmark} for several players", ("chart",))
            columns = ["player", *columns]
        for selection, benchmark in games:
            curve = in_store(store, benchmark)
            table = summarise(store, curve, selection, columns, ask.level, only=only)
            table = noted(table, "summary", Say(level=ask.level))
            chart.draw(store, selection, _picture(table, columns))
            tables.append(_judged(store, curve, selection, ask, columns, measuring, table, only))
        endings = hole_endings(store, ask.selection)
        found = put_together(tables, games)
        notes = () if only.columns else _below(store, ask, games[0], found)
    if ask.fmt != "table":
        say(*holes_note(endings))
        return found, against(games), ()
    care = " ".join((*ranges(found, ask.say), *holes_note(endings)))
    return found, against(games), (*([care] if care else []), *notes)


def _picture(table: pd.DataFrame, columns: list[str]) -> Callable[[Pictures], Drawn]:
    return lambda pictures: (pictures.parts if "part" in columns else pictures.cells)(table)


def _judged(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    ask: Ask,
    columns: list[str],
    measuring: bool,
    table: pd.DataFrame,
    only: Only,
) -> pd.DataFrame:
    """Return the table with what its verdicts survive and what its values rest on."""
    from sgzone.scoring import scored

    @cache
    def strokes() -> pd.DataFrame:
        return only.of(scored(store, curve, selection))

    if measuring and table["shots"].any():
        table = _measured(store, curve, selection, columns, table, strokes)
    if ask.fmt == "table":
        table = _marked(table, curve, strokes)
    return table


def _below(store: Store, ask: Ask, game: Game, table: pd.DataFrame) -> tuple[str, ...]:
    """Return what stands below the table: what is sensitive, the nearest standard, what next."""
    from sgzone.review.where.nearest import beside
    from sgzone.words import plays_like as words
    from sgzone.words.where import NEXT, sensitive

    if ask.fmt != "table" or table.columns[:2].tolist() != ["part", "shots"]:
        return ()
    found = beside(store, table, game.benchmark, game.selection, ask.level)
    if found is None:
        return (*sensitive(table, ask.say), NEXT)
    return (
        *sensitive(table, ask.say),
        *words.beside(found, ask.say),
        words.next_beside(found),
    )


def _of_files(ask: Ask, columns: list[str], measuring: bool, source: str) -> pd.DataFrame:
    """Return the same table of strokes in Parquet files; what needs a season file is said."""
    from sgzone.review.where.summary import summarise
    from sgzone.scoring.parquet import gained_reader
    from sgzone.season.parquet import ParquetStrokes
    from sgzone.words.notes import noted
    from sgzone.words.where import WITHOUT_A_SEASON_FILE

    def rows() -> pd.DataFrame:
        found: pd.DataFrame = gained_reader(strokes, curve, ask.selection).read_pandas()
        return found.assign(distance_ft=found["distance_yd"] * FT_PER_YD)

    curve = curve_of(ask)
    with ParquetStrokes(stroke_files(source)) as strokes:
        table = summarise(strokes, curve, ask.selection, columns, ask.level)
        table = noted(table, "summary", Say(level=ask.level))
        if ask.fmt == "table":
            table = _marked(table, curve, rows)
    if table.empty:
        say(f"No strokes in {named(source)} for this selection.")
    if measuring:
        say(WITHOUT_A_SEASON_FILE)
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


def _measured(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    by: list[str],
    table: pd.DataFrame,
    rows: Callable[[], pd.DataFrame],
) -> pd.DataFrame:
    """Return the table with whether each verdict survives measuring; say what was noticed."""
    from sgzone.review.where.measuring import MOST_STROKES, check_measuring
    from sgzone.words.counts import disagreeing, heaped
    from sgzone.words.where import not_rerun

    # A total beside cells counts every stroke a second time.
    twice = "total" in by and not {"total", "player"}.issuperset(by)
    strokes = int(table["shots"].sum()) // (1 + twice)
    if strokes > MOST_STROKES:
        say(not_rerun(strokes))
        return table
    found = check_measuring(store, table, curve, selection, by, strokes=rows())
    say(*heaped(found.heaping), *disagreeing(found.disagree, found.checked))
    return table.assign(measuring=found.words)
