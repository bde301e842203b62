"""What strokes really took: the strokes and penalties needed to hole out, from every place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks.model import Benchmark
from sgzone.resources import sql
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.store import Store

OUTCOME_COLUMNS = ["round_key", "player", "lie", "distance_ft", "strokes", "holed"]


def outcomes(
    store: Store,
    base: Benchmark,
    selection: Selection = EVERYTHING,
    players: Sequence[str] = (),
) -> pd.DataFrame:
    """Return one row per stroke of the zone: where from (ft), and the strokes it took to hole out.

    ``strokes`` counts the stroke itself and penalties; ``holed`` is 1 where this stroke went in.
    A hole that was conceded or picked up ends with what ``base`` expects from the last place; one
    whose ball was lost has no known end and is left out. ``players``: these only, else the
    selection's, else all.
    """
    chosen = list(players) or ([selection.player] if selection.player else [])
    bound = selection.parameters() | {"players": chosen, "zone_ft": ZONE_FT}
    del bound["player"]
    rows = store.frame(sql("benchmarks", "outcomes"), bound)
    rest = base.expected(rows["last_lie"].to_numpy(object), rows["last_distance_ft"])
    rows["strokes"] = rows["used"] + rest
    return rows.loc[rows["strokes"].notna(), OUTCOME_COLUMNS].reset_index(drop=True)
