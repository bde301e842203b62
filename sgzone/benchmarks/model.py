"""A benchmark: expected strokes to hole out, by lie and distance."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from sgzone.benchmarks.curve import DERIVED, Curve, hold_start, lead_in, mean_of, through
from sgzone.errors import CallError
from sgzone.terms import (
    EVERY_LIE,
    GREEN,
    HOLED,
    KNOT_STATUSES,
    LIE,
    LIES,
    MAX_OFF_GREEN_FT,
    Lie,
)
from sgzone.units import to_ft

CELL_COLUMNS = ["lie", "cell", "x_lo", "x_hi", "x0", "c0", "c1", "c2", "c3", "status"]
NO_STATUS = ""


def _depth(lie: Lie) -> int:
    return 1 + max((_depth(LIE[other]) for other in lie.leans_on), default=0)


LEANING_LAST = sorted(EVERY_LIE, key=_depth)
"""Each lie after those that its curve leans on."""

Floats = NDArray[np.float64]
Words = NDArray[np.object_]


@dataclass(frozen=True, eq=False, repr=False)
class Benchmark:
    """Expected strokes by lie and distance, with the knots it rests on.

    ``knots``: lie, distance, unit, strokes, status (see ``status``), source.
    ``curves``: per lie, expected strokes by feet. ``players``: whose strokes it was fitted to.
    """

    name: str
    knots: pd.DataFrame
    curves: dict[str, Curve]
    players: tuple[str, ...] = ()

    def __repr__(self) -> str:
        return f"<Benchmark {self.name}: {len(self.lies)} lies, {len(self.knots)} knots>"

    def _repr_html_(self) -> str:
        """Return its knots as a notebook shows a table, under its name."""
        return f"<p>{escape(repr(self))}</p>{self.knots.to_html(max_rows=10, index=False)}"

    @property
    def lies(self) -> tuple[str, ...]:
        """The lies it has, from the tee to the green."""
        return tuple(lie for lie in LIES if lie in self.curves)

    def expected(self, lie: str | ArrayLike, distance_ft: ArrayLike) -> Floats:
        """Return expected strokes, in the common shape of lie and distance.

        ``lie``: one word or an array of words; ``distance_ft``: feet. 0 for ``holed``; NaN for a
        lie it lacks, a missing lie or distance, a negative distance. Raises CallError for a word
        that is no lie.
        """
        lies, distance = _broadcast(lie, distance_ft)
        value = np.full(distance.shape, np.nan)
        for word, rows in _by_lie(lies):
            if word == HOLED:
                value[rows] = 0.0
            elif word in self.curves:
                value[rows] = self.curves[word](distance[rows])
        return value

    def status(self, lie: str | ArrayLike, distance_ft: ArrayLike) -> Words:
        """Return what each expected value rests on.

        ``published``, ``fitted``, ``derived``, ``extrapolated`` or ``uncertain``. Arguments and
        errors as ``expected``; the empty word where that is NaN or 0.
        """
        lies, distance = _broadcast(lie, distance_ft)
        words = np.full(distance.shape, NO_STATUS, dtype=object)
        names = np.array(KNOT_STATUSES, dtype=object)
        for word, rows in _by_lie(lies):
            if word not in self.curves:
                continue
            curve, where = self.curves[word], distance[rows]
            found = names[curve.status[curve.piece(where)]]
            words[rows] = np.where(where >= curve.breaks[0], found, NO_STATUS)
        return words

    def cells(self) -> pd.DataFrame:
        """Return the curves cut at every whole foot from 0 to 2100, one row per lie and piece.

        ``cell`` is the whole foot, ``x_lo <= distance_ft < x_hi`` the row's reach, and the value
        c0 + c1 t + c2 t^2 + c3 t^3 with t = distance_ft - x0. A cell has several rows where a
        knot lies inside it.
        """
        return self._cells.copy()

    @cached_property
    def _cells(self) -> pd.DataFrame:
        tables = [_cells_of(lie, self.curves[lie]) for lie in self.lies]
        return pd.concat(tables, ignore_index=True)


def assemble(
    name: str, knots: pd.DataFrame, *, derive: bool, cubics: Mapping[str, Floats] | None = None
) -> Benchmark:
    """Return the benchmark through the knots of each lie, two or more per lie.

    ``derive``: a lie without knots is the mean of others where ``terms.Lie.mean_of`` names them.
    ``cubics``: per lie, what runs through its knots, where that is known (``ready``).
    """
    known = cubics or {}
    curves = {
        str(lie): _through_knots(rows, known.get(str(lie))) for lie, rows in knots.groupby("lie")
    }
    for lie in LEANING_LAST:
        if lie.name in curves:
            curves[lie.name] = _led_in(lie, curves)
    for lie in EVERY_LIE:
        if derive and lie.mean_of and lie.name not in curves:
            curves[lie.name] = mean_of([curves[other] for other in lie.mean_of], DERIVED)
    return Benchmark(name, knots, curves)


def _led_in(lie: Lie, curves: dict[str, Curve]) -> Curve:
    """Return the curve of a lie with what stands below its first knot."""
    if not lie.leans_on:
        return hold_start(curves[lie.name])
    base = leans_on(lie.name, curves)
    return lead_in(curves[lie.name], curves[base]) if base else curves[lie.name]


def leans_on(lie: str, curves: Container[str]) -> str | None:
    """Return the lie whose curve stands below the first knot of this one; None where none does."""
    return next((other for other in LIE[lie].leans_on if other in curves), None)


def break_even_proximity(
    benchmark: Benchmark, lie: str | ArrayLike, distance_ft: ArrayLike
) -> Floats:
    """Return the feet on the green from which a stroke from here gained exactly 0.

    Shapes and errors as ``Benchmark.expected``. NaN where there is none up to 2100 ft: nearer
    than the first putt of the curve, or the benchmark lacks the lie or the green.
    """
    from scipy.optimize.elementwise import find_root

    target = benchmark.expected(lie, distance_ft) - 1
    green = benchmark.curves.get(GREEN)
    if green is None:
        return np.full(target.shape, np.nan)
    # The curve is level up to its first knot, so the search starts at that knot.
    nearest, farthest = float(green.breaks[1]), MAX_OFF_GREEN_FT
    reachable = (target >= green(nearest)) & (target <= green(farthest))
    inside = np.where(reachable, target, green(nearest))

    def surplus(feet: Floats, want: Floats, /) -> Floats:
        return green(feet) - want

    found = find_root(surplus, (nearest, farthest), args=(inside,))
    return np.where(reachable, found.x, np.nan)


def _through_knots(rows: pd.DataFrame, cubics: Floats | None) -> Curve:
    feet = feet_of(rows)
    order = np.argsort(feet)
    codes = [KNOT_STATUSES.index(word) for word in rows["status"].to_numpy(object)]
    strokes = rows["strokes"].to_numpy(dtype=float)
    return through(feet[order], strokes[order], np.array(codes)[order], cubics)


def feet_of(knots: pd.DataFrame) -> Floats:
    """Return the distance of each knot in feet."""
    units = knots["unit"].to_numpy(object)  # cell by cell a column of text is slow
    return np.array([to_ft(d, unit) for d, unit in zip(knots["distance"], units, strict=True)])


def _broadcast(lie: str | ArrayLike, distance_ft: ArrayLike) -> tuple[Words, Floats]:
    try:
        feet = np.asarray(distance_ft, dtype=float)
    except (TypeError, ValueError, OverflowError) as wrong:
        raise CallError("distance_ft: give feet as numbers, such as 300 or [300, 12.5]") from wrong
    lies, distance = np.broadcast_arrays(np.asarray(lie, dtype=object), feet)
    return lies, distance


def _by_lie(lies: Words) -> Iterator[tuple[str, NDArray[np.bool_]]]:
    """Yield each lie that occurs with the mask of its rows; a missing lie is passed over."""
    unread = ~np.asarray(pd.isna(lies), dtype=bool)
    for word in (*LIES, HOLED):
        rows = np.asarray(lies == word, dtype=bool)
        if rows.any():
            unread &= ~rows
            yield word, rows
    if unread.any():
        wrong = lies[unread].flat[0]
        raise CallError(f"{wrong!r} is not a lie; the lies are {', '.join(LIES)} and {HOLED}.")


def _cells_of(lie: str, curve: Curve) -> pd.DataFrame:
    feet = np.arange(MAX_OFF_GREEN_FT + 2)
    edges = np.union1d(feet[feet >= curve.breaks[0]], curve.breaks)
    low, high = edges[:-1], edges[1:]
    piece = curve.piece(low)
    c3, c2, c1, c0 = curve.coefs[:, piece]
    return pd.DataFrame(
        {
            "lie": lie,
            "cell": np.floor(low).astype(np.int64),
            "x_lo": low,
            "x_hi": high,
            "x0": curve.breaks[piece],
            "c0": c0,
            "c1": c1,
            "c2": c2,
            "c3": c3,
            "status": np.array(KNOT_STATUSES, dtype=object)[curve.status[piece]],
        },
        columns=CELL_COLUMNS,
    )
