"""What a finish at some distance from the hole is worth, and how a benchmark player scatters.

A finish r feet from the hole is worth h(r) = p(r) + pen(r): the benchmark's putts from there, plus
what missing the green adds. The benchmark's scatter from a lie and distance is the one whose mean
h is what the benchmark expects after the stroke, E(before) - 1, and the share of its strokes that
are holed: h counts a putt for each of those, and the benchmark none.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import expit, ndtr

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.hole import hole_and_ball_ft
from sgzone.stats.logistic import logistic_fit
from sgzone.stats.quadrature import Kind, Points, normal_points, points_of
from sgzone.stats.resample import SEED
from sgzone.stats.split import RadialTable
from sgzone.terms import BLOCKED_LIES, FRINGE, GREEN, LIES, ZONE_FT

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Assumptions:
    """What the split rests on that no published table gives; docs/method-why.md lists each.

    Lengths in feet. ``off_ft`` and ``off_width`` are replaced by a fit to the player's own shots
    where there are ``refit_shots`` or more.
    """

    off_ft: float = 36.0  # own simulation: half of the finishes this far away have missed the green
    off_width: float = 0.277  # own simulation: width of that logistic, in ln(feet)
    off_lies: tuple[
        tuple[str, float], ...
    ] = (  # own simulation: where missed greens leave the ball
        ("fairway", 0.32),
        ("rough", 0.53),
        ("sand", 0.15),
    )
    refit_shots: int = 150
    ratio_at_ft: tuple[float, ...] = (30.0, 225.0, 480.0)
    # assumption: side sd / depth sd at ratio_at_ft, straight lines in ln(distance) between
    ratio: tuple[float, ...] = (0.55, 0.80, 0.85)
    ratio_times: float = 1.0  # the user's setting, multiplies ``ratio``
    mishit_share: float = 0.03  # assumption
    mishit_depth: float = -0.12  # assumption: mean depth of a mishit, share of the distance
    mishit_depth_sd: float = 0.12  # assumption: its sd, share of the distance
    mishit_side: float = 2.0  # assumption: its side sd, times the usual one
    held_below_ft: float = 30.0  # assumption: nearer than this the share of distance stays
    past_ft: float = 3.0  # assumption: a ball that would have run this far past may drop


ASSUMPTIONS = Assumptions()

UNSPLIT_LIES = (*BLOCKED_LIES, GREEN)
"""A putt has no split; a blocked shot is not aimed at the hole."""

_STEP_FT = 0.1
_FARTHEST_FT = 700.0
_NEAREST_FT = 0.01
_GRID_FT = np.arange(30.0, ZONE_FT + 31.0, 15.0)
_SHARES = np.geomspace(0.003, 1.5, 64)  # depth sd of the usual stroke, share of the distance
_USUAL, _MISHIT = 512, 128  # quadrature points of either kind of stroke


class Finish(NamedTuple):
    """How a benchmark's shots finish: total sds and the median distance to the hole, feet."""

    sd_depth: Floats
    sd_side: Floats
    median_ft: Floats


class Scatter(NamedTuple):
    """Mean depth and total sds of a benchmark's shots, feet; long is positive, mean side 0."""

    mean_depth: Floats
    sd_depth: Floats
    sd_side: Floats

    def times(self, scale: Floats) -> Scatter:
        """Return the same pattern so many times as large."""
        return Scatter(*(scale * axis for axis in self))


def value_table(benchmark: Benchmark, assumptions: Assumptions = ASSUMPTIONS) -> RadialTable:
    """Return h(r) in its two columns, proximity p and missed green pen, strokes by feet.

    NaN throughout where the benchmark has no putts. A column of lies the benchmark lacks is
    shared out among those it has.
    """
    feet = np.maximum(np.arange(0.0, _FARTHEST_FT + _STEP_FT, _STEP_FT), _NEAREST_FT)
    off = np.zeros_like(feet)
    present = [(lie, share) for lie, share in assumptions.off_lies if lie in benchmark.lies]
    for lie, share in present:
        off += share * benchmark.expected(lie, feet) / sum(s for _, s in present)
    putts = putts_from(benchmark, feet, assumptions)
    chance = expit((np.log(feet) - np.log(assumptions.off_ft)) / assumptions.off_width)
    return RadialTable(_STEP_FT, np.stack([putts, chance * (off - putts) if present else 0 * feet]))


