"""One question, two shapes, many ways: n, sum and squares of gained by part and round, or part.

Each takes a ``Material`` and returns (strokes, sum of gained), so that the answers can be compared.
The rivals read the plain strokes from Parquet, find each stroke's end by shifting within the hole,
and value it on the very curve that sgzone uses.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import duckdb
import numpy as np
import pandas as pd
import polars as pl

from sgzone.benchmarks import benchmark
from sgzone.scoring.gained import round_sums
from sgzone.scoring.places import curve_cells
from sgzone.scoring.recipe import recipe
from sgzone.season.selection import EVERYTHING
from sgzone.season.store import open_store
from sgzone.terms import HOLED, LIES, PARTS, ZONE_FT
from tests.bench.material import Answer, Material

PER_ROUND, PER_PART = ("part", "round_key"), ("part",)
"""The shapes: 1.6 million sums of ten million strokes, or nine."""

ZONE_STEPS = ("chosen_rounds", "zone_starts", "valued", "gained")
FOUR = ("tour", "scratch", "amateur-80", "amateur-90")


def floor(material: Material) -> Answer:
    """Read the columns that scoring needs and add them up."""
    return floor_of(material.season)


def floor_of(season: Path) -> Answer:
    """The same of any season file."""
    with open_store(season, read_only=True) as store:
        store.frame(
            "SELECT sum(round_key), sum(distance_ft), sum(end_distance_ft), sum(penalty), "
            "sum(start_cell), sum(end_cell), count(end_lie), bool_and(played) FROM strokes"
        )
    return 0, 0.0


def sgzone(material: Material) -> Answer:
    """Score and add up per part and round."""
    with open_store(material.season, read_only=True) as store:
        return _answer(round_sums(store, by=["part"]))


def sgzone_four(material: Material) -> Answer:
    """Score against four benchmarks, one after the other."""
    with open_store(material.season, read_only=True) as store:
        answers = [_answer(round_sums(store, name, by=["part"])) for name in FOUR]
    return answers[0]


def sgzone_parts(material: Material) -> Answer:
    """Score and add up per part alone."""
    return _of_gained(
        material,
        "SELECT part, count(gained) AS n, fsum(gained) AS total, "
        "fsum(gained * gained) AS squares FROM gained GROUP BY part",
    )


def sgzone_table(material: Material) -> Answer:
    """Score and keep every stroke's part and value as a table in memory."""
    return _of_gained(
        material, "SELECT round_key, part, gained FROM gained", "count(gained) AS n, fsum(gained)"
    )


def _of_gained(material: Material, query: str, sums: str = "sum(n) AS n, sum(total)") -> Answer:
    values = {**EVERYTHING.parameters(), "zone_ft": ZONE_FT}
    with open_store(material.season, read_only=True) as store:
        store.temp("curve", curve_cells(benchmark("tour")))
        steps = recipe(ZONE_STEPS, "zone_starts").replace("{curve}", "curve")
        store.execute(f"CREATE TEMP TABLE kept AS {steps} {query}", values)
        row = store.frame(f"SELECT {sums} AS total FROM kept").iloc[0]
    return int(row["n"]), float(row["total"])


def polars_lazy(material: Material, by: Sequence[str] = PER_ROUND) -> Answer:
    """Sort, shift over the hole, join the curve's cubic pieces, group."""
    cells = curve_cells(benchmark("tour"))
    cells = cells[cells["x_lo"] <= ZONE_FT].drop_duplicates(["lie", "cell"])
    curve = pl.from_pandas(cells[["lie", "cell", "x0", "c0", "c1", "c2", "c3", "part"]]).lazy()
    far = curve_cells(benchmark("tour")).drop_duplicates(["lie", "cell"])
    ends = pl.from_pandas(far[["lie", "cell", "x0", "c0", "c1", "c2", "c3"]]).lazy()
    shifted = (pl.col(name).shift(-1).over("hole_key") for name in ("lie", "distance_ft"))
    strokes = pl.scan_parquet(material.strokes).sort("hole_key", "shot")
    strokes = strokes.with_columns(
        next(shifted).fill_null(HOLED).alias("end_lie"),
        next(shifted).fill_null(0.0).alias("end_ft"),
    ).filter(pl.col("distance_ft") <= ZONE_FT)
    strokes = strokes.with_columns(
        pl.col("distance_ft").floor().cast(pl.Int64).alias("cell"),
        pl.col("end_ft").floor().cast(pl.Int64).alias("end_cell"),
    )
    valued = strokes.join(curve, on=["lie", "cell"], how="left").join(
        ends, left_on=["end_lie", "end_cell"], right_on=["lie", "cell"], how="left", suffix="_e"
    )
    gained = _cubic("distance_ft", "") - _cubic("end_ft", "_e") - 1 - pl.col("penalty")
    sums = (
        valued.with_columns(gained.alias("gained"))
        .group_by(*by)
        .agg(
            pl.col("gained").count().alias("n"),
            pl.col("gained").sum().alias("total"),
            (pl.col("gained") ** 2).sum().alias("squares"),
        )
        .sort(*by)
        .collect()
    )
    return int(sums["n"].sum()), float(sums["total"].sum())


