"""All that can be seen of a season file against the model of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd

from sgzone.review.summary import summarise
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
TWICE = "SELECT count(*) - count(DISTINCT {key}) AS wrong FROM {table}"
ASTRAY = (
    "SELECT count(*) AS wrong FROM strokes s LEFT JOIN holes h USING (hole_key) "
    "LEFT JOIN rounds r ON r.round_key = s.round_key LEFT JOIN loads l ON l.load_id = s.load_id "
    "WHERE h.round_key IS DISTINCT FROM s.round_key OR h.hole IS DISTINCT FROM s.hole "
    "OR (r.player, r.date, r.round) IS DISTINCT FROM (s.player, s.date, s.round) "
    "OR r.load_id IS DISTINCT FROM s.load_id OR l.kind IS DISTINCT FROM 'shot'"
)
EMPTY_HOLES = (
    "SELECT count(*) AS wrong FROM holes WHERE hole_key NOT IN (SELECT hole_key FROM strokes) "
    "OR round_key NOT IN (SELECT round_key FROM rounds)"
)
SOUND = {
    **{f"{key} twice": TWICE.format(key=key, table=table) for table, key in (
        ("loads", "load_id"), ("rounds", "round_key"), ("holes", "hole_key"),
    )},
    "strokes astray": ASTRAY,
    "holes without strokes": EMPTY_HOLES,
}  # fmt: skip
"""What must not be -> the query that counts it."""
NEAR = 1e-9


def differences(store: Store, model: Model) -> list[str]:
    """Return what the tables hold that the model does not, and the other way round."""
    found = []
    for kind, table in TABLES.items():
        held, rows = store.frame(ALL_ROWS.format(table=table)), model.rows.get(kind)
        names = [name for name in held.columns if name not in STORED_ONLY]
        wanted = pd.DataFrame(columns=names) if rows is None else rows
        found += _apart(table, held, wanted, names)
    rounds = store.rounds()
    found += _apart("rounds", rounds, model.rounds(), [*rounds.columns])
    in_order = [*zip(*(_plain(rounds[name]) for name in KEYS["shot"]), strict=True)]
    found += ["rounds out of order"] if in_order != sorted(in_order) else []
    holes = store.frame(HOLES)
    found += _apart("holes", holes, model.holes(), [*holes.columns])
    loads = store.frame(LOADS)
    wanted = pd.DataFrame(model.loads, columns=loads.columns, dtype=object)
    found += _apart("loads", loads, wanted, [*loads.columns])
    if store.players() != model.players():
        found.append(f"players: {store.players()}, not {model.players()}")
    if apart := store.strokes_apart():
        found.append(f"{apart} strokes scored from another place")
    counts = {what: int(store.frame(query)["wrong"][0]) for what, query in SOUND.items()}
    return found + [f"{count} {what}" for what, count in counts.items() if count]


def scored_apart(store: Store, model: Model) -> list[str]:
    """Return where the strokes gained, or the sums per hole, are not those of the model."""
    held, wanted = strokes_gained(store), model.gained()
    found = _apart("strokes gained", held, wanted, STROKE)
    if not found:
        ours = wanted.sort_values(STROKE)["gained"].to_numpy(dtype=float)
        if not np.allclose(held["gained"], ours, rtol=0, atol=NEAR, equal_nan=True):
            found.append(f"gained: {held['gained'].tolist()}, not {ours.tolist()}")
    totals = check_totals(store)
    found += _apart("totals", totals, wanted.drop_duplicates(HOLE), HOLE)
    if not (totals["difference"].abs() <= NEAR).all():
        found.append(f"a hole does not add up: {totals['difference'].tolist()}")
    return found


def summed_apart(store: Store, model: Model) -> list[str]:
    """Return where the summary counts other strokes or rounds than the model."""
    frame = model.gained().dropna()
    wanted = Counter(frame[frame["distance_ft"].astype(float) <= ZONE_FT]["player"])
    several = len(model.players()) > 1
    table = summarise(store, by=("total",))
    names = table["player"] if several else [*model.players()] * len(table)
    held = Counter(dict(zip(names, table["shots"], strict=True)))
    return [] if +held == +wanted else [f"summary: {held}, not {wanted}"]


def _apart(what: str, held: pd.DataFrame, wanted: pd.DataFrame, names: Sequence[str]) -> list[str]:
    """Return a sentence where two frames do not have the same rows, in whatever order."""
    missing = {*names} - {*wanted.columns}
    if missing:
        return [f"{what}: the model knows no {sorted(missing)}"]
    rows = [Counter(zip(*(_plain(frame[name]) for name in names), strict=True)) for frame in
            (held, wanted)]  # fmt: skip
    more, fewer = rows[0] - rows[1], rows[1] - rows[0]
    if not more and not fewer:
        return []
    return [f"{what}: {len(held)} rows for {len(wanted)}; too many {[*more]}, lacking {[*fewer]}"]


def _plain(column: pd.Series[Any]) -> list[Any]:
    """Return values that compare across frames: days as text, ``None`` where there is nothing."""
    if pd.api.types.is_datetime64_any_dtype(column):
        column = column.dt.strftime("%Y-%m-%d")
    return column.astype(object).where(column.notna(), None).tolist()
