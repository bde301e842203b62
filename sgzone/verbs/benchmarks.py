"""The verbs that show expected strokes and the published figures behind them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.answers import columns_of
from sgzone.errors import CallError, did_you_mean
from sgzone.harmless import named
from sgzone.terms import (
    BENCHMARK_NAMES,
    KNOT_STATUSES,
    LIE,
    LIE_ALIASES,
    LIES,
    WOMEN_NAMES,
)
from sgzone.units import from_ft, split_distance, to_ft
from sgzone.verbs.idle import refuse_idle, typed
from sgzone.verbs.options import db_option, table_options
from sgzone.verbs.person import completing
from sgzone.verbs.show import emit, say
from sgzone.words.say import Say
from sgzone.writing import Reads

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark
    from sgzone.season.store import Store


PUBLISHED_NAMES = (*BENCHMARK_NAMES, *WOMEN_NAMES)


@click.command()
@click.argument("name", required=False, shell_complete=completing.benchmarks)
@click.option("--at", "place", help='One value, such as "fairway 100", "green 14" or "sand 12 m".')
@click.option(
    "--chart",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Draw a fitted curve with its band and its strokes: .html, .svg, .png or .json.",
)
@db_option
@table_options
def benchmarks(name: str | None, place: str | None, chart: Path | None, db: Path, fmt: str) -> None:
    """List the standards, print a curve, or read off a value.

    NAME is one of those listed, or the path of your own curve. That is a CSV with the columns lie,
    distance, unit, strokes, source. A bare distance is in feet on the green and in yards
    elsewhere.
    """
    reads = _check_chart(chart, db, name)
    if chart is None and name in PUBLISHED_NAMES:
        refuse_idle("a benchmark that is in no season file", ("db",))
        _show([name], [], place, fmt)
        return
    from sgzone.benchmarks.saved import in_store, saved_names

    with _season(db, name) as store:
        fitted = saved_names(store)
        if chart is not None:
            _draw(store, name, chart, reads)
        if name is None:
            others = [in_store(store, one) for one in fitted]
        else:
            others = [in_store(store, name)]
            if place is None and name in fitted:
                _show_fitted(store, others[0], fmt)
                return
    _show(PUBLISHED_NAMES if name is None else (), others, place, fmt)


def _show(published: Sequence[str], others: list[Benchmark], place: str | None, fmt: str) -> None:
    """Print the list of curves, the one that was named, or a value of each."""
    import pandas as pd

    from sgzone.benchmarks import at, benchmark, published_knots
    from sgzone.words.benchmark import READ_KNOTS, READ_SOURCES, not_claimed

    plain = not_claimed([*published, *(one.name for one in others)], Say())
    if place is not None:
        lie, feet, unit = _place(place)
        curves = [*map(benchmark, published), *others]
        rows = pd.concat([at(one, lie, feet, unit) for one in curves], ignore_index=True)
        emit(rows, fmt, "curve", notes=[*plain, READ_SOURCES])
        return
    knots = {name: published_knots(name) for name in published}
    knots |= {one.name: one.knots for one in others}
    if len(knots) == 1:
        [(name, table)] = knots.items()
        table = table.copy()
        table.insert(0, "benchmark", name)
        emit(table, fmt, "curve", notes=[*plain, READ_KNOTS, READ_SOURCES])
        return
    emit(_listing(knots), fmt, "benchmarks", notes=[*plain, READ_SOURCES])


def _season(db: Path, name: str | None) -> Store:
    """Open the season file for its fitted curves; a published level or a file needs none."""
    from sgzone.benchmarks.saved import may_be_saved
    from sgzone.season.store import open_store

    if name is not None and not may_be_saved(name):
        refuse_idle("a benchmark that is in no season file", ("db",))
        return open_store()
    if not db.exists() and not typed("db"):
        return open_store()
    return open_store(db, read_only=True, create=False)


def _show_fitted(store: Store, fitted: Benchmark, fmt: str) -> None:
    from sgzone.benchmarks.saved import in_store, strokes_of
    from sgzone.words.benchmark import READ_FITTED, fitted_title

    base, _, players = strokes_of(store, fitted.name)
    start = in_store(store, base)
    knots = fitted.knots.copy()
    feet = [to_ft(d, unit) for d, unit in zip(knots["distance"], knots["unit"], strict=True)]
    knots["base"] = start.expected(knots["lie"].to_numpy(object), feet)
    knots.insert(0, "benchmark", fitted.name)
    title = fitted_title(fitted.name, len(players), base)
    emit(knots, fmt, "fitted", title=title, notes=READ_FITTED)


def _check_chart(file: Path | None, db: Path, name: str | None) -> Reads:
    """Return what the call reads; raise before long work where no chart can be written there."""
    from sgzone.benchmarks import files_of

    reads = Reads(db, files_of(name))
    if file is not None:
        from sgzone.report.charts.file import chart_output

        chart_output(file, reads)
    return reads


def _draw(store: Store, name: str | None, file: Path, reads: Reads) -> None:
    from sgzone.benchmarks.outcomes import outcomes
    from sgzone.benchmarks.saved import in_store, strokes_of
    from sgzone.benchmarks.shown import curve_table, point_table
    from sgzone.report.charts.alone import alone
    from sgzone.report.charts.benchmark import benchmark_curves
    from sgzone.report.charts.file import write_chart
    from sgzone.words.benchmark import READ_CURVES, curves_title, fitted_to

    if name is None:
        raise CallError("--chart draws one fitted benchmark: name it.")
    base, selection, players = strokes_of(store, name)
    fitted, start = in_store(store, name), in_store(store, base)
    rows = outcomes(store, start, selection, players)
    chart = benchmark_curves(curve_table(fitted, start), point_table(rows), name, base)
    lines = (fitted_to(len(players), len(rows)), *READ_CURVES)
    write_chart(alone(chart, curves_title(name, base), lines), file, reads)
    say(f"Wrote {named(file)}.")


@click.command()
@table_options
def sources(fmt: str) -> None:
    """List every published figure in use and where it comes from."""
    from sgzone.benchmarks.sources import cited_figures
    from sgzone.words.benchmark import works

    figures = cited_figures()
    emit(figures, fmt, "figures", notes=works(figures))


def _listing(chosen: Mapping[str, pd.DataFrame]) -> pd.DataFrame:
    import pandas as pd

    rows = []
    for name, knots in chosen.items():
        keys = {key for joined in knots["source"] for key in joined.split("+")}
        counts = {status: int((knots["status"] == status).sum()) for status in KNOT_STATUSES}
        counts |= {"knots": len(knots)}
        rows.append({**counts, "benchmark": name, "sources": ", ".join(sorted(keys))})
    return pd.DataFrame(rows, columns=[column.name for column in columns_of("benchmarks")])


def _place(text: str) -> tuple[str, float, str]:
    """Return the lie, the distance in feet and the unit it was written in."""
    match = re.fullmatch(r"\s*([a-z][a-z -]*?)\s*([-+]?[\d.].*)", text.lower())
    if match is None:
        raise CallError(f'--at takes a lie and a distance, such as "fairway 100"; not {text!r}.')
    lie = LIE_ALIASES.get(match[1], match[1])
    if lie not in LIES:
        hint = did_you_mean(match[1], LIES)
        raise CallError(f"{match[1]!r} is not a lie.{hint} The lies are {', '.join(LIES)}.")
    try:
        value, written = split_distance(match[2])
    except ValueError as wrong:
        raise CallError(f"--at: {wrong}.") from wrong
    usual, limit = LIE[lie].bare_unit or "yd", LIE[lie].farthest_ft
    unit = written or usual
    feet = to_ft(value, unit)
    if not 0 < feet <= limit:
        most = f"{from_ft(limit, usual):g} {usual}"
        raise CallError(
            f"--at: a distance from {lie} is more than 0 and at most {most}; {value:g} {unit} is "
            "not."
        )
    return lie, feet, unit
