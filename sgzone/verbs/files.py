"""The verbs that handle files: template, check, load, rounds, backup."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError, DataError, Problem, number_of
from sgzone.harmless import named
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import (
    check_selection,
    chosen,
    db_option,
    format_option,
    selection_options,
)
from sgzone.verbs.progress import working
from sgzone.verbs.show import emit, problem_table, say

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
    """Write an empty card: .csv or .xlsx to type into, .pdf to print."""
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
    """List every problem of the files, with the row of a spreadsheet; write nothing."""
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
        number = _count(number_of(errors), "error")
        faulty = ", ".join(sorted({named(problem.file) for problem in errors}))
        raise DataError(f"{number} in {faulty}; such a file is not loaded")
    say(f"{_count(len(files), 'file')} checked, no errors.")


def _share_name(file: Path, files: Sequence[Path]) -> bool:
    return sum(other.name == file.name for other in files) > 1


def _as_given(problems: Sequence[Problem], file: Path, files: Sequence[Path]) -> Sequence[Problem]:
    """Return problems with the path as it was given where the name alone is that of two files."""
    if not _share_name(file, files):
        return problems
    return [changed(problem, file=str(file)) for problem in problems]


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


@click.command()
@FILES
@click.option(
    "--replace",
    is_flag=True,
    help="Replace the rounds, days, blocks and bag entries that are in the season file already.",
)
@db_option
def load(files: Sequence[Path], replace: bool, db: Path) -> None:
    """Check files and load them into the season file, each whole or not at all."""
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
        raise DataError(f"{failed} of {_count(len(files), 'file')} not loaded")


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


@click.command()
@click.option("--rename", nargs=2, metavar="OLD NEW", help="Give a player another name.")
@click.option("--delete", nargs=3, metavar="PLAYER DATE ROUND", help="Delete one round.")
@selection_options
@db_option
@format_option
def rounds(
    rename: tuple[str, str] | None,
    delete: tuple[str, str, str] | None,
    db: Path,
    fmt: str,
    **choice: Any,
) -> None:
    """List the rounds in the season file; rename a player or delete a round."""
    from sgzone.season.store import open_store

    if rename and delete:
        raise CallError("--rename and --delete are two corrections: give one at a time.")
    selection = chosen(**choice)
    with open_store(db, read_only=not (rename or delete), create=False) as store:
        if rename:
            count = store.rename(*rename)
            say(f'"{rename[0]}" is "{rename[1]}" now: {_count(count, "round")} in all.')
        if delete:
            strokes = store.delete(delete[0], delete[1], int(BOUNDS["round"].read(delete[2])))
            say(f"Deleted the round: {_count(strokes, 'stroke')}.")
        if not (rename or delete):  # a correction may have taken the very name that is asked for
            check_selection(store, selection)
        _warn_apart(store, db)
        frame = store.rounds(selection)
    emit(frame, fmt, "rounds", title=f"{_count(len(frame), 'round')} in {named(db)}")


def _warn_apart(store: Store, db: Path) -> None:
    """Say where another program changed lies or distances, for the strokes gained are then wrong.

    Asked where the file itself is looked at, not for every answer: it reads every stroke.
    """
    apart = store.strokes_apart()
    if apart:
        say(
            f"{_count(apart, 'stroke')} in {named(db)} would be scored from another place than "
            "their lie and distance say: another program changed the file. Go back to a backup, or "
            "load the cards into a new file."
        )


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--strokes",
    is_flag=True,
    help="Write the strokes alone, as a Parquet file for `gained --in`; no copy to go back to.",
)
@db_option
def backup(file: Path, strokes: bool, db: Path) -> None:
    """Write a consistent copy of the season file, or its strokes as Parquet."""
    from sgzone.season.store import open_store

    if strokes and file.suffix != ".parquet":
        raise CallError(f"{named(file)}: name a file ending in .parquet for the strokes.")
    with open_store(db, read_only=True, create=False) as store:
        _warn_apart(store, db)
        if strokes:
            written = _count(store.write_strokes(file), "row")
            say(f"Wrote {written} of {named(db)} to {named(file)}: strokes alone, no backup.")
            return
        with working(f"Copying {db.name}"):
            store.backup(file)
    say(f"Copied {named(db)} to {named(file)}.")
