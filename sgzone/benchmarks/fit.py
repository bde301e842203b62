"""A benchmark of one's own strokes: a published curve, shifted as far as the strokes carry it.

Off the green the strokes needed are taken as normal about base + shift, the shift a sum of hat
functions in the logarithm of distance. On the green the share holed is shifted on the logit scale
and what follows a miss is scaled. Both start from a belief of no shift, so a lie without strokes
keeps the base's curve to the last bit. See docs/method-fit.md.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import expit, logit, ndtri

from sgzone.benchmarks.curve import Curve
from sgzone.benchmarks.model import LEANING_LAST, Benchmark, assemble, feet_of
from sgzone.benchmarks.own import MIN_KNOT_GAP_FT, MIN_STROKES
from sgzone.benchmarks.putts import split
from sgzone.benchmarks.tables import KNOT_COLUMNS, level_gap
from sgzone.bounds import bounded
from sgzone.stats.hat import Prior, Shift, logit_shift, normal_shift
from sgzone.stats.isotonic import rising_like
from sgzone.stats.resample import SEED
from sgzone.terms import EVERY_LIE, KNOT_STATUSES, ZONE_FT
from sgzone.units import FT_PER_YD, from_ft

Floats = NDArray[np.float64]

NODES_FT = (30.0, 60.0, 120.0, 210.0, 300.0, 450.0)
PUTT_NODES_FT = (3.0, 6.0, 10.0, 20.0, 40.0, 90.0)
LEVEL_SD = 0.5
"""How far a group's level lies from the base's, as a share of the way from tour to amateur-90."""


def _level_apart(feet: Floats) -> Floats:
    """Return what one sd of level is worth at distances in feet: a share of the published gap."""
    gap: Floats = level_gap(pd.Series(feet / FT_PER_YD))[0].to_numpy(float)
    return LEVEL_SD * gap


PRIOR = Prior(common=0.15, tilt=0.08, local=0.06, reach=0.5, shape=_level_apart)
"""Off the green, in strokes: how far a group's curve lies from the published one it starts from."""
STROKE_SD = 0.6
"""Scatter of the strokes needed from one place, inside 150 yards."""
PUTT_PRIOR = Prior(common=0.6, tilt=0.2, local=0.25, reach=0.5)
"""The same on the logit of the share holed; from tour to amateur-90 it is about 1."""
AFTER_MISS = 2.0
"""Three-putts count as if this many had been seen beside, at the base's rate."""
MOSTLY = 0.5
"""From this share of strokes in a knot's value it is called fitted."""
BAND_LEVEL = 0.90
DRAWS = 2000

_LEANED_ON = {other for lie in EVERY_LIE for other in lie.leans_on}


class _Curve(NamedTuple):
    """A lie's fitted values at its knots, their band, and the share of them that is strokes."""

    value: Floats
    low: Floats
    high: Floats
    weight: Floats


@bounded
def fit_benchmark(
    name: str, base: Benchmark, rows: pd.DataFrame, level: float = BAND_LEVEL
) -> Benchmark:
    """Return the benchmark of the strokes ``rows`` (``outcomes``), shrunk towards ``base``.

    Its knots carry n (strokes nearest to the knot), low and high (the band at ``level``, missing
    for a lie without strokes). Lies that the base has without knots keep its rule
    (``terms.Lie.mean_of``).
    """
    tables = {lie: _blank(base.knots[base.knots["lie"] == lie]) for lie in base.lies}
    tables = {lie: table for lie, table in tables.items() if len(table)}
    derive = set(tables) < set(base.lies)
    current = base
    for lie in (lie.name for lie in LEANING_LAST):
        here = rows[rows["lie"] == lie]
        if lie in tables and len(here):
            tables[lie] = _fit_lie(name, tables[lie], current.curves[lie], here, level)
            if lie in _LEANED_ON:
                knots = pd.concat(tables.values(), ignore_index=True)
                current = assemble(name, knots, derive=derive)
    knots = pd.concat(tables.values(), ignore_index=True)
    made = assemble(name, knots, derive=derive)
    return replace(made, players=tuple(sorted({*rows["player"], *base.players})))


def _blank(knots: pd.DataFrame) -> pd.DataFrame:
    return knots.reindex(columns=KNOT_COLUMNS).assign(n=0, low=np.nan, high=np.nan)


def _fit_lie(
    name: str, knots: pd.DataFrame, curve: Curve, rows: pd.DataFrame, level: float
) -> pd.DataFrame:
    """Return the knots of one lie moved to its strokes, ``curve`` being what stands there now."""
    lie = str(knots["lie"].iloc[0])
    reach = feet_of(knots)
    first, last = reach.min(), reach.max()
    wanted = PUTT_NODES_FT if lie == "green" else NODES_FT
    nodes = np.array([x for x in wanted if first <= x <= last] or [first])
    table = _with_nodes(knots, nodes, curve)
    feet = feet_of(table)
    model = _putts if lie == "green" else _off_green
    found = model(curve, rows, nodes, feet, level)
    n = _nearest(rows["distance_ft"].to_numpy(float), feet)
    base = curve(feet)
    steady = 1 / np.maximum(found.high - found.low, 1e-9) ** 2
    value, low, high = (
        np.maximum(rising_like(base, part, steady), MIN_STROKES)
        for part in (found.value, found.low, found.high)
    )
    return table.assign(
        strokes=value,
        low=low,
        high=high,
        n=n,
        status=_status(table["status"], _carried(n, feet, found.weight)),
        source=name + "+" + table["source"],
    )


