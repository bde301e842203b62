"""`--benchmark auto`: settled once, when the season file is open, for the whole of the call.

Verbs ask for names and hear of no ``auto``; what they print gets its column here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import click

from sgzone.season.selection import Selection
from sgzone.terms import AUTO

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.store import Store
    from sgzone.words.say import Say, Words

_SETTLED = "sgzone.nearest"
COLUMN = "benchmark"


class Game(NamedTuple):
    """Rounds and the benchmark they are held against, by name."""

    selection: Selection
    benchmark: str


def settle(store: Store, selection: Selection, how: Say) -> Words:
    """Find what ``auto`` is for one player, keep it for the call, and return it in words.

    Raises as ``review.where.nearest.nearest``.
    """
    from sgzone.review.where.nearest import nearest
    from sgzone.words import plays_like as words

    found = nearest(store, selection)
    click.get_current_context().meta[_SETTLED] = found.name
    return words.nearest(found, how)


def settled(name: str) -> str:
    """Return the benchmark of the call: of ``auto``, once it is settled, the standard it is."""
    if name != AUTO:
        return name
    found: str = click.get_current_context().meta.get(_SETTLED, name)
    return found


def each(store: Store, selection: Selection, how: Say) -> tuple[list[Game], Words]:
    """Return each player's rounds with what ``auto`` is for them, and that in words."""
    from sgzone.review.where.nearest import nearest_of_each
    from sgzone.words import plays_like as words

    found = nearest_of_each(store, selection)
    if len(found) < 2:
        said = settle(store, selection, how)
        return [Game(selection, settled(AUTO))], said
    days = (selection.since, selection.until, selection.event)
    games = [Game(Selection(player, *days), one.name) for player, one in found.items()]
    return games, words.nearest_of_each(found)


def put_together(frames: Sequence[pd.DataFrame], games: Sequence[Game]) -> pd.DataFrame:
    """Return the answers of all games as one, of several with the benchmark of each."""
    import pandas as pd

    if len(frames) == 1:
        return frames[0]
    named = [
        frame.assign(**{COLUMN: game.benchmark}) for frame, game in zip(frames, games, strict=True)
    ]
    return pd.concat(named, ignore_index=True)


def against(games: Sequence[Game]) -> str:
    """Return what the games are against, for a title."""
    if len(games) == 1:
        return games[0].benchmark
    from sgzone.words.plays_like import TO_EACH

    return TO_EACH


def with_benchmark(frame: pd.DataFrame) -> pd.DataFrame:
    """Return data with the column of the standard that ``auto`` is, where it was asked for."""
    context = click.get_current_context(silent=True)
    name = None if context is None else context.meta.get(_SETTLED)
    return frame if name is None or COLUMN in frame else frame.assign(**{COLUMN: name})
