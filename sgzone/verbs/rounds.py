"""The verbs that look after the season file: rounds, backup."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError
from sgzone.harmless import named
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import (
    check_selection,
    chosen,
    db_option,
    selection_options,
    table_options,
)
from sgzone.verbs.person import completing
from sgzone.verbs.person.settings import everybody_option
from sgzone.verbs.progress import working
from sgzone.verbs.season.deleting import agreed
from sgzone.verbs.show import OF_TABLES, emit, say, tell
from sgzone.words.cards.going import amounts
from sgzone.words.digits import count
from sgzone.words.rounds.listed import rounds_lead

if TYPE_CHECKING:
    from sgzone.season.store import Store


@click.command()
@click.option(
    "--rename",
    nargs=2,
    metavar="OLD NEW",
    help='Correct a player\'s name, such as --rename "Ned Farow" "Ned Farrow".',
)
@click.option(
    "--delete",
    nargs=3,
    metavar="PLAYER DATE ROUND",
    help='Delete one round: --delete "Ned Farrow" 2026-05-14 1. It asks first.',
)
@click.option(
    "--delete-player",
    metavar="NAME",
    shell_complete=completing.players,
    help='Delete all of a player: --delete-player "Ned Farrow". It asks first.',
)
@click.option("--yes", is_flag=True, help="Delete without asking, for scripts.")
@click.option(
    "--as-text",
    nargs=2,
    metavar="PLAYER DATE [ROUND]",
    help='Print one round as a text card: --as-text "Ned Farrow" 2026-05-14.',
)
@click.argument("number", metavar="[ROUND]", required=False)
@selection_options
@everybody_option
@db_option
@table_options
def rounds(
    rename: tuple[str, str] | None,
    delete: tuple[str, str, str] | None,
    delete_player: str | None,
    yes: bool,
    as_text: tuple[str, str] | None,
    number: str | None,
    db: Path,
    fmt: str,
    **choice: Any,
) -> None:
    """List rounds; rename a player, delete a round."""
    from sgzone.season.store import open_store

    corrections = [one for one in (rename, delete, delete_player) if one]
    if as_text:
        refuse_idle("--as-text", (*_CORRECTIONS, "yes", *choice, "everybody", "fmt", *OF_TABLES))
        _print_as_text(db, *as_text, int(BOUNDS["round"].read(number or "1")))
        return
    if number is not None:
        raise CallError(f'rounds takes no "{number}"; name a round behind --as-text or --delete.')
    if len(corrections) > 1:
        raise CallError("Renaming and deleting are corrections: give one at a time.")
    if not (delete or delete_player):
        refuse_idle("rounds unless it deletes", ("yes",))
    selection = chosen(**choice)
    with open_store(db, read_only=not corrections, create=False) as store:
        if rename:
            renamed = count(store.rename(*rename), "round")
            say(f'"{rename[0]}" is "{rename[1]}" now: {renamed} in all.')
        if delete and not _delete_round(store, *delete, yes=yes):
            return
        if delete_player and not _delete_player(store, delete_player, yes=yes):
            return
        if not corrections:  # a correction may have taken the very name that is asked for
            check_selection(store, selection)
        _warn_apart(store, db)
        if fmt != "table":
            emit(store.rounds(selection), fmt, "rounds")
            return
        found = store.listed(selection)
    lead = rounds_lead(found, named(db))
    if len(set(found["player"])) == 1:  # the name is said above
        del found["player"]
    emit(found, fmt, "rounds", lead=(lead,))


_CORRECTIONS = ("rename", "delete", "delete_player")


def _delete_round(store: Store, player: str, date: str, number: str, *, yes: bool) -> bool:
    """Delete a round, if that is agreed to; return whether it was."""
    which = int(BOUNDS["round"].read(number))
    whose = f"{named(player)} on {date}" + (f", round {which}" if which > 1 else "")
    if not agreed(store.held(player, date, which), whose, yes=yes):
        return False
    strokes = store.delete(player, date, which)
    say(f"Deleted the round: {count(strokes, 'stroke')}.")
    return True


def _delete_player(store: Store, player: str, *, yes: bool) -> bool:
    """Delete all of a player, if that is agreed to; return whether it was."""
    if not agreed(store.held(player), named(player), yes=yes):
        return False
    say(f"Deleted {named(player)}: {amounts(store.delete_player(player))}.")
    return True


def _print_as_text(db: Path, player: str, date: str, number: int) -> None:
    from sgzone.cards.text.writer import card_text
    from sgzone.season.store import open_store

    with open_store(db, read_only=True, create=False) as store:
        card = store.round(player, date, number)
    rows = [{str(name): v for name, v in row.items()} for row in card.to_dict("records")]
    tell(*card_text(rows).rstrip("\n").split("\n"))


def _warn_apart(store: Store, db: Path) -> None:
    """Say where another program changed lies or distances, for the strokes gained are then wrong.

    Asked where the file itself is looked at, not for every answer: it reads every stroke.
    """
    apart = store.strokes_apart()
    if apart:
        say(
            f"{count(apart, 'stroke')} in {named(db)} would be scored from another place than "
            "their lie and distance say: another program changed the file. Go back to a backup, or "
            "load the cards into a new file."
        )


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--strokes",
    is_flag=True,
    help="Write the strokes alone, as Parquet for `gained --in`. That is no backup.",
)
@db_option
def backup(file: Path, strokes: bool, db: Path) -> None:
    """Copy the season file, or its strokes as Parquet."""
    from sgzone.season.store import open_store

    if strokes and file.suffix != ".parquet":
        raise CallError(f"{named(file)}: name a file ending in .parquet for the strokes.")
    with open_store(db, read_only=True, create=False) as store:
        _warn_apart(store, db)
        if strokes:
            written = count(store.write_strokes(file), "row")
            say(f"Wrote {written} of {named(db)} to {named(file)}: strokes alone, no backup.")
            return
        with working(f"Copying {db.name}"):
            store.backup(file)
    say(f"Copied {named(db)} to {named(file)}.")
