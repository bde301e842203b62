"""The verbs that bring files in: template, map, check, load."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.cards.given import Given
from sgzone.errors import DataError, Problem, number_of
from sgzone.harmless import named
from sgzone.inputs import file_name
from sgzone.verbs.given import given_options, refuse_unread, sheet_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import (
    db_option,
    format_option,
)
from sgzone.verbs.progress import working
from sgzone.verbs.season.folders import Found, found_in
from sgzone.verbs.show import emit, problem_table, say, tell
from sgzone.verbs.streams import takes_standard_input
from sgzone.words.cards.closing import closing
from sgzone.words.cards.echo import card_in_words
from sgzone.words.digits import count
from sgzone.words.say import METRIC, YARDS, Say

if TYPE_CHECKING:
    from sgzone.season.reading import Checked
    from sgzone.season.store import Store

MOST_READ_BACK = 3  # files that are no text cards

FILES = click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE_OR_FOLDER..."
)


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--all", "every", is_flag=True, help="All columns, not only the usual ones, for .csv and .xlsx."
)
@click.option(
    "--paper",
    type=click.Choice(("a4", "letter")),
    default="a4",
    show_default=True,
    help="The paper of a .pdf.",
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
@takes_standard_input
@given_options
@format_option
def check(files: Sequence[Path], given: Given, fmt: str) -> None:
    """Check cards: every problem, what they hold; writes nothing."""
    from sgzone.season.reading import problem_frame

    found = found_in(files)
    refuse_unread(found, given)
    seen = {file: _looked_over(file, found, given) for file in found.files}
    problems = [
        problem
        for file, one in seen.items()
        for problem in _with_path(one.problems, file, found.files)
    ]
    if fmt != "table":
        emit(problem_frame(problems), fmt, "problems")
    elif problems:
        problem_table(problems)
    say(*found.passed)
    errors = [problem for problem in problems if problem.severity == "error"]
    if errors:
        number = count(number_of(errors), "error")
        faulty = ", ".join(sorted({named(problem.file) for problem in errors}))
        raise DataError(f"{number} in {faulty}; such a file is not loaded")
    if fmt == "table":
        _read_back(seen)
    say(*closing((_shown(file, found.files), one.contents) for file, one in seen.items()))


def _looked_over(file: Path, found: Found, given: Given) -> Checked:
    from sgzone.season.reading import look_over, where_it_acts

    with working(f"Checking {file_name(file)}"):
        own = where_it_acts(file, given) if file in found.inside else given
        return look_over(file, own, every_hole=_is_text(file))


def _is_text(file: Path) -> bool:
    from sgzone.cards.text.file import TEXT_ENDINGS

    return file.suffix.lower() in TEXT_ENDINGS


def _read_back(seen: Mapping[Path, Checked]) -> None:
    """Print valid cards in words, in metres where they are: a typed slip is heard, not seen.

    Of a text card every hole, for no spreadsheet shows it; of others the first, and of many
    files none: those are text cards each.
    """
    for file, one in seen.items():
        if one.holes and (len(seen) <= MOST_READ_BACK or _is_text(file)):
            tell(*card_in_words(one.holes, Say(METRIC if one.metres else YARDS)))


def _shown(file: Path, files: Sequence[Path]) -> str:
    return str(file) if _share_name(file, files) else file_name(file)


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
    help="Take the file's rounds, days, blocks and bag over those loaded before.",
)
@takes_standard_input
@given_options
@db_option
def load(files: Sequence[Path], replace: bool, given: Given, db: Path) -> None:
    """Check files and load them, each whole or not at all."""
    from sgzone.season.store import open_store

    found = found_in(files)
    refuse_unread(found, given)
    said: list[str] = []
    loaded = 0
    with open_store(db) as store:
        try:
            for file in found.files:
                loaded += _load_one(store, file, found, given, replace=replace, said=said)
        finally:
            if not loaded:  # nobody asked for an empty season file
                store.discard()
            one_refused = len(found.files) == 1 and not loaded  # the error says it, once
            say(*found.passed, *(() if one_refused else said))
    if one_refused:
        raise DataError(said[-1])
    if failed := len(found.files) - loaded:
        raise DataError(f"{failed} of {count(len(found.files), 'file')} not loaded")


def _load_one(
    store: Store, file: Path, found: Found, given: Given, *, replace: bool, said: list[str]
) -> bool:
    """Load one file and add a line about it to ``said``; return whether it is in place now."""
    from sgzone.season.reading import where_it_acts

    name = f"{named(file)}: " if _share_name(file, found.files) else ""
    try:
        with working(f"Loading {file_name(file)}"):
            own = where_it_acts(file, given) if file in found.inside else given
            report = store.load(file, replace=replace, **own.typed())
    except DataError as wrong:
        _tell(_with_path(wrong.problems, file, found.files))
        said.append(f"{name}{wrong.beside}")
        return False
    if report.rows:
        _tell(_with_path(report.notes, file, found.files))
    said.append(f"{name}{report.sentence}")
    return True


def _tell(problems: Sequence[Problem]) -> None:
    if problems:
        problem_table(problems, err=True)
