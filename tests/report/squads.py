"""A squad for the tests: the demo's rounds dealt out among players, on other days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pandas as pd

from sgzone.benchmarks.saved import in_store
from sgzone.report.squad import Squad
from sgzone.season.selection import EVERYTHING
from sgzone.season.store import Store, open_store
from sgzone.words.say import Say
from tests.report.seasons import USUAL, demo


def squad_card(folder: Path, players: Sequence[str], rounds: int) -> Path:
    """Write a card in which each player has ``rounds`` of the demo's rounds, all different."""
    frame = pd.read_csv(demo(), dtype=str)
    days = sorted(frame["date"].unique())
    deals = [
        frame[frame["date"].isin(days[k * rounds : (k + 1) * rounds])].assign(player=player)
        for k, player in enumerate(players)
    ]
    path = folder / "squad.csv"
    pd.concat(deals).to_csv(path, index=False)
    return path


@contextmanager
def squad(folder: Path, players: Sequence[str], rounds: int = 8) -> Iterator[Store]:
    """Open a season file in memory with a squad loaded."""
    with open_store() as store:
        store.load(squad_card(folder, players, rounds))
        yield store


def ask_all(store: Store, say: Say = USUAL, **more: Any) -> Squad:
    """Return what is asked of all players of a season file."""
    return Squad(store, in_store(store, "tour"), EVERYTHING, say, **more)
