"""The verbs that show expected strokes and the published figures behind them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from sgzone.errors import CallError
from sgzone.terms import BENCHMARK_NAMES, LIE_ALIASES, LIES, MAX_OFF_GREEN_FT, MAX_PUTT_FT
from sgzone.units import split_distance, to_ft
from sgzone.verbs.options import format_option
from sgzone.verbs.show import Column, emit

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark

LIST_COLUMNS = {
    "benchmark": Column("benchmark"),
    "knots": Column("knots", 0),
    "published": Column("published", 0),
    "derived": Column("derived", 0),
    "uncertain": Column("uncertain", 0),
    "sources": Column("sources"),
}
VALUE_COLUMNS = {
    "benchmark": Column("benchmark"),
    "lie": Column("lie"),
    "distance": Column("distance", 1),
    "unit": Column("unit"),
    "strokes": Column("expected strokes", 2),
    "status": Column("status"),
    "source": Column("source"),
}
FIGURE_COLUMNS = {
    "source": Column("source"),
    "population": Column("who"),
    "quantity": Column("what"),
    "condition": Column("where"),
    "value": Column("value"),
    "unit": Column("unit"),
    "status": Column("how checked"),
}

BETWEEN = "Between these points the curve is a monotone cubic; `--at` reads off one value."
SOURCES = "`sgzone sources` spells the sources out."


@click.command()
@click.argument("name", required=False)
@click.option("--at", "place", help='One value, such as "fairway 100", "green 14" or "sand 12 m".')
@format_option
def benchmarks(name: str | None, place: str | None, fmt: str) -> None:
    """List the benchmarks, print one curve with its sources, or read off one value.

    NAME is tour, scratch, amateur-80, amateur-90, amateur-100 or the path of your own curve: a
    CSV with the columns lie, distance, unit, strokes, source. A bare distance is in feet on the
    green and in yards elsewhere.
    """
    import pandas as pd

    from sgzone.benchmarks import at, benchmark

    chosen = [benchmark(one) for one in ([name] if name else BENCHMARK_NAMES)]
    if place is not None:
        lie, feet, unit = _place(place)
        rows = pd.concat([at(one, lie, feet, unit) for one in chosen], ignore_index=True)
        emit(rows, fmt, VALUE_COLUMNS, notes=[SOURCES])
    elif name:
        knots = chosen[0].knots.copy()
        knots.insert(0, "benchmark", chosen[0].name)
        emit(knots, fmt, VALUE_COLUMNS, notes=[BETWEEN, SOURCES])
    else:
        emit(_listing(chosen), fmt, LIST_COLUMNS, notes=[SOURCES])


@click.command()
@format_option
def sources(fmt: str) -> None:
    """List every published figure in use and where it comes from."""
    from sgzone.benchmarks.sources import cited_figures

    figures = cited_figures()
    works = figures.drop_duplicates("source")
    notes = [
        f"{work.source}: {work.authors} ({work.year}). {work.title} {work.where} [{work.studied}]"
        for work in works.itertuples()
    ]
    emit(figures, fmt, FIGURE_COLUMNS, notes=notes)


def _listing(chosen: list[Benchmark]) -> pd.DataFrame:
    import pandas as pd

    rows = []
    for one in chosen:
        keys = {key for joined in one.knots["source"] for key in joined.split("+")}
        counts = {status: int((one.knots["status"] == status).sum()) for status in LIST_COLUMNS}
        counts |= {"knots": len(one.knots)}
        rows.append({**counts, "benchmark": one.name, "sources": ", ".join(sorted(keys))})
    return pd.DataFrame(rows, columns=list(LIST_COLUMNS))


def _place(text: str) -> tuple[str, float, str]:
    """Return the lie, the distance in feet and the unit it was written in."""
    match = re.fullmatch(r"\s*([a-z][a-z -]*?)\s*([\d.+-].*)", text.lower())
    if match is None:
        raise CallError(f'--at takes a lie and a distance, such as "fairway 100"; not {text!r}.')
    lie = LIE_ALIASES.get(match[1], match[1])
    if lie not in LIES:
        raise CallError(f"{match[1]!r} is not a lie; the lies are {', '.join(LIES)}.")
    try:
        value, written = split_distance(match[2])
    except ValueError as wrong:
        raise CallError(f"--at: {wrong}.") from wrong
    unit = written or ("ft" if lie == "green" else "yd")
    feet, limit = to_ft(value, unit), MAX_PUTT_FT if lie == "green" else MAX_OFF_GREEN_FT
    if not 0 < feet <= limit:
        raise CallError(f"--at: a distance from {lie} is more than 0 and at most {limit:g} ft.")
    return lie, feet, unit
