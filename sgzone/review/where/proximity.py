"""The tables behind the report's grid and its chart of proximity against break-even."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark, break_even_proximity
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.review.where.enough import enough
from sgzone.review.where.summary import summarise
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.rates import median_interval, share_interval
from sgzone.stats.verdict import OPEN
from sgzone.terms import (
    AIMED_LIES,
    BANDS,
    DEFAULT_LEVEL,
    HOLED,
    KNOT_STATUSES,
    LIES,
    NOT_ENOUGH,
    OUTSIDE,
    ZONE_FT,
)
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

PUBLISHED = "published"
BEYOND, WITHIN = "outside", "inside"

POINT_COLUMNS = ["lie", "band", "distance_yd", "finish_ft", "end", "round_key", "stroke"]
PROXIMITY_COLUMNS = [
    *("lie", "band", "from_yd", "to_yd", "distance_yd", "finish_ft", "low", "high"),
    *("break_even_ft", "inside", "inside_low", "inside_high", "shots", "rounds", "note"),
]
BREAK_EVEN_COLUMNS = ["lie", "distance_yd", "break_even_ft", "status"]


def basis(strokes: pd.DataFrame, curve: Benchmark, by: list[str]) -> pd.DataFrame:
    """Return what the benchmark's values of each cell rest on: the ``by`` columns and ``basis``.

    ``strokes``: as ``scoring.scored``. ``basis``: the word of ``KNOT_STATUSES`` that most of the
    cell's scored start values have, ties to the less certain one.
    """
    rows = strokes[(strokes["status"] == "scored") & (strokes["part"] != OUTSIDE)]
    words = curve.status(rows["lie"].to_numpy(object), rows["distance_ft"].to_numpy(float))
    rank = {word: place for place, word in enumerate(KNOT_STATUSES)}
    count = rows.assign(basis=words).groupby([*by, "basis"], as_index=False).size()
    count["rank"] = count["basis"].map(rank)
    return (
        count.sort_values(["size", "rank"], kind="stable")
        .drop_duplicates(by, keep="last")[[*by, "basis"]]
        .sort_values(by, ignore_index=True)
    )


def with_basis(
    table: pd.DataFrame, strokes: pd.DataFrame, curve: Benchmark, by: list[str]
) -> pd.DataFrame:
    """Return a summary by ``by`` with its ``basis`` beside, empty where nothing was scored."""
    joined = table.merge(basis(strokes, curve, by), on=by, how="left")
    return joined.assign(basis=joined["basis"].astype(object).fillna(""))


@bounded
def grid_table(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    strokes: pd.DataFrame | None = None,
) -> pd.DataFrame:
    """Return the summary of every lie and distance band of one player, in their own order.

    Columns: those of ``summarise`` by band and lie; with ``strokes`` (as ``scoring.scored``) also
    ``basis``.
    """
    curve = in_store(store, benchmark)
    table = summarise(store, curve, selection, by=["band", "lie"], level=level)
    if strokes is not None:
        table = with_basis(table, strokes, curve, ["band", "lie"])
    place = {band.name: number for number, band in enumerate(BANDS)}
    order = pd.DataFrame({"b": table["band"].map(place), "l": table["lie"].map(LIES.index)})
    return table.loc[order.sort_values(["b", "l"]).index].reset_index(drop=True)


def proximity_points(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return where strokes aimed at the green finished, ``POINT_COLUMNS``.

    ``strokes``: as ``scoring.scored``. ``finish_ft``: feet from the hole, after a penalty from
    the drop, 0 when holed. ``end``: ``green`` (or holed) or ``missed``. ``stroke``: its index.
    """
    rows = strokes[
        strokes["lie"].isin(AIMED_LIES)
        & (strokes["distance_ft"] <= ZONE_FT)
        & strokes["end_distance_ft"].notna()
    ]
    hit = rows["end_lie"].isin(["green", HOLED]) & (rows["penalty"] == 0)
    rows = rows.assign(
        finish_ft=rows["end_distance_ft"],
        end=np.where(hit, "green", "missed").astype(object),
        stroke=rows.index,
    )
    return rows[POINT_COLUMNS].reset_index(drop=True)


