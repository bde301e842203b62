"""The benchmark ``auto``: the named standard nearest to the whole game of a player.

Gained is linear in k (``plays_like``), so the sums of a round against the two ends of the family
are all that is needed: nearest is the standard whose k is nearest to the player's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import NO_CURVE
from sgzone.benchmarks.tables import share_of_gap
from sgzone.errors import CallError
from sgzone.review.where.plays_like import FAMILY, total_of
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.scoring.gained import round_sizes, round_sums
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.verdict import LOSS, side_of
from sgzone.terms import AUTO, BENCHMARK_NAMES, DEFAULT_LEVEL, NOT_ENOUGH

if TYPE_CHECKING:
    from sgzone.season.store import Store

LEVEL = DEFAULT_LEVEL
"""At which the whole game is read: a player's standard is the same at every ``--level``."""
HOLES = 18


@dataclass(frozen=True, slots=True)
class Nearest:
    """The standard nearest to a player's whole game, by name, and what it was read from.

    ``refusal``: why there is none, as of ``plays_like``; ``name`` is then the tour and the range
    of the score NaN. ``score_low``, ``score_high``: of ``LEVEL``.
    """

    name: str
    refusal: str
    k: float
    score_low: float
    score_high: float
    rounds: int
    shots: int
    rounds_needed: int


@dataclass(frozen=True, slots=True)
class Beside:
    """A player's parts beside the nearest standard, where every part loses ``against`` another.

    ``parts``: as ``summarise`` against the nearest, with the adjusted value and its range per
    round of 18 holes: ``per_round``, ``per_round_low``, ``per_round_high``.
    """

    nearest: Nearest
    against: str
    parts: pd.DataFrame


def is_auto(benchmark: object) -> bool:
    """Tell whether a caller asked for the nearest standard."""
    return isinstance(benchmark, str) and benchmark == AUTO


def standard_at(k: float) -> str:
    """Return the standard whose place in the family is nearest; of two as near, the better.

    >>> standard_at(0.4), standard_at(0.42), standard_at(9)
    ('scratch', 'amateur-80', 'amateur-100')
    """
    return min(BENCHMARK_NAMES, key=lambda name: abs(share_of_gap(name) - k))


def nearest(store: Store | ParquetStrokes, selection: Selection = EVERYTHING) -> Nearest:
    """Return the standard nearest to the whole game of one player, in the rounds selected.

    Raises ``CallError`` where the rounds are of several players.
    """
    found = nearest_of_each(store, selection)
    if len(found) > 1:
        raise CallError(
            f"The benchmark {AUTO} is the standard nearest to one player's whole game. These "
            f"rounds are of {len(found)} players ({', '.join(found)}): choose one."
        )
    return next(iter(found.values()), _read(pd.DataFrame(columns=["n", "against_tour", "gap"])))


def nearest_of_each(
    store: Store | ParquetStrokes, selection: Selection = EVERYTHING
) -> dict[str, Nearest]:
    """Return the standard nearest to each player with strokes, players in alphabetical order.

    Raises ``CallError`` for strokes in Parquet files.
    """
    if isinstance(store, ParquetStrokes):
        raise CallError(NO_CURVE)
    keys = ["player", "round_key"]
    tour, amateur = (round_sums(store, name, selection).set_index(keys) for name in FAMILY)
    sums = pd.DataFrame(
        {"n": tour["n"], "against_tour": tour["total"], "gap": amateur["total"] - tour["total"]}
    )
    sums = sums[sums["n"] > 0]
    players = {str(player): rows for player, rows in sums.groupby(level="player", observed=True)}
    return {player: _read(players[player]) for player in sorted(players)}


def _read(sums: pd.DataFrame) -> Nearest:
    row = total_of(sums, int(sums["n"].sum()), LEVEL)
    facts = {name: row[name] for name in Nearest.__slots__ if name != "name"}
    name = FAMILY[0] if row["refusal"] else standard_at(float(str(row["k"])))
    return Nearest(name, **facts)  # type: ignore[arg-type]


def all_lose(parts: pd.DataFrame) -> bool:
    """Return whether every part with a verdict loses, and some has one.

    ``parts``: as ``summarise`` by part, with or without the row of all strokes.
    """
    judged = parts[(parts["verdict"] != NOT_ENOUGH) & (parts["part"] != TOTAL)]
    return len(judged) > 0 and bool((judged["verdict"].map(side_of) == LOSS).all())


def beside(
    store: Store,
    parts: pd.DataFrame,
    curve: str,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> Beside | None:
    """Return the parts beside the nearest standard, where all of them lose against ``curve``.

    ``parts``: as ``summarise`` by part of the rest. None where one of them does not lose, where
    there is no nearest standard, or where it is ``curve`` itself.
    """
    if not all_lose(parts):
        return None
    found = nearest(store, selection)
    if found.refusal or found.name == curve:
        return None
    table = summarise(store, found.name, selection, ("part",), level)
    a_round = table["shots"] * HOLES / round_sizes(store, selection)["holes"].sum()
    ends = {"per_round": "shrunk_per_shot"} | {
        f"per_round_{end}": f"shrunk_{end}" for end in ("low", "high")
    }
    table = table.assign(**{name: table[column] * a_round for name, column in ends.items()})
    return Beside(found, curve, table)