def _off_green(
    curve: Curve, rows: pd.DataFrame, nodes: Floats, feet: Floats, level: float
) -> _Curve:
    distance = rows["distance_ft"].to_numpy(float)
    residual = rows["strokes"].to_numpy(float) - curve(distance)
    shift = normal_shift(distance, residual, nodes, PRIOR, STROKE_SD)
    value = curve(feet) + shift.at(feet)
    half = ndtri(0.5 + level / 2) * shift.sd(feet)
    return _Curve(value, value - half, value + half, _weight(shift, PRIOR, feet))


def _putts(curve: Curve, rows: pd.DataFrame, nodes: Floats, feet: Floats, level: float) -> _Curve:
    """Fit the share holed and the putts after a miss.

    What is added to the base is the difference of the two models, so that a base whose own split
    is rough keeps its values where nothing was seen.
    """
    distance = rows["distance_ft"].to_numpy(float)
    missed, after = split(curve(distance))
    holed = rows["holed"].to_numpy(float)
    shift = logit_shift(distance, holed, logit(1 - missed), nodes, PUTT_PRIOR)
    gone = holed == 0
    # beyond the one putt that every miss costs
    seen = AFTER_MISS + np.maximum(rows["strokes"].to_numpy(float)[gone] - 2, 0).sum()
    meant = AFTER_MISS + (after[gone] - 1).sum()
    missed, after = split(curve(feet))

    def putts(moved: Floats, times: Floats | float) -> Floats:
        more: Floats = expit(logit(missed) - moved) * (1 + (after - 1) * times)
        return more

    base = curve(feet) - putts(np.zeros(len(feet)), 1.0)
    value = base + putts(shift.at(feet), seen / meant)
    rng = np.random.default_rng(SEED)
    times = rng.gamma(seen, 1 / meant, size=(DRAWS, 1))
    drawn = base + putts(shift.draws(feet, DRAWS, rng), times)
    low, high = np.quantile(drawn, [0.5 - level / 2, 0.5 + level / 2], axis=0)
    return _Curve(value, low, high, _weight(shift, PUTT_PRIOR, feet))


def _weight(shift: Shift, prior: Prior, feet: Floats) -> Floats:
    """Return how much of the belief at each distance comes from strokes, 0 to 1."""
    before = Shift(shift.nodes, shift.mean, prior.covariance(shift.nodes))
    weight: Floats = 1 - (shift.sd(feet) / before.sd(feet)) ** 2
    return weight


def _carried(n: NDArray[np.intp], feet: Floats, weight: Floats) -> list[str]:
    """Return what strokes do for each knot: beyond them all nothing, else most of it or little."""
    seen = np.flatnonzero(n)
    place = np.arange(len(n))
    beyond = (place < seen[0]) | (place > seen[-1]) | (feet > ZONE_FT)
    return list(np.where(beyond, "extrapolated", np.where(weight >= MOSTLY, "fitted", "derived")))


def _status(base: pd.Series[str], carried: list[str]) -> list[str]:
    """Return ``fitted`` where strokes carry most of the value, else the less certain word."""
    rank = {word: place for place, word in enumerate(KNOT_STATUSES)}
    return [
        word if word == "fitted" else max(old, word, key=rank.__getitem__)
        for old, word in zip(base, carried, strict=True)
    ]


def _with_nodes(knots: pd.DataFrame, nodes: Floats, curve: Curve) -> pd.DataFrame:
    """Return the knots with the nodes between them added, at the curve's own values."""
    apart = np.abs(nodes[:, None] - feet_of(knots)[None, :]).min(axis=1)
    extra = nodes[apart >= MIN_KNOT_GAP_FT]
    unit = str(knots["unit"].iloc[0])
    inner = _in_order(knots)
    copied = inner.iloc[np.searchsorted(feet_of(inner), extra) - 1]
    added = copied.assign(
        distance=[from_ft(x, unit) for x in extra], unit=unit, strokes=curve(extra)
    )
    return _in_order(pd.concat([knots, added], ignore_index=True))


def _in_order(knots: pd.DataFrame) -> pd.DataFrame:
    return knots.take(np.argsort(feet_of(knots), kind="stable")).reset_index(drop=True)


def _nearest(distance: Floats, feet: Floats) -> NDArray[np.intp]:
    """Return how many strokes lie nearest to each knot, by the ratio of distances."""
    edges = np.sqrt(feet[:-1] * feet[1:])
    return np.bincount(np.searchsorted(edges, distance), minlength=len(feet))
