"""The files the benchmarks read: simulated cards, season files, and plain tables for the rivals.

A season file above ``SIMULATED`` strokes is a simulated one, repeated under other player names.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

import duckdb
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
    typed: Path


def make(folder: Path, n: int) -> Material:
    """Write the files of one size: the cards too where they are simulated and not repeated."""
    material = Material(
        n,
        *(folder / f"{n}.{ending}" for ending in ("duckdb", "parquet")),
        *(folder / f"{n}-{name}.csv" for name in ("clean", "dirty", "typed")),
    )
    base = min(n, SIMULATED)
    first = folder / f"{base}.duckdb"
    if not first.exists():
        card = folder / f"{n}-card.parquet"
        write_cards(card, base, players=max(1, base // STROKES_PER_PLAYER))
        _write_csv(pd.read_parquet(card), material)
        with open_store(first) as store:
            store.load(card)
    if first != material.season:
        shutil.copy(first, material.season)
    with duckdb.connect(str(material.season), config={"threads": 2}) as connection:
        _repeat(connection, -(-n // base))
        connection.execute(
            "COPY (SELECT round_key, hole_key, shot, lie, distance_ft, penalty FROM strokes "
            f"ORDER BY hole_key, shot) TO '{material.strokes}' (FORMAT parquet)"
        )
    return material


def _write_csv(card: pd.DataFrame, material: Material) -> None:
    """Write the card as one measures, to a tenth of the unit, and the same with faulty rows."""
    numbers = card.select_dtypes("float").columns
    card[numbers] = card[numbers].round(1)
    card["distance"] = card["distance"].clip(lower=0.1)
    card["date"] = card["date"].astype(str)
    _copy(card, material.clean)
    _copy(_as_typed(card), material.typed)
    card = card.astype(dict.fromkeys(FAULTS, object))
    for offset, (name, value) in enumerate(FAULTS.items()):
        card.iloc[offset * 7 :: len(FAULTS) * FAULT_EVERY, card.columns.get_loc(name)] = value
    _copy(card.astype(dict.fromkeys(FAULTS, str)), material.dirty)


def _as_typed(card: pd.DataFrame) -> pd.DataFrame:
    """Return a card as people type one: other headers, days first, letters for lies, blanks."""
    days = card["date"].str.split("-").str[::-1].str.join(".")
    keys = card["player"] + card["date"]
    same = keys == keys.shift()
    typed = card.assign(
        date=days.mask(same, None),
        player=card["player"].mask(same, None),
        lie=card["lie"].replace({"green": "G", "fairway": "F", "rough": "R", "sand": "bunker"}),
    )
    return typed.rename(columns={"date": "Datum", "hole": "Hole No", "distance": "Dist"})


def _copy(card: pd.DataFrame, target: Path) -> None:
    with duckdb.connect() as connection:
        connection.register("card", card)
        connection.execute(f"COPY card TO '{target}' (HEADER)")


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