def polars_parts(material: Material) -> Answer:
    """The same per part alone."""
    return polars_lazy(material, PER_PART)


def _cubic(distance: str, suffix: str) -> pl.Expr:
    t = pl.col(distance) - pl.col(f"x0{suffix}")
    c0, c1, c2, c3 = (pl.col(f"c{power}{suffix}") for power in range(4))
    return c0 + t * (c1 + t * (c2 + t * c3))


def pandas_shift(material: Material, by: Sequence[str] = PER_ROUND) -> Answer:
    """Sort, groupby-shift, the curve's own interpolator per lie, groupby."""
    strokes = pd.read_parquet(material.strokes).sort_values(["hole_key", "shot"])
    after = strokes.groupby("hole_key")[["lie", "distance_ft"]].shift(-1)
    strokes["end_lie"] = after["lie"].fillna(HOLED)
    strokes["end_ft"] = after["distance_ft"].fillna(0.0)
    strokes = strokes[strokes["distance_ft"] <= ZONE_FT]
    before, later = np.empty(len(strokes)), np.zeros(len(strokes))
    curves = benchmark("tour").curves
    for lie in LIES:
        rows = (strokes["lie"] == lie).to_numpy()
        before[rows] = curves[lie](strokes.loc[rows, "distance_ft"])
        rows = (strokes["end_lie"] == lie).to_numpy()
        later[rows] = curves[lie](strokes.loc[rows, "end_ft"])
    strokes["gained"] = before - later - 1 - strokes["penalty"]
    strokes["squares"] = strokes["gained"] ** 2
    for part in PARTS:
        inside = strokes["distance_ft"].between(part.low_ft, part.high_ft, inclusive="left")
        inside |= (strokes["distance_ft"] == ZONE_FT) & (part.high_ft == ZONE_FT)
        strokes.loc[inside & strokes["lie"].isin(part.lies), "part"] = part.name
    sums = strokes.groupby(list(by)).agg(
        n=("gained", "count"), total=("gained", "sum"), squares=("squares", "sum")
    )
    return int(sums["n"].sum()), float(sums["total"].sum())


def pandas_parts(material: Material) -> Answer:
    """The same per part alone."""
    return pandas_shift(material, PER_PART)


def numpy_by_hand(material: Material, by: Sequence[str] = PER_ROUND) -> Answer:
    """Integer codes for lies, a neighbour comparison for the end, bincount for the sums."""
    columns = duckdb.sql(
        f"SELECT round_key, hole_key, list_position({list(LIES)}, lie) - 1 AS code, distance_ft, "
        f"penalty FROM '{material.strokes}'"
    ).fetchnumpy()
    code, feet, hole = columns["code"].astype(np.int8), columns["distance_ft"], columns["hole_key"]
    last = np.append(hole[1:] != hole[:-1], True)
    end_code = np.where(last, -1, np.append(code[1:], -1))
    end_feet = np.where(last, 0.0, np.append(feet[1:], 0.0))
    zone = feet <= ZONE_FT
    code, feet, end_code, end_feet = code[zone], feet[zone], end_code[zone], end_feet[zone]
    before, later, part = np.empty(len(feet)), np.zeros(len(feet)), np.zeros(len(feet), np.int64)
    for number, curve in enumerate(benchmark("tour").curves[lie] for lie in LIES):
        rows = code == number
        before[rows] = curve(feet[rows])
        rows = end_code == number
        later[rows] = curve(end_feet[rows])
    for number, one in enumerate(PARTS):
        inside = (feet >= one.low_ft) & ((feet < one.high_ft) | (one.high_ft == ZONE_FT))
        part[inside & np.isin(code, [LIES.index(lie) for lie in one.lies])] = number
    gained = before - later - 1 - columns["penalty"][zone]
    cell = columns["round_key"][zone] * len(PARTS) + part if by == PER_ROUND else part
    n, total = np.bincount(cell), np.bincount(cell, gained)
    np.bincount(cell, gained**2)
    return int(n.sum()), float(total.sum())


def numpy_parts(material: Material) -> Answer:
    """The same per part alone."""
    return numpy_by_hand(material, PER_PART)


def _answer(sums: pd.DataFrame) -> Answer:
    return int(sums["n"].sum()), float(sums["total"].sum())