def putts_from(
    benchmark: Benchmark, distance_ft: ArrayLike, assumptions: Assumptions = ASSUMPTIONS
) -> Floats:
    """Return what the proximity column counts for a finish: the benchmark's putts from there.

    Never more than the easiest shot from there off the green: far beyond the putting tables the
    chord that extends them crosses the other curves, and a topped wedge would read as very bad
    proximity made good by missing the green.
    """
    others = [
        benchmark.expected(lie, distance_ft)
        for lie, _ in assumptions.off_lies
        if lie in benchmark.lies
    ]
    return np.asarray(np.minimum.reduce([benchmark.expected("green", distance_ft), *others]))


def refitted(
    assumptions: Assumptions, finish_ft: ArrayLike, off_green: ArrayLike, on_fringe: ArrayLike
) -> Assumptions:
    """Return the assumptions with what missing the green is like taken from the player's shots.

    ``finish_ft``: feet to the hole after the stroke, above 0; ``off_green``: whether it missed;
    ``on_fringe``: whether it ended there. The chance of missing is fitted, and the fringe's share
    of the misses is the player's own; other lies keep their proportions. As they were under
    ``refit_shots``, and the chance also where the fit does not rise with distance.
    """
    feet, off = np.asarray(finish_ft, float), np.asarray(off_green, bool)
    if len(feet) < assumptions.refit_shots:
        return assumptions
    if off.any():
        assumptions = _with_fringe(assumptions, float(np.asarray(on_fringe, bool)[off].mean()))
    fit = logistic_fit(np.log(feet), off)
    if fit is None or fit.slope <= 0:
        return assumptions
    return replace(
        assumptions, off_ft=float(np.exp(-fit.intercept / fit.slope)), off_width=1 / fit.slope
    )


def _with_fringe(assumptions: Assumptions, share: float) -> Assumptions:
    others = [(lie, part) for lie, part in assumptions.off_lies if lie != FRINGE]
    whole = sum(part for _, part in others)
    kept = tuple((lie, part / whole * (1 - share)) for lie, part in others)
    return replace(assumptions, off_lies=(*kept, *([(FRINGE, share)] if share else [])))


@dataclass(frozen=True, eq=False)
class ReferenceModel:
    """The scatter a benchmark implies, solved on a grid of distances for every lie it has.

    ``shares``: per lie, depth sd of the usual (not mishit) stroke as a share of the distance at
    ``_GRID_FT``. ``missed``: per lie, the mean of the missed-green column there.
    """

    benchmark: Benchmark
    assumptions: Assumptions
    table: RadialTable
    shares: dict[str, Floats]
    missed: dict[str, Floats]

    def scatter(self, lie: ArrayLike, distance_ft: ArrayLike) -> Scatter:
        """Return how shots of a lie from ``distance_ft`` scatter; NaN for a lie without split."""
        share, distance = self._share(lie, distance_ft)
        return _scatter(self.assumptions, share, distance)

    def holed(self, lie: ArrayLike, distance_ft: ArrayLike) -> Floats:
        """Return the share of the benchmark's shots that go in; NaN for a lie without split."""
        return _holed(self.assumptions, self.scatter(lie, distance_ft))

    def median_ft(self, lie: ArrayLike, distance_ft: ArrayLike) -> Floats:
        """Return the median distance to the hole after shots of a lie from ``distance_ft``."""
        share, distance = self._share(lie, distance_ft)
        radius = _radii(self.assumptions, share[..., None], distance[..., None])
        order = np.argsort(radius, axis=-1)
        reached = np.cumsum(_nodes(self.assumptions).weight[order], axis=-1) >= 0.5
        middle = np.take_along_axis(order, np.argmax(reached, axis=-1)[..., None], axis=-1)
        found: Floats = np.take_along_axis(radius, middle, axis=-1)[..., 0]
        return found

    def columns(self, lie: ArrayLike, distance_ft: ArrayLike) -> tuple[Floats, Floats]:
        """Return the reference's mean of the two columns; together E(before) - 1.

        Proximity is the remainder, so that shots holed from off the green are in it.
        """
        lies, distance = _pair(lie, distance_ft)
        missed = _by_lie(self.missed, lies, distance)
        return self.benchmark.expected(lies, distance) - 1 - missed, missed

    def share_inside(self, lie: ArrayLike, distance_ft: ArrayLike, radius_ft: ArrayLike) -> Floats:
        """Return the share of the benchmark's shots that finish within ``radius_ft``."""
        share, distance = self._share(lie, distance_ft)
        radius = _radii(self.assumptions, share[..., None], distance[..., None])
        inside = radius <= np.asarray(radius_ft, float)[..., None]
        found: Floats = np.where(np.isnan(share), np.nan, inside @ _nodes(self.assumptions).weight)
        return found

    def _share(self, lie: ArrayLike, distance_ft: ArrayLike) -> tuple[Floats, Floats]:
        lies, distance = _pair(lie, distance_ft)
        return _by_lie(self.shares, lies, distance), distance


