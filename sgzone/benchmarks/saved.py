"""Fitted benchmarks kept in the season file, and how a name becomes a benchmark there."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import benchmark as named
from sgzone.benchmarks import files_of, name_of
from sgzone.benchmarks.model import Benchmark, assemble
from sgzone.benchmarks.own import CURVE, OWN_COLUMNS, STATUS
from sgzone.benchmarks.tables import FIT_COLUMNS
from sgzone.errors import CallError, did_you_mean
from sgzone.resources import sql
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import AUTO, BENCHMARK_NAMES, LIE, WOMEN_NAMES
from sgzone.writing import Output, Reads

if TYPE_CHECKING:
    from sgzone.season.parquet import ParquetStrokes

TABLES = ("fitted_curves", "fitted_knots", "fitted_players")
LIST_COLUMNS = ["benchmark", "base", "made_at", "players", "rounds", "strokes"]

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
_step = partial(sql, "benchmarks")


def may_be_saved(name: str) -> bool:
    """Return whether this can be the name of a fitted benchmark in a season file."""
    return bool(_NAME.fullmatch(name)) and name not in (AUTO, *BENCHMARK_NAMES, *WOMEN_NAMES)


def check_name(name: str) -> str:
    """Return the name of a new benchmark; ``CallError`` where it is no plain word or taken."""
    if not _NAME.fullmatch(name):
        raise CallError(
            f"{name!r} cannot name a benchmark: use 1 to 40 small letters, digits, - and _, such "
            "as squad-2026."
        )
    if name == AUTO:
        raise CallError(
            f"{AUTO} cannot name a benchmark: --benchmark {AUTO} is the standard nearest to a "
            "player's whole game. Choose another name, such as squad-2026."
        )
    if name in (*BENCHMARK_NAMES, *WOMEN_NAMES):
        raise CallError(f"{name!r} is a published level; choose another name, such as squad-2026.")
    return name


def save(
    store: Store,
    fitted: Benchmark,
    base: str,
    rows: pd.DataFrame,
    selection: Selection = EVERYTHING,
    *,
    again: bool = False,
) -> None:
    """Keep a fitted benchmark under its name, with what it was made of.

    ``rows``: the outcomes it was fitted to, chosen by the days and event of ``selection``;
    ``base``: the name of the curve it started from. ``again`` replaces one of the same name;
    else that is a ``CallError``.
    """
    name = check_name(fitted.name)
    if name in saved_names(store) and not again:
        raise CallError(
            f"The season file has a benchmark {name!r} already; add --replace to make it anew, or "
            "choose another name."
        )
    about = {
        "name": name,
        "base": base,
        "fringe_rule": bool(_derived(fitted)),
        "made_at": datetime.now(UTC).replace(tzinfo=None, microsecond=0),
        "since": selection.since,
        "until": selection.until,
        "event": selection.event,
        "rounds": int(rows["round_key"].nunique()),
        "strokes": len(rows),
    }
    knots = fitted.knots.reindex(columns=FIT_COLUMNS).reset_index(drop=True)
    knots = knots.assign(name=name, place=knots.index)
    players = pd.DataFrame({"name": name, "player": list(fitted.players)}, dtype=object)
    frames = (pd.DataFrame([about]), knots, players)
    with store.transaction():
        for table, frame in zip(TABLES, frames, strict=True):
            store.execute(_step("forget_fitted").replace("{table}", table), {"name": name})
            store.temp("fitted_rows", frame)
            store.execute(_step("keep_fitted").replace("{table}", table))


def knot_table(fitted: Benchmark) -> pd.DataFrame:
    """Return the knots of a fitted benchmark as the CSV that any user can load.

    Columns lie, distance, unit, strokes, source, status, n, low, high. A lie that is worked out
    from others (the fringe) is written out at their distances, for a CSV has no such rule.
    """
    knots = fitted.knots[[*OWN_COLUMNS, STATUS, "n", "low", "high"]]
    made = [_written_out(fitted, lie) for lie in _derived(fitted)]
    return pd.concat([knots, *made], ignore_index=True)


def _derived(fitted: Benchmark) -> list[str]:
    """Return the lies whose curve is worked out from others."""
    with_knots = set(fitted.knots["lie"])
    return [lie for lie in fitted.lies if lie not in with_knots]


def _written_out(fitted: Benchmark, lie: str) -> pd.DataFrame:
    curve = fitted.curves[lie]
    feet = curve.breaks[1:-1]
    return pd.DataFrame(
        {
            "lie": lie,
            "distance": feet,
            "unit": "ft",
            "strokes": curve(feet),
            "source": f"{fitted.name}: mean of {' and '.join(LIE[lie].mean_of)}",
            "status": fitted.status(lie, feet),
            "n": 0,
        }
    )


def curve_output(path: Path, season: Path | None = None, base: str = "") -> Output:
    """Return where a fitted curve goes: over nothing, or over another curve.

    Not over the season file it is fitted in, nor over its base where that is a file.
    """
    return Output(path, CURVE, Reads(season, files_of(base)), "The curve")


def saved_names(store: Store) -> list[str]:
    """Return the names of the fitted benchmarks in the season file that can be asked for.

    A name taken since it was saved means something else now.
    """
    return [str(name) for name in saved_list(store)["benchmark"] if may_be_saved(str(name))]


def saved_list(store: Store) -> pd.DataFrame:
    """Return the fitted benchmarks with ``LIST_COLUMNS``; ``players``: how many made it."""
    return store.frame(_step("fitted_list"))


def strokes_of(store: Store, name: str) -> tuple[str, Selection, list[str]]:
    """Return a saved benchmark's base, the days and event it was fitted to, and its players.

    Raises ``CallError`` where no benchmark of that name is saved.
    """
    bound = {"name": name}
    about = store.frame(_step("fitted_about"), bound).drop(columns="fringe_rule")
    if about.empty:
        there = ", ".join(saved_names(store)) or "none yet"
        raise CallError(f"No fitted benchmark {name!r} in the season file (there: {there}).")
    base, since, until, event = about.astype(object).where(about.notna(), None).iloc[0]
    days = [None if day is None else pd.Timestamp(day).date() for day in (since, until)]
    players = store.frame(_step("fitted_players"), bound)
    return str(base), Selection(None, days[0], days[1], event), players["player"].tolist()


def in_store(store: Store, benchmark: str | Path | Benchmark) -> Benchmark:
    """Return a benchmark by any name: published, fitted and saved in the file, or a CSV's path.

    A ``Benchmark`` is returned as it is. Raises ``CallError`` for a name that is none of these,
    ``DataError`` with every problem of a CSV.
    """
    if isinstance(benchmark, Benchmark):
        return benchmark
    name = name_of(benchmark)
    if not may_be_saved(name):
        return named(name)
    bound = {"name": name}
    about = store.frame(_step("fitted_about"), bound)
    if about.empty:
        return _named_or_told(store, name)
    knots = store.frame(_step("fitted_knots"), bound)
    players = store.frame(_step("fitted_players"), bound)["player"]
    rule = bool(about["fringe_rule"].iloc[0])
    made = assemble(name, knots[FIT_COLUMNS], derive=rule)
    return replace(made, players=tuple(sorted(players)))


def find(benchmark: str | Path | Benchmark, db: str | Path | None = None) -> Benchmark:
    """Return a benchmark where no season file is open; ``db``: one to look a fitted one up in.

    Errors as ``in_store``; ``DataError`` too where ``db`` is needed and is no season file.
    """
    if isinstance(benchmark, Benchmark):
        return benchmark
    name = name_of(benchmark)
    if name == AUTO:
        return named(name)
    if db is not None and may_be_saved(name):
        with open_store(db, read_only=True) as store:
            return in_store(store, name)
    try:
        return named(benchmark)
    except CallError as wrong:
        raise CallError(
            f"{wrong} A fitted one is kept in a season file: name it with --db, or give its CSV."
        ) from wrong


def for_costs(
    store: Store, benchmark: str | Path | Benchmark, selection: Selection = EVERYTHING
) -> Benchmark:
    """Return the benchmark for a question of what costs strokes.

    Errors as ``in_store``; ``CallError`` too where the curve is the selected player's own: against
    that a player gains 0 on average, whatever the game costs.
    """
    chosen = in_store(store, benchmark)
    refuse_own(store, chosen, selection)
    return chosen


def refuse_own(store: Store | ParquetStrokes, chosen: Benchmark, selection: Selection) -> None:
    """Raise ``CallError`` where the curve is the selected player's own: see ``for_costs``."""
    if len(chosen.players) != 1:
        return
    asked = [selection.player] if selection.player else store.players()
    if asked == list(chosen.players):
        raise CallError(
            f"{chosen.name} was fitted to {asked[0]}'s own strokes, so against it nothing seems "
            "to cost strokes. Use it for better or worse than your normal: gained, trend, "
            "compare. For what costs you, name a published benchmark or one of several players."
        )


def _named_or_told(store: Store, name: str) -> Benchmark:
    try:
        return named(name)
    except CallError as wrong:
        there = saved_names(store)
        if not there:
            raise
        raise CallError(
            f"{wrong} Fitted and saved in this season file: {', '.join(there)}."
            f"{did_you_mean(name, there)}"
        ) from wrong
