"""Putts by distance against the benchmark: how many go in, and how long the next one is.

Also the player's own curve of putts holed against two published ones.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray
from scipy.special import expit

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.curve import Curve
from sgzone.benchmarks.ready import ready_cubics
from sgzone.benchmarks.sources import read_published
from sgzone.bounds import bounded
from sgzone.stats.cluster import means, sums
from sgzone.stats.logistic import logistic_fit
from sgzone.stats.rates import wilson
from sgzone.terms import BANDS, DEFAULT_LEVEL, HOLED, MIN_ROUNDS

Floats = NDArray[np.float64]

PUTT_COLUMNS = [
    *("band", "putts", "rounds", "holed_share", "low", "high", "benchmark_share", "status"),
    *("missed", "next_putt_ft", "next_low_ft", "next_high_ft", "benchmark_next_ft"),
]
PUTT_BANDS = [band.name for band in BANDS if band.on_green]

CURVES = {
    "professionals, 2-20 ft": ("logistic, Berry data", 2.0, 20.0),
    "one golfer, 3-7 ft": ("logistic, Stat2 Putts1", 3.0, 7.0),
}
"""Published curves by who putted: rows of putting_model_estimates.csv and the feet they cover
(source keys gelman2019, berry1995 and stat2)."""

FIT_FROM_FT, FIT_TO_FT = 2.0, 20.0
"""The player's own curve uses putts between these, as the published one of professionals does. A
straight line in the logit does not hold farther out, and hundreds of tap-ins would tilt it."""
POINT_FT = 2.0
"""Width of the steps in which the putts holed stand beside their curve."""

YOU = "you"
CURVE_COLUMNS = ["who", "distance_ft", "holed_share", "low", "high", "putts", "source"]
POINT_COLUMNS = ["distance_ft", "holed_share", "low", "high", "putts"]
NEXT_FROM_FT = 10.0
"""Nearer than this the printed digits do not tell how long the benchmark's next putt is."""