@lru_cache(maxsize=32)
def reference_model(benchmark: Benchmark, assumptions: Assumptions = ASSUMPTIONS) -> ReferenceModel:
    """Solve the scatter a benchmark implies, once per benchmark and set of assumptions.

    Where E(before) - 1 cannot be reached the end of the searched range stands.
    """
    table = value_table(benchmark, assumptions)
    radius = _radii(assumptions, _SHARES[None, :, None], _GRID_FT[:, None, None])
    proximity, missed = table(radius) @ _nodes(assumptions).weight
    scatter = _scatter(assumptions, _SHARES, _GRID_FT[:, None])
    left = np.maximum.accumulate(proximity + missed - _holed(assumptions, scatter), axis=1)
    shares, missed_by_lie = {}, {}
    for lie in benchmark.lies:
        if lie in UNSPLIT_LIES:
            continue
        target = benchmark.expected(lie, _GRID_FT) - 1
        rows = list(zip(target, left, missed, strict=True))
        shares[lie] = np.array([np.interp(t, h, _SHARES) for t, h, _ in rows])
        missed_by_lie[lie] = np.array([np.interp(t, h, m) for t, h, m in rows])
    return ReferenceModel(benchmark, assumptions, table, shares, missed_by_lie)


def reference_finish(
    benchmark: Benchmark,
    lie: ArrayLike,
    distance_ft: ArrayLike,
    assumptions: Assumptions = ASSUMPTIONS,
) -> Finish:
    """Return the benchmark's finish from a lie and distance (feet); NaN for a lie without split.

    Shapes: the common one of lie and distance.
    """
    model = reference_model(benchmark, assumptions)
    scatter = model.scatter(lie, distance_ft)
    return Finish(scatter.sd_depth, scatter.sd_side, model.median_ft(lie, distance_ft))


def _pair(lie: ArrayLike, distance_ft: ArrayLike) -> tuple[NDArray[np.object_], Floats]:
    lies, distance = np.broadcast_arrays(np.asarray(lie, object), np.asarray(distance_ft, float))
    return lies, distance


def _by_lie(values: dict[str, Floats], lies: NDArray[np.object_], distance: Floats) -> Floats:
    found = np.full(distance.shape, np.nan)
    for lie in LIES:
        if lie in values:
            at = lies == lie
            found[at] = np.interp(distance[at], _GRID_FT, values[lie])
    return found


def _scatter(a: Assumptions, share: Floats, distance: Floats) -> Scatter:
    q = a.mishit_share
    depth = (1 - q) * share**2 + q * (a.mishit_depth_sd**2 + (1 - q) * a.mishit_depth**2)
    side = share * _ratio(a, distance) * np.sqrt(1 + q * (a.mishit_side**2 - 1))
    return Scatter(
        mean_depth=q * a.mishit_depth * distance,
        sd_depth=np.sqrt(depth) * distance,
        sd_side=side * distance,
    )


def _holed(a: Assumptions, scatter: Scatter) -> Floats:
    """Return the share that goes in: on line with the hole, and there or not too far past it."""
    hole, _ = hole_and_ball_ft()
    on_line = 2 * ndtr(hole / scatter.sd_side) - 1
    return np.asarray(on_line * (ndtr(a.past_ft / scatter.sd_depth) - 0.5))


def _ratio(assumptions: Assumptions, distance: Floats) -> Floats:
    at = np.log(np.maximum(distance, _NEAREST_FT))
    ratio = np.interp(at, np.log(assumptions.ratio_at_ft), assumptions.ratio)
    return np.asarray(ratio * assumptions.ratio_times, float)


def _radii(assumptions: Assumptions, share: Floats, distance: Floats) -> Floats:
    """Return finish distances (feet) at the quadrature points, on a new last axis of points."""
    nodes = _nodes(assumptions)
    along = nodes.fixed + share * nodes.usual
    return distance * np.hypot(along, share * _ratio(assumptions, distance) * nodes.side)


@lru_cache(maxsize=32)
def _nodes(assumptions: Assumptions) -> Points:
    """Return the points of one shot: depth = fixed + share x usual, side = share x ratio x side."""
    a = assumptions
    kind = Kind(a.mishit_share, a.mishit_depth, a.mishit_depth_sd, a.mishit_side)
    return points_of(kind, *(normal_points((n,), SEED)[0] for n in (_USUAL, _MISHIT)))
