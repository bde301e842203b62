"""A season file with every hole worked by hand and the demo season, and its strokes as Parquet."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from sgzone.resources import data_path
from sgzone.season.store import Store, open_store
from tests.scoring.holes import HOLES, card_rows

KEYS = ["player", "date", "round", "hole", "shot"]

NO_ROUGH = "lie,distance,unit,strokes,source\n" + "".join(
    f"{lie},{distance},{unit},{strokes},own\n"
    for lie, distance, unit, strokes in (
        ("fairway", 10, "yd", 2.2),
        ("fairway", 120, "yd", 2.9),
        ("green", 3, "m", 1.6),
        ("green", 20, "m", 2.1),
    )
)
"""A benchmark of a user's own that lacks most lies, with knots between whole feet."""


def full_store(folder: Path, db: Path | None = None) -> Store:
    """Return an open season file with both loaded, in memory where ``db`` is None."""
    card = folder / "worked.csv"
    holes = enumerate(HOLES.values(), 1)
    pd.DataFrame([row for n, (rows, _) in holes for row in card_rows(n, rows)]).to_csv(
        card, index=False
    )
    store = open_store(db)
    store.load(card)
    store.load(data_path("demo/season.csv"))
    return store


def in_order(frame: pd.DataFrame) -> pd.DataFrame:
    """Return rows of strokes in the order of play, dates as the season file gives them."""
    dated = frame.assign(date=pd.to_datetime(frame["date"]).astype("datetime64[us]"))
    return dated.sort_values(KEYS, ignore_index=True)
