"""The verb that makes a benchmark of the loaded strokes."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError, DataError
from sgzone.harmless import csv_text, named
from sgzone.verbs.options import (
    chosen,
    day_options,
    db_option,
    say_not_claimed,
    table_options,
)
from sgzone.verbs.person import completing
from sgzone.verbs.show import emit, say
from sgzone.words.digits import count

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.benchmarks import Benchmark
    from sgzone.season.store import Store
    from sgzone.writing import Output

LEVEL = 0.90


@click.command()
@click.option("--name", required=True, help="What to call the benchmark, such as squad-2026.")
@click.option(
    "--from",
    "base",
    default="tour",
    shell_complete=completing.benchmarks,
    show_default=True,
    help="The standard to start from: few strokes lean on it, such as --from amateur-90.",
)
@click.option(
    "--player",
    "players",
    multiple=True,
    shell_complete=completing.players,
    help="Only this player's strokes; may be given several times.",
)
@day_options
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where to write the curve as a CSV, such as --out squad.csv  [default: NAME.csv]",
)
@click.option(
    "--replace", is_flag=True, help="Write over the fitted curve of the same name, and its CSV."
)
@db_option
@table_options
def fit(
    name: str,
    base: str,
    players: tuple[str, ...],
    out: Path | None,
    replace: bool,
    db: Path,
    fmt: str,
    **choice: Any,
) -> None:
    """Fit a standard of your own to the loaded strokes.

    It is saved in the season file, so its name goes wherever a benchmark's name goes.
    """
    from sgzone.benchmarks.fit import fit_benchmark
    from sgzone.benchmarks.outcomes import outcomes
    from sgzone.benchmarks.saved import check_name, curve_output, save
    from sgzone.season.store import open_store

    check_name(name)
    file = out or Path(f"{name}.csv")
    output = curve_output(file, db, base).check()
    if os.path.lexists(file) and not replace:
        raise CallError(f"{named(file)} exists already; add --replace, or name another with --out.")
    if not file.parent.is_dir():
        folder = named(file.parent)
        raise CallError(f"--out {named(file)}: there is no folder {folder}; nothing was saved.")
    days = chosen(None, **choice)
    with open_store(db, create=False) as store:
        start = _base(store, base, name)
        for player in players:
            store.refuse_unknown(player)
        rows = outcomes(store, start, days, players)
        if rows.empty:
            raise CallError("No stroke to fit a curve to in this selection; nothing was saved.")
        fitted = fit_benchmark(name, start, rows)
        save(store, fitted, base, rows, days, again=replace)
    _write(fitted, output)
    _say_made(fitted, rows, base, file)
    say_not_claimed(base)
    _show_calibration(rows, start, fmt)


def _base(store: Store, base: str, name: str) -> Benchmark:
    from sgzone.benchmarks.saved import in_store

    if base == name:
        raise CallError(
            f"--from {base}: a curve that starts from itself would count its strokes twice; start "
            "from a published level."
        )
    return in_store(store, base)


def _write(fitted: Benchmark, output: Output) -> None:
    from sgzone.benchmarks.saved import knot_table

    try:
        output.write(csv_text(knot_table(fitted)))
    except DataError as wrong:
        raise DataError(
            f"The benchmark is saved, its curve is not: {wrong} Give --out and --replace."
        ) from wrong


def _say_made(fitted: Benchmark, rows: pd.DataFrame, base: str, file: Path) -> None:
    from sgzone.words.benchmark import own_curve

    say(
        f"Saved {fitted.name}: {len(rows)} strokes of {rows['round_key'].nunique()} rounds by "
        f"{count(len(fitted.players), 'player')}, from {named(base)}; wrote {named(file)}."
    )
    if len(fitted.players) == 1:
        say(own_curve(fitted.players[0]))


def _show_calibration(rows: pd.DataFrame, base: Benchmark, fmt: str) -> None:
    from sgzone.benchmarks.calibration import CALIBRATION_COLUMNS, MIN_ROUNDS, calibrate
    from sgzone.words import benchmark as words

    if rows["round_key"].nunique() < MIN_ROUNDS:
        import pandas as pd

        say(words.too_few_to_try(MIN_ROUNDS))
        emit(pd.DataFrame(columns=CALIBRATION_COLUMNS), fmt, "calibration")
        return
    found = calibrate(rows, base, LEVEL)
    notes = words.calibration_notes(found, base.name)
    title = words.calibration_title(LEVEL)
    emit(found.table, fmt, "calibration", title=title, notes=notes)
    if fmt != "table":
        say(notes[0])
