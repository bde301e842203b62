"""Two-way additive adjustment: row effects with column effects taken out, in closed form.

y = row + column + noise, noise of variance s^2 / weight. Columns are eliminated from the normal
equations, which leaves one small system for the rows. Rows that share columns, directly or by way
of others, form a pool; only inside a pool do differences mean anything, so effects are taken from
the pool's mean.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import coo_array
from scipy.special import stdtrit

Floats = NDArray[np.float64]
Ints = NDArray[np.integer[Any]]


@dataclass(frozen=True, slots=True)
class TwoWay:
    """Row effects less the mean effect of their pool, arrays of shape (rows,).

    ``effect``, ``se``, ``low``, ``high``: NaN for a row alone in its pool; ``se`` and the ends NaN
    too where no degree of freedom is left. ``pool``: 0, 1, ... by first row. ``sd``: scatter of an
    observation of weight 1, with ``df`` degrees of freedom.
    """

    effect: Floats
    se: Floats
    low: Floats
    high: Floats
    pool: Ints
    sd: float
    df: int


def two_way(row: Ints, column: Ints, y: ArrayLike, weight: ArrayLike, level: float) -> TwoWay:
    """Return row effects with column effects taken out.

    One observation each: ``row`` and ``column``, numbers from 0 on, all of them used; ``y``;
    ``weight`` above 0.
    """
    value, w = np.asarray(y, float), np.asarray(weight, float)
    rows, columns = int(row.max()) + 1, int(column.max()) + 1
    shape = (rows, columns)
    table = coo_array((w, (row, column)), shape=shape).toarray()
    pool = _pools(row, column, shape)
    column_weight = np.bincount(column, w, columns)
    per_column = np.bincount(column, w * value, columns) / column_weight
    share = table / column_weight
    left = np.diag(np.bincount(row, w, rows)) - share @ table.T
    right = np.bincount(row, w * value, rows) - table @ per_column
    together = (pool[:, None] == pool[None, :]).astype(float)
    # left cannot see a pool's level; adding the pool's own block sets the level to a mean of 0
    inverse = np.linalg.inv(left + together)
    effect = inverse @ right
    column_effect = per_column - share.T @ effect
    rest = value - effect[row] - column_effect[column]
    df = len(value) - rows - columns + int(pool.max()) + 1
    variance = float(np.sum(w * rest**2) / df) if df > 0 else np.nan
    size = together.sum(axis=1)
    se = np.sqrt(np.maximum(np.diag(inverse) - 1 / size**2, 0.0) * variance)
    alone = size == 1
    effect, se = (np.where(alone, np.nan, part) for part in (effect, se))
    half = stdtrit(df, 0.5 + level / 2) * se if df > 0 else se
    return TwoWay(effect, se, effect - half, effect + half, pool, float(np.sqrt(variance)), df)


def _pools(row: Ints, column: Ints, shape: tuple[int, int]) -> Ints:
    """Return the pool of each row, numbered by first row."""
    rows, columns = shape
    from scipy.sparse.csgraph import connected_components

    size = rows + columns
    links = coo_array((np.ones(len(row)), (row, rows + column)), shape=(size, size))
    label = connected_components(links, directed=False)[1][:rows]
    _, first, pool = np.unique(label, return_index=True, return_inverse=True)
    order = np.argsort(np.argsort(first))
    numbered: Ints = order[pool]
    return numbered
