"""What a question is asked of: a season file, open or by its name, or tables in memory."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import fields, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any, TypedDict

import numpy as np
import pandas as pd

from sgzone.cards.memory.frames import NAME, Frame, as_arrow, read_frame, says_who
from sgzone.cards.reader import BOOKS, READERS
from sgzone.errors import CallError, DataError, did_you_mean
from sgzone.inputs import refuse_no_name
from sgzone.season.loading import refuse
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store, open_store

Season = Store | Frame | Sequence[Frame] | str | Path
"""A season file, open or by its name; or a table of a card, with those of practice, tests, bag."""
Day = date | str | np.datetime64
"""A day; as a text 2026-05-14."""


class Rounds(TypedDict, total=False):
    """Which rounds are asked about, as the last arguments of every question say it."""

    player: str | None
    since: Day | None
    until: Day | None
    event: str | None


@contextmanager
def season_of(given: Season, player: str | None = None) -> Iterator[Store]:
    """Give the season that a question is asked of, open.

    A file is opened to be read and never made; tables in memory are checked and loaded as files
    are, into a season file in memory. ``player``: who played, in a table that does not say.
    Raises ``DataError`` where a file is missing or a table is wrong.
    """
    if isinstance(given, Store | ParquetStrokes):
        yield given
        return
    if isinstance(given, str | bytes | os.PathLike):
        refuse_no_name(given)
        _refuse_no_season(Path(os.fsdecode(given)))
        with open_store(given, read_only=True) as store:
            yield store
        return
    frames = list(given) if isinstance(given, list | tuple) else [given]
    with open_store() as store:
        for frame in frames:
            _load(store, frame, player)
        yield store


@contextmanager
def asking(
    given: Season,
    selection: Selection = EVERYTHING,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> Iterator[tuple[Store, Selection]]:
    """Give the season that is asked, open, and the rounds that are chosen of it, checked."""
    with season_of(given, player) as store:
        yield (
            store,
            chosen(store, selection, player=player, since=since, until=until, event=event),
        )


def _refuse_no_season(path: Path) -> None:
    """Raise ``DataError`` for a card in the place of a season file, and for what is not there."""
    if path.suffix.lower() in (*READERS, *BOOKS):
        raise DataError(
            f'{path} is a card, not a season file. Give sg.read_card("{path}"), or load it into a '
            "store first."
        )
    if path.name and not os.path.exists(path):  # noqa: PTH110  # False where a name is too long
        raise DataError(
            f'There is no season file {path}. Make one with sg.open_store("{path}").load(card), or '
            "name another file."
        )


def _load(store: Store, frame: Any, player: str | None) -> None:
    table = as_arrow(frame)
    who = None if says_who(table.column_names) else player
    if table.num_rows:
        store.load(table, player=who)  # what gives its batches once has given them
        return
    refuse(NAME, read_frame(table).problems)  # no rows are no fault, another header is


def chosen(
    store: Store,
    selection: Selection = EVERYTHING,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> Selection:
    """Return the rounds that are asked about, checked against what is there.

    Raises ``CallError`` for a player of nobody, for what is no day, for a slip of a known event,
    and where rounds are chosen twice.
    """
    if not isinstance(selection, Selection):
        raise CallError(
            f"selection={selection!r} is no Selection; write player=, since=, until= or event= "
            'instead, such as player="Ned Farrow".'
        )
    given = {"player": player, "since": a_day("since", since), "until": a_day("until", until)}
    named = {name: value for name, value in {**given, "event": event}.items() if value is not None}
    for name in named:
        if getattr(selection, name) is not None:
            raise CallError(f"{name} is given twice, in selection= and in {name}=; leave one out.")
    said = {field.name: getattr(selection, field.name) for field in fields(Selection)}
    found = Selection(**{**said, **named})  # checked once more: since and until may be of two hands
    if isinstance(store, Store):
        store.refuse_unknown(found.player)
        _refuse_slip(store, found.event)
    return found


def a_day(name: str, given: Day | None) -> date | None:
    """Return a day as it was given or written; ``CallError`` for what is none."""
    if given is None:
        return None
    found: object = given
    with suppress(TypeError, ValueError):
        if isinstance(given, str):
            found = date.fromisoformat(given)
        elif isinstance(given, datetime | np.datetime64):
            found = pd.Timestamp(given).date()
    if not isinstance(found, date) or found != found:
        raise CallError(f'{name}={given!r} is no day; write it as "2026-05-14".')
    return found


def _refuse_slip(store: Store, event: str | None) -> None:
    """Raise ``CallError`` for a word that is nearly an event of the file; others find no round."""
    there = [] if event is None else sorted(store.rounds()["event"].dropna().unique())
    if event is not None and event not in there and (meant := did_you_mean(event, there)):
        raise CallError(f'No round of event "{event}".{meant} There are: {", ".join(there)}.')


def of_each_player(
    store: Store, selection: Selection, ask: Callable[[Selection], pd.DataFrame]
) -> pd.DataFrame:
    """Return the answer to a question about one player; of several each their own, in one frame.

    The player is then the first column.
    """
    players = store.players() if selection.player is None else [selection.player]
    if len(players) < 2:
        return ask(selection)
    answers = {player: ask(replace(selection, player=player)) for player in players}
    for player, answer in answers.items():
        answer.insert(0, "player", player)
    return pd.concat(answers.values(), ignore_index=True)


def refuse_several(store: Store, selection: Selection, what: str) -> None:
    """Raise ``CallError`` where several players could be meant."""
    players = store.players() if selection.player is None else []
    if len(players) > 1:
        raise CallError(
            f"These rounds are of {len(players)} players ({', '.join(players)}) and {what} is "
            f'about one: choose one, such as player="{players[0]}".'
        )
