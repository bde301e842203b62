"""The files the benchmarks read: simulated cards, season files, and plain tables for the rivals.

A season file above ``SIMULATED`` strokes is a simulated one, repeated under other player names.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import duckdb
import numpy as np
import pandas as pd

from sgzone.demo.simulate import write_cards
from sgzone.season.store import open_store

SIMULATED = 1_000_000
STROKES_PER_PLAYER = 2_000  # about 46 rounds
FAULT_EVERY = 1_000  # rows of a dirty card
FAULTS = {"lie": "trees", "distance": "87,5", "penalty": "9"}

Answer = tuple[int, float]
"""What a contender found: rows or strokes, and their sum where there is one."""


@dataclass(frozen=True, slots=True)
class Material:
    """The files of one size; ``n``: strokes at least. ``strokes``: Parquet, in order of play."""

    n: int
    season: Path
    strokes: Path
    clean: Path
    dirty: Path


def make(folder: Path, n: int, *, cards: bool) -> Material:
    """Write the files of one size; ``cards``: the CSV cards too."""
    material = Material(
        n,
        *(folder / f"{n}.{ending}" for ending in ("duckdb", "parquet")),
        *(folder / f"{n}-{name}.csv" for name in ("clean", "dirty")),
    )
    base = min(n, SIMULATED)
    card = folder / f"{n}-card.parquet"
    write_cards(card, base, players=max(1, base // STROKES_PER_PLAYER))
    if cards:
        _write_csv(pd.read_parquet(card), material)
    with open_store(material.season) as store:
        store.load(card)
    with duckdb.connect(str(material.season), config={"threads": 2}) as connection:
        _repeat(connection, -(-n // base))
        connection.execute(
            "COPY (SELECT round_key, hole_key, shot, lie, distance_ft, penalty FROM strokes) "
            f"TO '{material.strokes}' (FORMAT parquet)"
        )
    return material


def _write_csv(card: pd.DataFrame, material: Material) -> None:
    """Write the card as one measures, to a tenth of the unit, and the same with faulty rows."""
    card = card.assign(distance=np.maximum(card["distance"].round(1), 0.1))
    card[card.select_dtypes("float").columns] = card.select_dtypes("float").round(1)
    card.to_csv(material.clean, index=False)
    card = card.astype(dict.fromkeys(FAULTS, object))
    for offset, (name, value) in enumerate(FAULTS.items()):
        card.iloc[offset * 7 :: len(FAULTS) * FAULT_EVERY, card.columns.get_loc(name)] = value
    card.to_csv(material.dirty, index=False)


def _repeat(connection: duckdb.DuckDBPyConnection, times: int) -> None:
    for table in ("rounds", "holes", "strokes"):
        connection.execute(f"CREATE TEMP TABLE first_{table} AS FROM {table}")
    for number in range(1, times):
        step = number * SIMULATED  # more than there are keys
        name = f"player || ' {number:03d}' AS player"
        round_key, hole_key = f"round_key + {step} AS round_key", f"hole_key + {step} AS hole_key"
        for table, changes in (
            ("rounds", (round_key, name)),
            ("holes", (round_key, hole_key)),
            ("strokes", (round_key, hole_key, name)),
        ):
            connection.execute(
                f"INSERT INTO {table} SELECT * REPLACE ({', '.join(changes)}) FROM first_{table}"
            )
