"""The verbs that put a season on paper: report and demo."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import click

from sgzone.demo.listed import refuse_changed, write_listed
from sgzone.errors import CallError
from sgzone.harmless import named
from sgzone.resources import data_path
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import DAY, Ask, check_selection, number, reading_options_but, the_player
from sgzone.verbs.progress import working
from sgzone.verbs.show import say
from sgzone.verbs.summary import summary
from sgzone.writing import Reads, unwritten

DEMO_FILES = ("season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv")
DEMO_DIR = Path("reports/demo")
DEMO_DB = "demo.duckdb"
DEMO_REPORTS = ("report.html", "report.pdf")
REPORTS = ("season", "block", "round", "team")
REPORT_ENDINGS = (".html", ".pdf")
PAPERS = ("a4", "us-letter")


@click.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path), metavar="[FILE]...")
@click.option(
    "--kind",
    type=click.Choice(REPORTS),
    default="season",
    show_default=True,
    help="season; block: the last six weeks, plan first; round: one round; team: all players. "
    "Team: changes count from --since, or the last agreement.",
)
@click.option("--date", "day", type=DAY, help="Of --kind round: its day, such as 2026-05-14.")
@click.option(
    "--round",
    "which",
    type=number("round"),
    help="Of --kind round: which of that day, such as --round 2.",
)
@click.option(
    "--against",
    metavar="NAME|SINCE..UNTIL",
    help="Compare with a second benchmark, or days such as 2025-04-01..2025-10-31.",
)
@click.option(
    "--each",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="With --kind team: also a page for each player alone, such as --each players.",
)
@click.option("--names", is_flag=True, help="With --kind team: full names instead of initials.")
@click.option(
    "--hours",
    type=number("hours"),
    help="Hours a week to plan for, such as 5; if not given, as in the log.",
)
@click.option(
    "--weeks",
    type=number("weeks"),
    default=6,
    show_default=True,
    help="Weeks to plan for, such as 8.",
)
@click.option(
    "--paper",
    type=click.Choice(PAPERS),
    default="a4",
    show_default=True,
    help="The paper of a .pdf.",
)
@click.option(
    "--export",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write every table and chart as files into DIR, such as --export out/.",
)
@click.option(
    "--with-notes",
    is_flag=True,
    help="Add your notes on the card: to the page, of a team to --export alone.",
)
@reading_options_but("format")
def report(ask: Ask, files: Sequence[Path], **given: Any) -> None:
    """Write a report for player and coach (.html, .pdf)."""
    from sgzone.report.write import check_kind, report_outputs, write_report

    if not files and given["export"] is None and given["each"] is None:
        raise CallError("A report needs a FILE ending in .html or .pdf, or --export DIR.")
    one_round = given["kind"] == "round"
    if given["with_notes"] and given["export"] is None and given["kind"] == "team":
        raise CallError("--with-notes of a team is for --export; its page holds no notes.")
    if one_round:
        refuse_idle("--kind round", ("against", "names", "hours", "weeks", "level"))
    else:
        refuse_idle(f"--kind {given['kind']}", ("day", "which"))
    day = given.pop("day")
    given |= {"date": None if day is None else day.date(), "round": given.pop("which")}
    for file in files:
        check_kind(file)
    if not any(file.suffix.lower() == ".pdf" for file in files):
        refuse_idle("a report that is no .pdf", ("paper",))
    report_outputs(files, given["export"], Reads(ask.db))
    with ask.store() as store:
        team = given["kind"] == "team"
        selection = ask.of_all if team else the_player(store, ask.selection)
        # of a team the first day marks the meeting, and leaves no round out
        check_selection(store, replace(selection, since=None) if team else selection)
        made = write_report(files, store, ask.against, selection, ask.level, ask.units, **given)
    for file in files:
        say(f"Wrote {named(file)}.")
        _warn_large(file, team=team)
    own = [path for path in made[len(files) :] if path.suffix in REPORT_ENDINGS]
    if given["each"] is not None:
        many = f"{len(own)} file{'' if len(own) == 1 else 's'}"
        say(f"Wrote {many} into {named(given['each'])}, each for its own player alone.")
    if given["export"] is not None:
        folder, number = named(given["export"]), len(made) - len(files) - len(own)
        say(f"Wrote {number} files into {folder}; contents.csv lists them.")
    if team and ask.selection.since is not None:
        say("--since marks the meeting of a team; the grid covers all rounds. --until ends it.")


def _warn_large(file: Path, *, team: bool) -> None:
    """Say what to do about a page that is too large for a mail."""
    from sgzone.report.screen.html import MOST_BYTES

    size = file.stat().st_size
    if file.suffix.lower() == ".html" and size > MOST_BYTES:
        fewer = "a season file (--db) for each group of players" if team else "fewer days (--since)"
        say(
            f"{named(file)} has {size / 1e6:.1f} MB, over the {MOST_BYTES / 1e6:.1f} MB that mail "
            f"and phones take gladly. Nothing is missing in it. Smaller are: a .pdf, or {fewer}."
        )


@click.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=DEMO_DIR,
    show_default=True,
    help="Where card, season file and report go, such as --out /tmp/demo.",
)
@click.pass_context
def demo(ctx: click.Context, out: Path) -> None:
    """Try it: an invented season, its summary and its report."""
    cards = {name: data_path(f"demo/{name}").read_bytes() for name in DEMO_FILES}
    refuse_changed(out, [*cards, DEMO_DB, f"{DEMO_DB}.wal", *DEMO_REPORTS], cards)
    _refuse_open(out)
    write_listed(out, cards)
    with _beside(out) as made:
        write_listed(out, {DEMO_DB: _season_of(list(cards), out, made / DEMO_DB)}, [DEMO_DB])
        ctx.invoke(summary, db=out / DEMO_DB)
        write_listed(out, _reports_of(out / DEMO_DB, made))
    for name in DEMO_REPORTS:
        say(f"Wrote {out / name}.")


def _refuse_open(out: Path) -> None:
    """Raise ``DataError`` where another program has the demo's season file open."""
    from sgzone.season.store import open_store

    db = out / DEMO_DB
    if db.is_file() and db.stat().st_size:
        open_store(db, read_only=True).close()
        # one of an older schema was taken on: its digest is another now
        write_listed(out, {DEMO_DB: db.read_bytes()}, [DEMO_DB])


@contextmanager
def _beside(out: Path) -> Iterator[Path]:
    """Give a folder of our own on the same disk, gone at the end."""
    try:
        folder = TemporaryDirectory(prefix=".sgzone-", dir=out)
    except OSError as wrong:
        raise unwritten(out, wrong, "The demo") from wrong
    with folder as name:
        yield Path(name)


def _season_of(cards: Sequence[str], out: Path, db: Path) -> bytes:
    """Return a new season file of the demo's cards, told of as they are loaded."""
    from sgzone.season.store import open_store

    with open_store(db) as store:
        for name in cards:
            say(store.load(out / name).sentence)
    return db.read_bytes()


def _reports_of(db: Path, made: Path) -> dict[str, bytes]:
    from sgzone.report.write import write_report
    from sgzone.season.store import open_store

    with working(f"Reading {db.name}"), open_store(db, read_only=True) as store:
        files = write_report([made / name for name in DEMO_REPORTS], store)
    return {file.name: file.read_bytes() for file in files}