@bounded
def proximity_table(
    points: pd.DataFrame, curve: Benchmark, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return median finish against break-even by lie and band, ``PROXIMITY_COLUMNS``.

    ``points``: as ``proximity_points``. ``finish_ft``, ``low``, ``high``: the median in feet and
    its interval, greens missed included. ``distance_yd``: the median start; ``break_even_ft``:
    the benchmark's break-even proximity from there. ``inside``: share of strokes on the green
    (or holed) at or inside the break-even proximity of their own start. Cells with too few shots
    keep their counts and have no values.
    """
    feet = points["distance_yd"].to_numpy(float) * FT_PER_YD
    limit = break_even_proximity(curve, points["lie"].to_numpy(object), feet)
    inside = (points["end"] == "green") & (points["finish_ft"].to_numpy(float) <= limit)
    points = points.assign(inside=inside.to_numpy(), known=np.isfinite(limit))
    bands = {band.name: band for band in BANDS}
    rows = []
    for lie in AIMED_LIES:
        for name, band in bands.items():
            cell = points[(points["lie"] == lie) & (points["band"] == name)]
            if len(cell):
                edges = (band.low_ft / FT_PER_YD, band.high_ft / FT_PER_YD)
                rows.append({"lie": lie, "band": name, **_cell(cell, edges, level)})
    table = pd.DataFrame(rows, columns=PROXIMITY_COLUMNS)
    start = table["distance_yd"].to_numpy(float) * FT_PER_YD
    return table.assign(break_even_ft=break_even_proximity(curve, table["lie"].to_numpy(), start))


def break_even_table(curve: Benchmark, points: pd.DataFrame) -> pd.DataFrame:
    """Return the benchmark's break-even proximity yard by yard, ``BREAK_EVEN_COLUMNS``.

    For every lie of ``points`` from its shortest to its longest stroke; distances without a
    break-even proximity are left out.
    """
    tables = [pd.DataFrame(columns=BREAK_EVEN_COLUMNS)]
    for lie, rows in points.groupby("lie", sort=False):
        reach = rows["distance_yd"]
        yards = np.arange(np.floor(reach.min()), np.ceil(reach.max()) + 1)
        feet = yards * FT_PER_YD
        table = pd.DataFrame(
            {
                "lie": lie,
                "distance_yd": yards,
                "break_even_ft": break_even_proximity(curve, str(lie), feet),
                "status": curve.status(str(lie), feet),
            }
        )
        tables.append(table.dropna(subset=["break_even_ft"]))
    full = [table for table in tables if len(table)] or tables
    return pd.concat(full, ignore_index=True)


def against_break_even(medians: pd.DataFrame) -> pd.Series[str]:
    """Return on which side of break-even each median is with all of its range.

    ``outside`` or ``inside``; ``open`` where the range holds break-even or one of both is unknown.
    """
    even = medians["break_even_ft"]
    side = np.select([medians["low"] > even, medians["high"] < even], [BEYOND, WITHIN], OPEN)
    return pd.Series(side, index=medians.index, dtype=object)


def _cell(cell: pd.DataFrame, edges: tuple[float, float], level: float) -> dict[str, object]:
    """Return the values of one lie and band; ``edges`` in yards."""
    round_ = cell["round_key"].to_numpy()
    shots, rounds = len(cell), cell["round_key"].nunique()
    values: dict[str, object] = {
        **{"from_yd": edges[0], "to_yd": edges[1], "distance_yd": cell["distance_yd"].median()},
        **{"shots": shots, "rounds": rounds, "note": ""},
    }
    if not enough(shots, rounds):
        return {**values, "note": NOT_ENOUGH}
    median = median_interval(round_, cell["finish_ft"], level)
    values |= dict(zip(("finish_ft", "low", "high"), median, strict=True))
    if cell["known"].all():
        share = share_interval(round_, cell["inside"], level)
        values |= dict(zip(("inside", "inside_low", "inside_high"), share, strict=True))
    return values
