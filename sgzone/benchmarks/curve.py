"""Expected strokes from one lie as cubic pieces in feet, and the rules beyond the knots.

A curve runs through its knots by PCHIP (Fritsch and Carlson's monotone cubic, from scipy, or from
``ready`` for the named ones). The
rules outside the knots are sums of the same pieces, so a whole curve is one piecewise cubic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sgzone.terms import KNOT_STATUSES, MAX_OFF_GREEN_FT

END_FT = MAX_OFF_GREEN_FT + 1
"""Pieces are cut here; the last one holds beyond it too, being a straight line."""

PUBLISHED, FITTED, DERIVED, EXTRAPOLATED, UNCERTAIN = range(len(KNOT_STATUSES))
"""Codes of ``KNOT_STATUSES``; of two that meet, the higher one is what the number deserves."""

Floats = NDArray[np.float64]
Codes = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Curve:
    """Expected strokes by distance in feet, from ``breaks[0]`` outwards.

    ``breaks``: (m + 1,) feet, rising. ``coefs``: (4, m), highest power first, in feet from the
    piece's own break (scipy's order). ``status``: (m,) codes of ``KNOT_STATUSES``.
    """

    breaks: Floats
    coefs: Floats
    status: Codes

    def piece(self, distance_ft: ArrayLike) -> Codes:
        """Return the number of the piece that holds each distance (feet); it holds its left end."""
        found = np.searchsorted(self.breaks, distance_ft, side="right") - 1
        return np.clip(found, 0, len(self.status) - 1).astype(np.int64)

    def __call__(self, distance_ft: ArrayLike) -> Floats:
        """Return expected strokes at distances in feet; NaN before the curve's start."""
        distance = np.asarray(distance_ft, dtype=float)
        piece = self.piece(distance)
        value = _polynomial(self.coefs[:, piece], distance - self.breaks[piece])
        return np.where(distance >= self.breaks[0], value, np.nan)


def _polynomial(coefs: Floats, t: Floats) -> Floats:
    """Return the value at ``t``, the lowest power first as in scipy's PPoly: the same to the bit.

    ``coefs``: highest power first, each of the shape of ``t``.
    """
    value: Floats = coefs[-1]
    power = t
    with np.errstate(over="ignore", invalid="ignore"):  # no distance at all, or an endless one
        for coef in coefs[-2::-1]:
            value = value + coef * power
            power = power * t
    return value


def through(
    distance_ft: ArrayLike,
    strokes: ArrayLike,
    status: ArrayLike,
    cubics: Floats | None = None,
) -> Curve:
    """Return the curve through two knots or more (rising feet), from the first knot outwards.

    Between knots PCHIP, with the worse status of the two; beyond the last knot the chord of the
    last two, extrapolated. ``cubics``: what PCHIP gives but for the knots' own strokes,
    (3, pieces), where it is known.
    """
    x, y = np.asarray(distance_ft, dtype=float), np.asarray(strokes, dtype=float)
    codes = np.asarray(status, dtype=np.int64)
    inner = _pchip(x, y) if cubics is None else np.vstack([cubics, y[:-1]])
    slope = (y[-1] - y[-2]) / (x[-1] - x[-2])
    tail = np.array([[0.0], [0.0], [slope], [y[-1]]])
    return Curve(
        breaks=np.append(x, END_FT),
        coefs=np.hstack([inner, tail]),
        status=np.append(np.maximum(codes[:-1], codes[1:]), max(codes[-1], EXTRAPOLATED)),
    )


def _pchip(x: Floats, y: Floats) -> Floats:
    from scipy.interpolate import PchipInterpolator

    return np.asarray(PchipInterpolator(x, y).c, float)


def hold_start(curve: Curve) -> Curve:
    """Return the curve with its first value held down to 0 ft: the rule for putts."""
    flat = Curve(
        breaks=np.array([0.0, curve.breaks[0]]),
        coefs=np.array([[0.0], [0.0], [0.0], [curve.coefs[3, 0]]]),
        status=np.array([PUBLISHED]),
    )
    return _joined(flat, curve)


def lead_in(curve: Curve, base: Curve) -> Curve:
    """Return the curve with ``base`` plus the curve's surplus at its first knot before that knot.

    The rule below 10 yd (``base``: putts) and for a tee below 100 yd (``base``: fairway). A base
    whose last knot is nearer than that (an own benchmark) is leaned on from its last knot only,
    and the chord of the curve's first two knots bridges the gap. A base that starts farther out
    adds nothing.
    """
    if base.breaks[0] >= curve.breaks[0]:
        return curve
    reach = base.breaks[-2]
    if reach < curve.breaks[0]:
        curve = _bridged(curve, reach)
    first = curve.breaks[0]
    kept = int(np.searchsorted(base.breaks, first))
    coefs = base.coefs[:, :kept].copy()
    coefs[3] += curve.coefs[3, 0] - base(first)
    before = Curve(np.append(base.breaks[:kept], first), coefs, base.status[:kept])
    return _joined(before, curve)


def _bridged(curve: Curve, start: float) -> Curve:
    """Return the curve with the chord of its first two knots carried in to ``start`` feet."""
    first, second = curve.breaks[:2]
    slope = (curve(second) - curve(first)) / (second - first)
    value = curve(first) - slope * (first - start)
    coefs = np.array([[0.0], [0.0], [float(slope)], [float(value)]])
    return _joined(Curve(np.array([start, first]), coefs, np.array([PUBLISHED])), curve)


def mean_of(curves: Sequence[Curve], status: int) -> Curve:
    """Return the mean of curves at the same distance, with at least the given status."""
    start = max(curve.breaks[0] for curve in curves)
    breaks = np.unique(np.concatenate([curve.breaks for curve in curves]))
    breaks = breaks[breaks >= start]
    left = breaks[:-1]
    return Curve(
        breaks=breaks,
        coefs=np.mean([_coefs_at(curve, left) for curve in curves], axis=0),
        status=np.max([curve.status[curve.piece(left)] for curve in curves], axis=0).clip(status),
    )


def _coefs_at(curve: Curve, left: Floats) -> Floats:
    """Return the (4, n) coefficients of the curve's cubics seen from the points ``left``."""
    piece = curve.piece(left)
    c3, c2, c1, c0 = curve.coefs[:, piece]
    t = left - curve.breaks[piece]
    slopes = [np.stack(of) for of in ((6 * c3,), (6 * c3, 2 * c2), (3 * c3, 2 * c2, c1))]
    powers = [_polynomial(of, t) / factorial(k) for of, k in zip(slopes, (3, 2, 1), strict=True)]
    return np.stack([*powers, _polynomial(np.stack((c3, c2, c1, c0)), t)])


def _joined(before: Curve, curve: Curve) -> Curve:
    """Return ``before`` up to its last break, then ``curve``; the added part is extrapolated."""
    least = max(EXTRAPOLATED, int(curve.status[0]))
    return Curve(
        breaks=np.concatenate([before.breaks[:-1], curve.breaks]),
        coefs=np.hstack([before.coefs, curve.coefs]),
        status=np.concatenate([before.status.clip(least), curve.status]),
    )
