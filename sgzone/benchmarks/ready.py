"""The cubics of the named curves, worked out beforehand by scipy and kept in ``data/curves.csv``.

scipy's interpolation takes longer to load than most answers take, and these knots never change.
``make docs`` writes the file anew; its test holds each number to scipy to the bit.
"""

from __future__ import annotations

import csv
from functools import cache

import numpy as np
from numpy.typing import NDArray

from sgzone.resources import data_path

Floats = NDArray[np.float64]

FILE = "curves.csv"
COLUMNS = ("benchmark", "lie", "c3", "c2", "c1")


def ready_cubics(name: str) -> dict[str, Floats]:
    """Return, per lie with knots, the three highest coefficients of each piece, (3, pieces).

    In feet from the piece's own knot, highest power first. ``holed``: of the share of putts holed.
    Empty for a name that is not kept.
    """
    found: dict[str, list[list[float]]] = {}
    for lie, *cubic in _kept().get(name, ()):
        found.setdefault(lie, []).append([float(one) for one in cubic])
    return {lie: np.array(rows).T for lie, rows in found.items()}


@cache
def _kept() -> dict[str, list[list[str]]]:
    """Return the rows of each benchmark as they are written."""
    found: dict[str, list[list[str]]] = {}
    with data_path(FILE).open(encoding="utf-8", newline="") as file:
        for benchmark, *rest in csv.reader(file):
            found.setdefault(benchmark, []).append(rest)
    return found
