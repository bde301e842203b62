"""Intervals of means whose observations come in rounds: cluster-robust t, many cells at once.

Shots of one round share the day, so a round counts as one draw. With per-round sums of a cell,
m = sum total / sum weight, e = total - weight m and G rounds,

    se = sqrt(G / (G - 1)) * sqrt(G / (G - 1) * sum e^2) / sum weight,   t with G - 1 df.

The second factor is the usual clustered standard error of an intercept; the first is the small
correction that keeps the coverage near its level from five rounds up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray
from scipy.special import stdtr, stdtrit

Floats = NDArray[np.float64]
Ints = NDArray[np.integer[Any]]


@dataclass(frozen=True, slots=True)
class Intervals:
    """One estimate per cell, all arrays of shape (cells,); NaN where a cell has too few rounds."""

    estimate: Floats
    se: Floats
    df: Floats
    low: Floats
    high: Floats
    rounds: Ints


@dataclass(frozen=True, slots=True)
class RoundTotals:
    """What every round a cell is judged over adds up to, shape (cells,).

    ``rounds``: how many; ``weight``: sum of their weights; ``square``: sum of squared weights.
    """

    rounds: Ints
    weight: Floats
    square: Floats


def sums(cell: Ints, values: ArrayLike, n_cells: int) -> Floats:
    """Return the sum of ``values`` in each of ``n_cells`` cells."""
    # bincount of no row at all counts integers, whatever the weights
    return np.bincount(cell, np.asarray(values, float), n_cells).astype(float)


def per_unit(
    cell: Ints, weight: ArrayLike, total: ArrayLike, n_cells: int, level: float
) -> Intervals:
    """Return the mean per unit of weight in each cell, with its interval.

    One row per cell and round, in any order: ``cell`` 0 to ``n_cells - 1``; ``weight`` the
    observations of that round in the cell, above 0; ``total`` their sum. ``level`` in (0, 1).
    """
    weight, total = np.asarray(weight, float), np.asarray(total, float)
    rounds = np.bincount(cell, minlength=n_cells)
    whole = sums(cell, weight, n_cells)
    mean = _ratio(sums(cell, total, n_cells), whole)
    error = sums(cell, (total - weight * mean[cell]) ** 2, n_cells)
    return _intervals(mean, error, whole, rounds, level)


def means(
    cell: Ints, round_: ArrayLike, values: ArrayLike, n_cells: int, level: float
) -> Intervals:
    """Return the mean of each cell's observations, (n,), those of one round taken together."""
    rows = pd.DataFrame({"cell": cell, "round": np.asarray(round_), "value": np.asarray(values)})
    by_round = rows.groupby(["cell", "round"], as_index=False)["value"].agg(["size", "sum"])
    return per_unit(by_round["cell"].to_numpy(), by_round["size"], by_round["sum"], n_cells, level)


def per_round(
    cell: Ints, weight: ArrayLike, total: ArrayLike, rounds: RoundTotals, level: float
) -> Intervals:
    """Return the total per unit of round weight in each cell: rounds without a row count as 0.

    Rows as in ``per_unit`` but ``weight`` is the round's own (holes / 18), the same in every
    cell; ``rounds`` tells, per cell, of all rounds it is judged over, those without a row too.
    """
    weight, total = np.asarray(weight, float), np.asarray(total, float)
    n_cells = len(rounds.rounds)
    mean = _ratio(sums(cell, total, n_cells), rounds.weight)
    error = sums(cell, (total - weight * mean[cell]) ** 2, n_cells)
    absent = np.maximum(rounds.square - sums(cell, weight**2, n_cells), 0.0)
    return _intervals(mean, error + mean**2 * absent, rounds.weight, rounds.rounds, level)


def _ratio(top: Floats, bottom: Floats) -> Floats:
    known = bottom > 0
    return np.where(known, top, np.nan) / np.where(known, bottom, 1.0)


def _intervals(mean: Floats, error: Floats, whole: Floats, rounds: Ints, level: float) -> Intervals:
    df = np.where(rounds > 1, rounds - 1.0, np.nan)
    se = rounds / df * np.sqrt(error) / np.where(whole > 0, whole, np.nan)
    some, which = np.unique(df, return_inverse=True)  # many cells are judged over as many rounds
    half = np.asarray(stdtrit(some, 0.5 + level / 2))[which] * se
    return Intervals(mean, se, df, mean - half, mean + half, rounds)


def welch(
    variance: ArrayLike, df: ArrayLike, variance_other: ArrayLike, df_other: ArrayLike
) -> tuple[Floats, Floats]:
    """Return standard error and degrees of freedom of a difference of means, after Welch.

    ``variance``: squared standard error of each mean, known to ``df``; arrays of one shape. NaN
    degrees of freedom where neither mean varies.
    """
    one, other = np.asarray(variance, float), np.asarray(variance_other, float)
    whole = one + other
    spent = one**2 / np.asarray(df, float) + other**2 / np.asarray(df_other, float)
    joint = np.divide(whole**2, spent, out=np.full(np.shape(whole), np.nan), where=spent > 0)
    return np.sqrt(whole), joint


def unlike_means(first: Floats, second: Floats) -> float:
    """Return the p-value of Welch's t test that two samples have one mean, two values or more each.

    scipy's ``ttest_ind`` without equal variances.
    """
    pair = [np.asarray(one, float) for one in (first, second)]
    one, other = (values.var(ddof=1) / len(values) for values in pair)
    se, df = welch(one, len(first) - 1, other, len(second) - 1)
    with np.errstate(divide="ignore", invalid="ignore"):  # where neither varies
        return float(2 * stdtr(df, -np.abs(pair[0].mean() - pair[1].mean()) / se))
