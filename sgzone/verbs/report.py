"""The verbs that put a season on paper: report and demo."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError
from sgzone.verbs.options import Ask, check_selection, number, reading_options, the_player
from sgzone.verbs.show import say
from sgzone.verbs.summary import summary

if TYPE_CHECKING:
    from sgzone.report.charts_proximity import Units

DEMO_FILES = ("season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv")
DEMO_DIR = Path("reports/demo")
DEMO_DB = "demo.duckdb"
DEMO_REPORTS = ("report.html", "report.pdf")
REPORTS = ("season", "block", "team")
PAPERS = ("a4", "us-letter")


@click.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path), metavar="[FILE]...")
@click.option(
    "--kind",
    type=click.Choice(REPORTS),
    default="season",
    show_default=True,
    help="block: the last weeks (--since, or six), the practice plan first; team: all players.",
)
@click.option(
    "--against",
    metavar="NAME|SINCE..UNTIL",
    help="Set a second benchmark, or other days such as 2025-04-01..2025-10-31, beside it.",
)
@click.option("--names", is_flag=True, help="With --kind team: full names instead of initials.")
@click.option(
    "--hours", type=number("hours"), help="Hours a week to plan for; without: as in the log."
)
@click.option(
    "--weeks", type=number("weeks"), default=6, show_default=True, help="Weeks of the plan."
)
@click.option(
    "--paper", type=click.Choice(PAPERS), default="a4", show_default=True, help="Of a .pdf."
)
@click.option(
    "--export",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write every table (csv, Parquet) and chart (SVG, PNG, Vega-Lite) into DIR.",
)
@click.option("--with-notes", is_flag=True, help="With --export: the notes of the card too.")
@reading_options
def report(ask: Ask, files: Sequence[Path], **given: Any) -> None:
    """Write a report for player and coach: each FILE ends in .html or .pdf."""
    from sgzone.report.write import check_kind, write_report

    if ask.fmt != "table":
        raise CallError("A report has no --format; sgzone summary and the other verbs print data.")
    if not files and given["export"] is None:
        raise CallError("A report needs a FILE ending in .html or .pdf, or --export DIR.")
    if given["with_notes"] and given["export"] is None:
        raise CallError("--with-notes is for --export; no report holds the card's notes.")
    for file in files:
        check_kind(file)
    with ask.store() as store:
        team = given["kind"] == "team"
        selection = ask.selection if team else the_player(store, ask.selection)
        check_selection(store, selection)
        units: Units = "metric" if ask.units == "metric" else "yards"
        made = write_report(files, store, ask.benchmark, selection, ask.level, units, **given)
    for file in files:
        say(f"Wrote {file}.")
        _warn_large(file, team=team)
    if given["export"] is not None:
        say(
            f"Wrote {len(made) - len(files)} files into {given['export']}; contents.csv lists them."
        )


def _warn_large(file: Path, *, team: bool) -> None:
    """Say what to do about a page that is too large for a mail."""
    from sgzone.report.html import MOST_BYTES

    size = file.stat().st_size
    if file.suffix.lower() == ".html" and size > MOST_BYTES:
        fewer = "a season file (--db) for each group of players" if team else "fewer days (--since)"
        say(
            f"{file} has {size / 1e6:.1f} MB, over the {MOST_BYTES / 1e6:.1f} MB that mail and "
            f"phones take gladly. Nothing is missing in it. Smaller are: a .pdf, or {fewer}."
        )


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
    from sgzone.writing import unwritten

    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        raise unwritten(out, wrong, "The demo") from wrong
    with open_store(out / DEMO_DB) as store:
        for name in DEMO_FILES:
            _copy(data_path(f"demo/{name}"), out / name)
            say(store.load(out / name, replace=True).sentence)
    ctx.invoke(summary, db=out / DEMO_DB)
    ctx.invoke(report, files=[out / name for name in DEMO_REPORTS], db=out / DEMO_DB)


def _copy(source: Path, target: Path) -> None:
    from sgzone.writing import unwritten, write_whole

    try:
        write_whole(target, source.read_bytes())
    except OSError as wrong:
        raise unwritten(target, wrong, "The demo's card") from wrong
