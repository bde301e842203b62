"""Share out a budget over activities with falling returns.

An activity with h hours returns gain (1 - exp(-h / scale)). The split that returns most, within a
floor and a ceiling for each activity, stands in closed form up to one number, the price of an
hour, which bisection finds. ``best_split`` does so draw by draw; ``best_on_average`` finds the one
split that returns most on average over draws.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

_BISECTIONS = 100
_STEPS = 200
_NEAR = 1e-10
"""Hours, as a share of the budget, at which Newton's steps end."""


def returns(gain: ArrayLike, scale: ArrayLike, hours: ArrayLike) -> Floats:
    """Return what ``hours`` bring: gain (1 - exp(-hours / scale)), in the common shape."""
    worth: Floats = np.asarray(gain, float) * -np.expm1(
        -np.asarray(hours, float) / np.asarray(scale, float)
    )
    return worth


def marginal(gain: ArrayLike, scale: ArrayLike, hours: ArrayLike) -> Floats:
    """Return what one more hour brings at ``hours``: the slope of ``returns``, per hour."""
    scale = np.asarray(scale, float)
    slope: Floats = np.asarray(gain, float) / scale * np.exp(-np.asarray(hours, float) / scale)
    return slope


def best_split(
    gain: ArrayLike,
    scale: ArrayLike,
    budget: float,
    floor: ArrayLike = 0.0,
    ceiling: ArrayLike = np.inf,
) -> Floats:
    """Return the hours of each activity that return most in total; shape (..., activities).

    ``gain``: 0 or more, (..., activities); ``scale``: hours, above 0; ``floor`` and ``ceiling``:
    hours per activity. Without any gain the budget is split equally; floors that exceed the budget
    are scaled down to it. Activities without gain get their floor. Raises ``ValueError`` where
    the ceilings cannot take the budget.
    """
    shape = np.broadcast_shapes(*(np.shape(x) for x in (gain, scale, floor, ceiling)))
    g, tau, low, high = (
        np.broadcast_to(np.asarray(x, float), shape) for x in (gain, scale, floor, ceiling)
    )
    low, high = _limits(low, high, budget)
    some = g.max(axis=-1, keepdims=True) > 0
    tau = np.where(some, tau, 1.0)
    with np.errstate(divide="ignore"):
        log_slope = np.where(some, np.log(g) - np.log(tau), 0.0)
    price = _price(log_slope, tau, budget, low, high)
    return _spend(_at_price(log_slope, tau, price, low, high), budget, low, high)


def best_on_average(
    gain: ArrayLike,
    scale: ArrayLike,
    budget: float,
    floor: ArrayLike = 0.0,
    ceiling: ArrayLike = np.inf,
) -> Floats:
    """Return the hours, (activities,), that return most on average over the draws.

    ``gain``: (draws, activities), 0 or more; the others as in ``best_split``, which it equals where
    all draws are alike. Without any gain the budget is split equally. Raises as ``best_split``, and
    ``RuntimeError`` where the search does not arrive.
    """
    from scipy.optimize import brentq

    g = np.asarray(gain, float)
    rate = 1 / np.broadcast_to(np.asarray(scale, float), g.shape)
    if not g.any():
        return best_split(np.zeros(g.shape[1]), 1.0, budget, floor, ceiling)
    low, high = (np.broadcast_to(np.asarray(x, float), g.shape[1:]) for x in (floor, ceiling))
    low, high = _limits(low, high, budget)
    if low.sum() >= budget * (1 - _NEAR):
        return low
    slope = g * rate
    with np.errstate(divide="ignore"):
        first = np.log(slope.mean(axis=0))

    def over(log_price: float) -> float:
        hours = _until(slope, rate, first, log_price, budget)
        return float(np.clip(hours, low, high).sum()) - budget

    top = float(first.max())
    step = 1.0
    while over(top - step) < 0 and step < 1e6:
        step *= 2
    price = brentq(over, top - step, top, xtol=1e-13) if over(top - step) > 0 else top - step
    hours = np.clip(_until(slope, rate, first, price, budget), low, high)
    return _spend(hours, budget, low, high)


def _until(slope: Floats, rate: Floats, first: Floats, log_price: float, budget: float) -> Floats:
    """Return the hours of each activity until an hour's mean return falls to the price.

    The logarithm of the mean return falls and is convex in the hours, so that Newton's steps from 0
    never go too far. ``first``: that logarithm at 0. Nobody gives an activity more than the budget.
    """
    hours = np.zeros_like(first)
    open_ = np.flatnonzero(first > log_price)
    for _ in range(_STEPS):
        if not len(open_):
            return hours
        worth = slope[:, open_] * np.exp(-hours[open_] * rate[:, open_])
        mean = worth.mean(axis=0)
        step = (np.log(mean) - log_price) * mean / (worth * rate[:, open_]).mean(axis=0)
        hours[open_] += step
        open_ = open_[(step > _NEAR * budget) & (hours[open_] < budget)]
    raise RuntimeError(f"the hours at a price were not found in {_STEPS} steps")


def _limits(low: Floats, high: Floats, budget: float) -> tuple[Floats, Floats]:
    """Return floors that the budget can pay, and ceilings that are no lower."""
    needed = low.sum(axis=-1, keepdims=True)
    low = low * np.divide(budget, needed, out=np.ones_like(needed), where=needed > budget)
    high = np.maximum(high, low)
    if np.any(high.sum(axis=-1) < budget * (1 - 1e-12)):
        raise ValueError("the ceilings add up to less than the budget")
    return low, high


def _at_price(
    log_slope: Floats, scale: Floats, log_price: Floats, floor: Floats, ceiling: Floats
) -> Floats:
    hours: Floats = np.clip(scale * (log_slope - log_price), floor, ceiling)
    return hours


def _price(
    log_slope: Floats, scale: Floats, budget: float, floor: Floats, ceiling: Floats
) -> Floats:
    """Return the log price of an hour at which the hours bought are the budget; (..., 1)."""
    known = np.isfinite(log_slope)
    high = np.where(known, log_slope, -np.inf).max(axis=-1, keepdims=True)
    high = np.where(np.isfinite(high), high, 0.0)
    deepest = np.where(known, log_slope - (budget + floor) / scale, np.inf).min(
        axis=-1, keepdims=True
    )
    low = np.where(np.isfinite(deepest), deepest, -1.0) - 1.0
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        bought = _at_price(log_slope, scale, middle, floor, ceiling).sum(axis=-1, keepdims=True)
        low, high = np.where(bought > budget, middle, low), np.where(bought > budget, high, middle)
    found: Floats = 0.5 * (low + high)
    return found


def _spend(hours: Floats, budget: float, floor: Floats, ceiling: Floats) -> Floats:
    """Return the hours with what is left over spread by room.

    Only where every activity with a gain stands at its ceiling is anything left.
    """
    left = budget - hours.sum(axis=-1, keepdims=True)
    room = np.where(np.isfinite(ceiling), ceiling - hours, 1.0)
    room = np.where(left > 0, room, hours - floor)
    total = room.sum(axis=-1, keepdims=True)
    share = np.divide(room, total, out=np.zeros_like(hours), where=total > 0)
    spent: Floats = hours + left * share
    return spent
