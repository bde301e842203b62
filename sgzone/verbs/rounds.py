"""The verbs that look after the season file: rounds, backup."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError
from sgzone.harmless import named
from sgzone.verbs.options import (
    check_selection,
    chosen,
    db_option,
    selection_options,
    table_options,
)
from sgzone.verbs.progress import working
from sgzone.verbs.show import emit, say
from sgzone.words.digits import count

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.store import Store


@click.command()
@click.option("--rename", nargs=2, metavar="OLD NEW", help="Give a player another name.")
@click.option("--delete", nargs=3, metavar="PLAYER DATE ROUND", help="Delete one round.")
@selection_options
@db_option
@table_options
def rounds(
    rename: tuple[str, str] | None,
    delete: tuple[str, str, str] | None,
    db: Path,
    fmt: str,
    **choice: Any,
) -> None:
    """List rounds; rename a player, delete a round."""
    from sgzone.season.store import open_store
    from sgzone.words.season import rounds_lead

    if rename and delete:
        raise CallError("--rename and --delete are two corrections: give one at a time.")
    selection = chosen(**choice)
    with open_store(db, read_only=not (rename or delete), create=False) as store:
        if rename:
            renamed = count(store.rename(*rename), "round")
            say(f'"{rename[0]}" is "{rename[1]}" now: {renamed} in all.')
        if delete:
            strokes = store.delete(delete[0], delete[1], int(BOUNDS["round"].read(delete[2])))
            say(f"Deleted the round: {count(strokes, 'stroke')}.")
        if not (rename or delete):  # a correction may have taken the very name that is asked for
            check_selection(store, selection)
        _warn_apart(store, db)
        frame = store.rounds(selection)
    emit(_short(frame, fmt), fmt, "rounds", lead=(rounds_lead(frame, named(db)),))


def _short(frame: pd.DataFrame, fmt: str) -> pd.DataFrame:
    """Return rounds to print: those of one player without the name, which is said above."""
    one = fmt == "table" and len(set(frame["player"])) == 1
    return frame.drop(columns="player") if one else frame


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
    help="Write the strokes alone, as a Parquet file for `gained --in`; no copy to go back to.",
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
