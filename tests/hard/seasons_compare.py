"""All that can be seen of a season file against the model of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd

from sgzone.benchmarks import benchmark
from sgzone.review.where.summary import summarise
from sgzone.scoring import check_totals, strokes_gained
from sgzone.season.store import Store
from tests.hard.seasons_model import HOLE, KEYS, STROKE, ZONE_FT, Model

TABLES = {"shot": "strokes", "log": "practice_log", "test": "test_balls", "bag": "bag"}
STORED_ONLY = {"load_id", "round_key", "hole_key", "start_cell", "end_cell", "kind", "loaded_at"}
ALL_ROWS = "SELECT t.*, file_name, sha256 FROM {table} t LEFT JOIN loads USING (load_id)"
HOLES = (
    "SELECT player, date, round, hole, par, ending, last_lie, last_distance_ft "
    "FROM holes LEFT JOIN rounds USING (round_key)"
)
LOADS = "SELECT kind, file_name, sha256, rows FROM loads"
TWICE = "SELECT count(*) - count(DISTINCT {key}) FROM {table}"
ASTRAY = (
    "SELECT count(*) FROM strokes s LEFT JOIN holes h USING (hole_key) "
    "LEFT JOIN rounds r ON r.round_key = s.round_key LEFT JOIN loads l ON l.load_id = s.load_id "
    "WHERE h.round_key IS DISTINCT FROM s.round_key OR h.hole IS DISTINCT FROM s.hole "
    "OR (r.player, r.date, r.round) IS DISTINCT FROM (s.player, s.date, s.round) "
    "OR r.load_id IS DISTINCT FROM s.load_id OR l.kind IS DISTINCT FROM 'shot'"
)
EMPTY_HOLES = (
    "SELECT count(*) FROM holes WHERE hole_key NOT IN (SELECT hole_key FROM strokes) "
    "OR round_key NOT IN (SELECT round_key FROM rounds)"
)
SOUND = f"""
SELECT ({TWICE.format(key="load_id", table="loads")}) AS "load_id twice",
    ({TWICE.format(key="round_key", table="rounds")}) AS "round_key twice",
    ({TWICE.format(key="hole_key", table="holes")}) AS "hole_key twice",
    ({ASTRAY}) AS "strokes astray",
    ({EMPTY_HOLES}) AS "holes without strokes"
"""
"""How often there is what must not be."""
TOUR = benchmark("tour")
NOTHING = pd.DataFrame()
NEAR = 1e-9

Columns = dict[str, list[Any]]


def differences(store: Store, model: Model) -> list[str]:
    """Return what the tables hold that the model does not, and the other way round."""
    found = []
    for kind, table in TABLES.items():
        held = _read(store, ALL_ROWS.format(table=table))
        names = [name for name in held if name not in STORED_ONLY]
        found += _apart(table, held, model.rows.get(kind, NOTHING), names)
    listed, rounds = store.rounds(), model.rounds()
    found += _apart("rounds", _plain(listed), rounds, [*listed.columns])
    in_order = [*zip(*(listed[name] for name in KEYS["shot"]), strict=True)]
    found += ["rounds out of order"] if in_order != sorted(in_order) else []
    found += _apart("holes", _read(store, HOLES), model.holes())
    loads = pd.DataFrame(model.loads, None, ["kind", "file_name", "sha256", "rows"], object)
    found += _apart("loads", _read(store, LOADS), loads)
    if store.players() != sorted({*rounds["player"]}):
        found.append(f"players: {store.players()}, not {sorted({*rounds['player']})}")
    if apart := store.strokes_apart():
        found.append(f"{apart} strokes scored from another place")
    return found + [f"{what}: {count}" for what, (count,) in _read(store, SOUND).items() if count]


def scored_apart(store: Store, model: Model) -> list[str]:
    """Return where the strokes gained, or the sums per hole, are not those of the model."""
    held, wanted = strokes_gained(store, TOUR), model.gained()
    found = _apart("strokes gained", _plain(held[STROKE]), wanted, STROKE)
    if not found:
        ours = wanted.sort_values(STROKE)["gained"].to_numpy(dtype=float)
        if not np.allclose(held["gained"], ours, rtol=0, atol=NEAR, equal_nan=True):
            found.append(f"gained: {held['gained'].tolist()}, not {ours.tolist()}")
    totals = check_totals(store, TOUR)
    found += _apart("totals", _plain(totals[HOLE]), wanted.drop_duplicates(HOLE))
    if not (totals["difference"].abs() <= NEAR).all():
        found.append(f"a hole does not add up: {totals['difference'].tolist()}")
    return found


def summed_apart(store: Store, model: Model) -> list[str]:
    """Return where the summary counts other strokes or rounds than the model."""
    frame = model.gained().dropna()
    wanted = Counter(frame[frame["distance_ft"].astype(float) <= ZONE_FT]["player"])
    several = len(model.players()) > 1
    table = summarise(store, TOUR, by=("total",))
    names = table["player"] if several else [*model.players()] * len(table)
    held = Counter(dict(zip(names, table["shots"], strict=True)))
    return [] if +held == +wanted else [f"summary: {held}, not {wanted}"]


def _apart(
    what: str, held: Columns, wanted: pd.DataFrame, names: Sequence[str] | None = None
) -> list[str]:
    """Return a sentence where the rows are not the same, in whatever order."""
    names = [*held] if names is None else names
    ours = {name: wanted[name].tolist() if len(wanted) else [] for name in names}
    rows = [Counter(zip(*(side[name] for name in names), strict=True)) for side in (held, ours)]
    more, fewer = rows[0] - rows[1], rows[1] - rows[0]
    if not more and not fewer:
        return []
    return [f"{what}: too many {[*more.elements()]}, lacking {[*fewer.elements()]}"]


def _read(store: Store, query: str) -> Columns:
    """Return columns in plain values: days as text, ``None`` where there is nothing."""
    return {name: _values(column) for name, column in store.columns(query).items()}


def _plain(frame: pd.DataFrame) -> Columns:
    masked = {name: np.ma.masked_array(frame[name], frame[name].isna()) for name in frame}
    return {str(name): _values(column) for name, column in masked.items()}


def _values(column: Any) -> list[Any]:
    if column.dtype.kind == "M":
        days: list[Any] = column.astype("datetime64[D]").tolist()
        return [None if day is None else day.isoformat() for day in days]
    values: list[Any] = column.tolist()
    return values
