"""The verbs that bring files in: template, map, check, load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.cards.given import Given
from sgzone.errors import DataError, Problem, number_of
from sgzone.harmless import named
from sgzone.verbs.given import given_options, refuse_unread, sheet_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import (
    db_option,
    format_option,
)
from sgzone.verbs.progress import working
from sgzone.verbs.show import emit, problem_table, say, tell
from sgzone.words.cards.echo import card_in_words
from sgzone.words.digits import count
from sgzone.words.say import METRIC, YARDS, Say

if TYPE_CHECKING:
    from sgzone.season.store import Store

FILES = click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE..."
)


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--all", "every", is_flag=True, help="All columns, not only the usual ones (.csv, .xlsx)."
)
@click.option(
    "--paper",
    type=click.Choice(("a4", "letter")),
    default="a4",
    show_default=True,
    help="Of a .pdf.",
)
def template(file: Path, every: bool, paper: str) -> None:
    """Write an empty card: .txt, .csv or .xlsx to type into, .pdf to print."""
    if file.suffix.lower() == ".pdf":
        from sgzone.report.paper.stroke_card import write_stroke_cards

        refuse_idle("a card to print", ("every",))
        write_stroke_cards(file, paper)
        say(f"Wrote {named(file)}: print it at full size, cut it out, fold it print side out.")
        return
    from sgzone.cards.template import write_template

    text = file.suffix.lower() == ".txt"
    refuse_idle("a card to type into", ("paper", "every") if text else ("paper",))
    write_template(file, every=every)
    how = (
        "put your name over (example) and your strokes over its holes, a line a hole"
        if text
        else "write one row per stroke below the example hole"
    )
    say(f"Wrote {named(file)}: {how}.")


@click.command("map")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Write over the mapping that is there already.")
@sheet_option
def map_(file: Path, replace: bool, sheet: str | None) -> None:
    """Guess what another table's headers mean; write it beside it."""
    from sgzone.cards.mapping.raw import BOOKS
    from sgzone.cards.mapping.write import write_mapping
    from sgzone.words.cards.mapping import written

    if file.suffix.lower() not in BOOKS:
        refuse_idle("a file without sheets", ("sheet",))
    with working(f"Reading {file.name}"):
        target, draft = write_mapping(file, replace=replace, sheet=sheet)
    say(*written(file, target, draft))


map = map_  # noqa: A001 - the verb's name, by which the command line finds it


@click.command()
@FILES
@given_options
@format_option
def check(files: Sequence[Path], given: Given, fmt: str) -> None:
    """List every problem of the files, with the row of a spreadsheet; write nothing."""
    from sgzone.season.reading import find_problems, problem_frame

    refuse_unread(files, given)
    problems: list[Problem] = []
    for file in files:
        with working(f"Checking {file.name}"):
            problems += _with_path(find_problems(file, given), file, files)
    if fmt != "table":
        emit(problem_frame(problems), fmt, "problems")
    elif problems:
        problem_table(problems)
    errors = [problem for problem in problems if problem.severity == "error"]
    if errors:
        number = count(number_of(errors), "error")
        faulty = ", ".join(sorted({named(problem.file) for problem in errors}))
        raise DataError(f"{number} in {faulty}; such a file is not loaded")
    if fmt == "table":
        for file in files:
            _read_back(file, given)
    say(f"{count(len(files), 'file')} checked, no errors.")


def _read_back(file: Path, given: Given) -> None:
    """Print every hole of a valid text card in words, in metres where it is written in metres."""
    from sgzone.cards.reader import read_tables
    from sgzone.cards.text.file import TEXT_ENDINGS
    from sgzone.season.reading import read_card

    if file.suffix.lower() not in TEXT_ENDINGS:
        return
    [text] = read_tables(file, given)
    lengths = [cell for cell in text.table["distance"].to_pylist() if cell]
    metres = bool(lengths) and all(cell.endswith(" m") for cell in lengths)
    card = read_card(file, player=given.player, dates=given.dates)
    rows = [{str(name): v for name, v in row.items()} for row in card.to_dict("records")]
    tell(*card_in_words(rows, Say(METRIC if metres else YARDS)))


def _share_name(file: Path, files: Sequence[Path]) -> bool:
    return sum(other.name == file.name for other in files) > 1


def _with_path(problems: Sequence[Problem], file: Path, files: Sequence[Path]) -> Sequence[Problem]:
    """Return problems with the path as it was given where the name alone is that of two files."""
    if not _share_name(file, files):
        return problems
    return [changed(problem, file=str(file)) for problem in problems]


@click.command()
@FILES
@click.option(
    "--replace",
    is_flag=True,
    help="Replace the rounds, days, blocks and bag entries that are in the season file already.",
)
@given_options
@db_option
def load(files: Sequence[Path], replace: bool, given: Given, db: Path) -> None:
    """Check files and load them into the season file, each whole or not at all."""
    from sgzone.season.store import open_store

    refuse_unread(files, given)
    loaded = 0
    with open_store(db) as store:
        try:
            for file in files:
                loaded += _load_one(store, file, files, given, replace=replace)
        finally:
            if not loaded:  # nobody asked for an empty season file
                store.discard()
    if failed := len(files) - loaded:
        raise DataError(f"{failed} of {count(len(files), 'file')} not loaded")


def _load_one(
    store: Store, file: Path, files: Sequence[Path], given: Given, *, replace: bool
) -> bool:
    if _share_name(file, files):
        say(f"{named(file)}:")
    try:
        with working(f"Loading {file.name}"):
            report = store.load(file, replace=replace, **asdict(given))
    except DataError as wrong:
        _tell(_with_path(wrong.problems, file, files))
        say(str(wrong))
        return False
    if report.rows:
        _tell(_with_path(report.notes, file, files))
    say(report.sentence)
    return True


def _tell(problems: Sequence[Problem]) -> None:
    if problems:
        problem_table(problems, err=True)
