"""The verbs that put a season on paper: report and demo."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.errors import CallError
from sgzone.verbs.options import Ask, reading_options, the_player, warn_unknown_player
from sgzone.verbs.show import say
from sgzone.verbs.summary import summary

if TYPE_CHECKING:
    from sgzone.report.charts_proximity import Units

DEMO_FILES = ("season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv")
DEMO_DIR = Path("reports/demo")
DEMO_DB = "demo.duckdb"
DEMO_REPORT = "report.html"


@click.command()
@click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE..."
)
@reading_options
def report(ask: Ask, files: Sequence[Path]) -> None:
    """Write the report of one player's season: FILE ends in .html."""
    from sgzone.report.write import check_kind, write_report

    if ask.fmt != "table":
        raise CallError("A report has no --format; sgzone summary and the other verbs print data.")
    for file in files:
        check_kind(file)
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        warn_unknown_player(store, selection)
        units: Units = "metric" if ask.units == "metric" else "yards"
        write_report(files, store, ask.benchmark, selection, ask.level, units)
    for file in files:
        say(f"Wrote {file}.")


@click.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=DEMO_DIR,
    show_default=True,
    help="Where card, season file and report go.",
)
@click.pass_context
def demo(ctx: click.Context, out: Path) -> None:
    """Load a simulated season, print its summary, write its report."""
    from sgzone.resources import data_path
    from sgzone.season.store import open_store

    out.mkdir(parents=True, exist_ok=True)
    with open_store(out / DEMO_DB) as store:
        for name in DEMO_FILES:
            shutil.copyfile(data_path(f"demo/{name}"), out / name)
            say(store.load(out / name, replace=True).sentence)
    ctx.invoke(summary, db=out / DEMO_DB)
    ctx.invoke(report, files=(out / DEMO_REPORT,), db=out / DEMO_DB)