@bounded
def putting(
    frame: pd.DataFrame, benchmark: Benchmark, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return putts holed and the length of the next putt by band, beside the benchmark's.

    ``frame``: columns of ``scoring.gained.scored``. Shares are 0 to 1 with their Wilson interval;
    lengths are feet, the mean of the putts missed and still on the green, with a cluster
    interval. The benchmark's values are means over the player's own distances: the share holed
    where a table was published for it (``status`` as there, missing where none is), the next putt
    as the length whose expected putts explain the rest of its curve, from 10 ft out.
    """
    putts = frame[(frame["lie"] == "green") & frame["end_lie"].notna()]
    bands = [band for band in PUTT_BANDS if (putts["band"] == band).any()]
    cell = pd.Index(PUTT_BANDS).get_indexer(pd.Index(putts["band"]))
    distance = putts["distance_ft"].to_numpy(float)
    holed = (putts["end_lie"] == HOLED).to_numpy(float)
    share, status = holed_share(benchmark.name, distance)
    table = pd.DataFrame({"band": PUTT_BANDS})
    n = sums(cell, np.ones_like(holed), len(PUTT_BANDS))
    made = sums(cell, holed, len(PUTT_BANDS))
    with np.errstate(invalid="ignore"):  # bands without putts: dropped below
        table["holed_share"] = made / n
        table["benchmark_share"] = sums(cell, share, len(PUTT_BANDS)) / n
        table["benchmark_next_ft"] = (
            sums(cell, _benchmark_next(benchmark, distance, share), len(PUTT_BANDS)) / n
        )
    table["putts"] = n.astype(int)
    table["rounds"] = _rounds(cell, putts["round_key"])
    table["low"], table["high"] = wilson(made, np.maximum(n, 1), level)
    table["status"] = _worst(cell, status)
    table = table.join(_next_putt(putts, cell, level))
    return table.set_index("band").loc[bands].reset_index()[PUTT_COLUMNS]


def holed_share(name: str, distance_ft: ArrayLike) -> tuple[Floats, NDArray[np.object_]]:
    """Return the share of putts a named benchmark holes, and what each rests on.

    PCHIP through putt_outcomes.csv (source key broadie2014); NaN and the empty word beyond its
    distances and for a benchmark without a table. Nearer than its first row that row holds.
    """
    distance = np.asarray(distance_ft, float)
    rows = _outcomes(name)
    if rows.empty:
        return np.full(distance.shape, np.nan), np.full(distance.shape, "", object)
    feet, share = outcomes_of(name)
    cubics = np.vstack([ready_cubics(name)[HOLED], share[:-1]])
    curve = Curve(feet, cubics, np.zeros(len(feet) - 1, np.int64))
    at = np.maximum(distance, feet[0])
    inside = at <= feet[-1]
    value = np.where(inside, curve(np.minimum(at, feet[-1])), np.nan)
    after = np.minimum(np.searchsorted(feet, at), len(feet) - 1)
    before = np.maximum(after - (feet[after] > at), 0)
    memory = (rows["status"] == "memory").to_numpy()
    words = np.where(memory[after] | memory[before], "memory", "reproduced").astype(object)
    return value, np.where(inside, words, "")


@bounded
def putting_curve(
    frame: pd.DataFrame, distance_ft: ArrayLike, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the share holed by distance: the player's own fit, and the published fits.

    Long form with ``CURVE_COLUMNS``; published curves only over the feet they were fitted to,
    without interval. The player is left out where too few were holed or missed to fit a curve.
    """
    distance = np.asarray(distance_ft, float)
    tables = [_published_curve(who, distance) for who in CURVES]
    putts = _putts_of_curve(frame)
    fit = logistic_fit(putts["distance_ft"], putts["end_lie"] == HOLED, putts["round_key"])
    if fit is not None:
        near = distance[(distance >= FIT_FROM_FT) & (distance <= FIT_TO_FT)]
        value, low, high = fit.curve(near, level)
        own = {"who": YOU, "distance_ft": near, "holed_share": value, "low": low, "high": high}
        tables.insert(0, pd.DataFrame({**own, "putts": fit.n, "source": ""}))
    return pd.concat(tables, ignore_index=True)[CURVE_COLUMNS]


@bounded
def putting_points(frame: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return the putts the player's curve is fitted to, in steps of 2 ft: what was holed.

    Columns ``POINT_COLUMNS``: mean distance of the step's putts, share holed with its Wilson
    interval, number of putts. Steps without a putt are left out.
    """
    putts = _putts_of_curve(frame)
    table = (
        pd.DataFrame({"at": putts["distance_ft"], "holed": putts["end_lie"] == HOLED})
        .groupby(_step(putts))
        .agg(distance_ft=("at", "mean"), made=("holed", "sum"), putts=("at", "size"))
        .reset_index(drop=True)
    )
    table["holed_share"] = table["made"] / table["putts"]
    table["low"], table["high"] = wilson(table["made"], table["putts"], level)
    return table[POINT_COLUMNS]


@bounded
def putts_beside(
    frame: pd.DataFrame, name: str, level: float = DEFAULT_LEVEL
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return what a benchmark holes by distance, as ``putting_curve``, and ``putting_points``.

    ``name``: the benchmark's. Its curve is asked at whole feet and at the points' distances. The
    points have two columns more: ``benchmark_share``, the mean over the step's own putts (at their
    mean distance a bent curve has another value), and ``status``, the weakest footing among them.
    Both tables have no rows where it has no table of putts holed, or the putts are of fewer than
    ``MIN_ROUNDS`` rounds.
    """
    points = putting_points(frame, level)
    feet = np.union1d(np.arange(FIT_FROM_FT, FIT_TO_FT + 1), points["distance_ft"])
    share, status = holed_share(name, feet)
    curve = pd.DataFrame({"who": name, "distance_ft": feet, "holed_share": share})
    curve = curve.assign(low=np.nan, high=np.nan, putts=np.nan, source=status)[CURVE_COLUMNS]
    rounds = _putts_of_curve(frame)["round_key"].nunique()
    if rounds < MIN_ROUNDS or np.isnan(share).any():
        return curve[:0], points[:0]
    return curve, pd.concat([points, _theirs(frame, name)], axis=1)


def _theirs(frame: pd.DataFrame, name: str) -> pd.DataFrame:
    """Return what a benchmark holes of the putts of each step of ``putting_points``."""
    putts = _putts_of_curve(frame)
    share, status = holed_share(name, putts["distance_ft"])
    asked = pd.DataFrame({"share": share, "memory": status == "memory"}, index=putts.index)
    of_step = asked.groupby(_step(putts)).agg(share=("share", "mean"), memory=("memory", "any"))
    words = np.where(of_step["memory"], "memory", "reproduced")
    return pd.DataFrame({"benchmark_share": of_step["share"].to_numpy(), "status": words})


def _step(putts: pd.DataFrame) -> pd.Series[float]:
    """Return the step of each putt; the last one has its far edge too."""
    return putts["distance_ft"].clip(upper=FIT_TO_FT - POINT_FT / 2) // POINT_FT


def _putts_of_curve(frame: pd.DataFrame) -> pd.DataFrame:
    putts = frame[(frame["lie"] == "green") & frame["end_lie"].notna()]
    return putts[putts["distance_ft"].between(FIT_FROM_FT, FIT_TO_FT)]


def published_curve(who: str) -> tuple[float, float, str]:
    """Return intercept, slope (logit, logit per ft) and source key of one of ``CURVES``."""
    rows = read_published("putting_model_estimates.csv")
    rows = rows[rows["model"] == CURVES[who][0]].set_index("parameter")
    value = rows["value"].astype(float)
    return float(value["intercept"]), float(value["slope"]), str(rows["source"]["slope"])


def _published_curve(who: str, distance: Floats) -> pd.DataFrame:
    intercept, slope, source = published_curve(who)
    _, first, last = CURVES[who]
    feet = distance[(distance >= first) & (distance <= last)]
    return pd.DataFrame(
        {
            "who": who,
            "distance_ft": feet,
            "holed_share": expit(intercept + slope * feet),
            "low": np.nan,
            "high": np.nan,
            "putts": pd.NA,
            "source": source,
        }
    )


@cache
def outcomes_of(name: str) -> tuple[Floats, Floats]:
    """Return the distances (feet) of a benchmark's table of putts holed, and its shares."""
    rows = _outcomes(name)
    return rows["distance_ft"].to_numpy(float), rows["percent"].to_numpy(float) / 100


@cache
def _outcomes(name: str) -> pd.DataFrame:
    rows = read_published("putt_outcomes.csv")
    rows = rows[(rows["outcome"] == "one-putt") & (rows["population"] == name)]
    numbers = rows[["distance_ft", "percent"]].astype(float)
    return rows.assign(**numbers).sort_values("distance_ft")


def _benchmark_next(benchmark: Benchmark, distance: Floats, share: Floats) -> Floats:
    """Return the length of the benchmark's next putt after a miss (ft), by its own curve.

    expected(d) = 1 + (1 - holed) x expected(next), solved for the length of the next putt.
    """
    feet = np.arange(1.0, 31.0, 0.1)
    green = np.maximum.accumulate(benchmark.expected("green", feet))
    after = (benchmark.expected("green", distance) - 1) / (1 - share)
    reach = (distance >= NEXT_FROM_FT) & (after >= green[0]) & (after <= green[-1])
    return np.where(reach, np.interp(after, green, feet), np.nan)


def _next_putt(putts: pd.DataFrame, cell: NDArray[np.intp], level: float) -> pd.DataFrame:
    missed = (putts["end_lie"] == "green").to_numpy()
    own, left = cell[missed], putts[missed]
    length = left["end_distance_ft"].to_numpy(float)
    found = means(own, left["round_key"], length, len(PUTT_BANDS), level)
    return pd.DataFrame(
        {
            "missed": np.bincount(own, minlength=len(PUTT_BANDS)),
            "next_putt_ft": found.estimate,
            "next_low_ft": found.low,
            "next_high_ft": found.high,
        }
    )


def _rounds(cell: NDArray[np.intp], round_key: pd.Series[int]) -> NDArray[np.intp]:
    pairs = pd.DataFrame({"cell": cell, "round": round_key.to_numpy()}).drop_duplicates()
    return np.bincount(pairs["cell"].to_numpy(), minlength=len(PUTT_BANDS))


def _worst(cell: NDArray[np.intp], status: NDArray[np.object_]) -> NDArray[np.object_]:
    """Return the weakest footing in each band: nothing published, memory, reproduced."""
    words = np.array(["reproduced", "memory", ""], object)
    worst = np.zeros(len(PUTT_BANDS), int)
    rank = pd.Index(words).get_indexer(status)
    np.maximum.at(worst, cell, rank)
    return words[worst]
