"""The verbs that bring files in: template, check, load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.errors import DataError, Problem, number_of
from sgzone.harmless import named
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import (
    db_option,
    format_option,
)
from sgzone.verbs.progress import working
from sgzone.verbs.show import emit, problem_table, say
from sgzone.words.digits import count

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
    """Write an empty card to type into or to print."""
    if file.suffix.lower() == ".pdf":
        from sgzone.report.paper.stroke_card import write_stroke_cards

        refuse_idle("a card to print", ("every",))
        write_stroke_cards(file, paper)
        say(f"Wrote {named(file)}: print it at full size, cut it out, fold it print side out.")
        return
    from sgzone.cards.template import write_template

    refuse_idle("a card to type into", ("paper",))
    write_template(file, every=every)
    say(f"Wrote {named(file)}: write one row per stroke below the example hole.")


@click.command()
@FILES
@format_option
def check(files: Sequence[Path], fmt: str) -> None:
    """Check cards: every problem and its row; writes nothing."""
    from sgzone.season.reading import find_problems, problem_frame

    problems: list[Problem] = []
    for file in files:
        with working(f"Checking {file.name}"):
            problems += _as_given(find_problems(file), file, files)
    if fmt != "table":
        emit(problem_frame(problems), fmt, "problems")
    elif problems:
        problem_table(problems)
    errors = [problem for problem in problems if problem.severity == "error"]
    if errors:
        number = count(number_of(errors), "error")
        faulty = ", ".join(sorted({named(problem.file) for problem in errors}))
        raise DataError(f"{number} in {faulty}; such a file is not loaded")
    say(f"{count(len(files), 'file')} checked, no errors.")


def _share_name(file: Path, files: Sequence[Path]) -> bool:
    return sum(other.name == file.name for other in files) > 1


def _as_given(problems: Sequence[Problem], file: Path, files: Sequence[Path]) -> Sequence[Problem]:
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
@db_option
def load(files: Sequence[Path], replace: bool, db: Path) -> None:
    """Check files and load them, each whole or not at all."""
    from sgzone.season.store import open_store

    loaded = 0
    with open_store(db) as store:
        try:
            for file in files:
                loaded += _load_one(store, file, files, replace=replace)
        finally:
            if not loaded:  # nobody asked for an empty season file
                store.discard()
    if failed := len(files) - loaded:
        raise DataError(f"{failed} of {count(len(files), 'file')} not loaded")


def _load_one(store: Store, file: Path, files: Sequence[Path], *, replace: bool) -> bool:
    if _share_name(file, files):
        say(f"{named(file)}:")
    try:
        with working(f"Loading {file.name}"):
            report = store.load(file, replace=replace)
    except DataError as wrong:
        _tell(_as_given(wrong.problems, file, files))
        say(str(wrong))
        return False
    if report.rows:
        _tell(_as_given(report.notes, file, files))
    say(report.sentence)
    return True


def _tell(problems: Sequence[Problem]) -> None:
    if problems:
        problem_table(problems, err=True)
