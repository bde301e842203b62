"""The hours of each part: what wins back most on average, within floors and ceilings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sgzone.errors import CallError
from sgzone.practice.losses import Losses
from sgzone.practice.settings import Settings
from sgzone.stats.response import best_on_average, best_split, returns
from sgzone.terms import MIN_SHOTS

Floats = NDArray[np.float64]
Limits = tuple[Floats, Floats]

NO_BETTER = 0.005
"""Strokes per round that are no reason to prefer one split to another."""
_FLOORS = (1.0, 0.5, 0.25, 0.0)
"""Shares of the usual floors: the first that does not put the plan behind the hours now."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """Draws of what hours bring: gain c L (draws, parts), scale tau (draws, 1 or parts)."""

    gain: Floats
    scale: Floats

    def won(self, hours: Floats) -> Floats:
        """Return the strokes per round that these hours win back in each draw."""
        strokes: Floats = returns(self.gain, self.scale, hours).sum(axis=1)
        return strokes


def drawn(losses: Losses, settings: Settings, seed: int) -> Drawn:
    """Return draws of losses, recoverable shares and rates."""
    rng = np.random.default_rng((seed, 1))
    count, parts = losses.draws.shape
    c = np.array(settings.of("recoverable_by_part", settings.recoverable))
    tau = np.array(settings.of("rate_by_part", settings.rate_hours))
    share = np.minimum(c * np.exp(settings.recoverable_spread * rng.normal(size=(count, parts))), 1)
    scale = tau * np.exp(settings.rate_spread * rng.normal(size=(count, 1)))
    return Drawn(share * losses.floored, scale)


def best_hours(
    losses: Losses, settings: Settings, budget: float, draws: Drawn, now: Floats | None
) -> tuple[Floats, Limits]:
    """Return the hours of each part, and the floors and ceilings they were found in.

    ``now``: shares of the hours of today, or None. The usual floors give way where they would put
    the plan behind the hours now; what the user set stays. Raises ``CallError`` for limits that
    cannot hold together.
    """
    few = (losses.shots < MIN_SHOTS) & draws.gain.any()
    ours = not (settings.own_limits or settings.rate_by_part)
    for kept in _FLOORS:
        limits = _limits(settings, kept, budget, now, few)
        hours = best_on_average(draws.gain, draws.scale, budget, *limits)
        if now is None or not ours:
            break
        if draws.won(now * budget).mean() - draws.won(hours).mean() <= NO_BETTER:
            break
    if settings.rate_by_part:
        # Beliefs about single parts' rates are often wrong by more than a factor: lean back.
        hours = 0.5 * hours + 0.5 * _in_proportion(proportional(losses.mean), budget, *limits)
    return hours, limits


def limits_cost(
    losses: Losses,
    settings: Settings,
    budget: float,
    draws: Drawn,
    now: Floats | None,
    hours: Floats,
) -> float:
    """Return the strokes per round that the user's own limits take from ``hours``."""
    if not settings.own_limits:
        return 0.0
    free, _ = best_hours(losses, settings.without_limits(), budget, draws, now)
    return max(0.0, float(draws.won(free).mean() - draws.won(hours).mean()))


def proportional(loss: Floats) -> Floats:
    """Return shares in proportion to the losses; equal ones where no part loses."""
    positive = np.maximum(loss, 0.0)
    if not positive.any():
        return np.full(len(loss), 1 / len(loss))
    shares: Floats = positive / positive.sum()
    return shares


def _in_proportion(shares: Floats, budget: float, floor: Floats, ceiling: Floats) -> Floats:
    """Return hours in these shares as far as floors and ceilings let them.

    With the share as gain and as scale, hours at one price are proportional to the share.
    """
    weight = np.maximum(shares, 1e-9)
    return best_split(weight, weight, budget, floor, ceiling)


def _limits(
    settings: Settings, kept: float, budget: float, now: Floats | None, few: NDArray[np.bool_]
) -> Limits:
    """Return floors and ceilings; a part with few shots has no more hours than its floor."""
    floor = np.array(settings.least(budget, kept))
    ceiling = np.array(settings.of("ceiling_by_part", np.inf))
    if settings.largest_change is not None:
        floor, ceiling = _near_now(settings.largest_change, budget, now, floor, ceiling)
    clash = np.flatnonzero((ceiling < floor) & (floor.sum() <= budget))
    if len(clash):
        raise CallError(
            f"{settings.parts[clash[0]]}: the ceiling of {ceiling[clash[0]]:g} hours is under the "
            f"floor of {floor[clash[0]]:g}; raise one or lower the other"
        )
    if ceiling.sum() < budget:
        raise CallError(
            f"the ceilings add up to {ceiling.sum():g} hours and the block has {budget:g}; raise a "
            "ceiling or plan fewer hours"
        )
    least = np.where(few, floor, ceiling)
    return floor, least if least.sum() >= budget else ceiling


def _near_now(
    change: float, budget: float, now: Floats | None, floor: Floats, ceiling: Floats
) -> Limits:
    """Return the limits with no share further from today's than ``change``.

    A part's own floor and ceiling come first: the change gives way to them.
    """
    if now is None:
        raise CallError(
            "a largest change from today's split needs today's split: load a practice log, "
            "or leave the setting out"
        )
    least, most = (now - change) * budget, (now + change) * budget
    return (
        np.maximum(floor, np.minimum(least, ceiling)),
        np.minimum(ceiling, np.maximum(most, floor)),
    )
