"""Whether means of several series changed over a season of rounds, all series looked at together.

A series has a sum S and a weight n (its strokes) in every round. Two tests look for a change: the
second stretch of rounds less the first, which sees a step best, and a straight line through all
rounds, which sees a slow drift. What luck does is learned from the rounds in random order, whole
rounds at a time: the smallest p-value that any series of a family reaches there is what a p-value
has to beat. That pays for looking at several series and for the second test at once, and the range
that is widened by it leaves out 0 where the change is called one, and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import stdtr, stdtrit

from sgzone.stats.cluster import welch

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

SHUFFLES = 2000
CHANCE = 0.05
"""A change is called one where luck moves some series of its family so far less often."""
_PLACES_AT_A_TIME = 200_000  # shuffles x rounds at once: a few megabytes
_ALIKE = 1 + 1e-9  # two p-values of one order of rounds differ by the computer's rounding
_NO_SCATTER = 1e-12  # share of the variance that is rounding: rounds that are all alike


@dataclass(frozen=True, slots=True)
class Fit:
    """An estimate of every series, its standard error and degrees of freedom, shape (..., series).

    NaN where there are too few rounds.
    """

    value: Floats
    se: Floats
    df: Floats

    @property
    def p(self) -> Floats:
        """Two-sided p-value of each by itself; 1 where nothing is known."""
        with np.errstate(divide="ignore", invalid="ignore"):
            alone = 2 * stdtr(self.df, -np.abs(self.value) / self.se)
        return np.where(np.isfinite(alone), alone, 1.0)

    def half_width(self, chance: ArrayLike) -> Floats:
        """Return how far a range reaches that leaves out the truth with this chance."""
        reach: Floats = -stdtrit(self.df, np.asarray(chance) / 2) * self.se
        return reach


@dataclass(frozen=True, slots=True)
class Change:
    """What changed, arrays of shape (series,).

    ``first``, ``second``: means of the two stretches, per unit of weight. ``step``: second less
    first. ``line``: the straight line from the first round to the last. ``p``: how often luck alone
    moves some series of the family as far; NaN for a series that was not asked about. ``alpha``:
    the p-value a series by itself has to beat: a range that leaves out the truth with this chance
    holds all series of the family at once in 95 seasons of 100.
    """

    first: Fit
    second: Fit
    step: Fit
    line: Fit
    p: Floats
    alpha: Floats

    @property
    def called(self) -> Flags:
        """Which series changed by more than luck."""
        flags: Flags = self.p < CHANCE
        return flags

    @property
    def drifted(self) -> Flags:
        """Which of them the straight line alone shows."""
        return self.called & (self.step.p >= self.alpha)


def halves(rounds: int) -> tuple[int, int]:
    """Return how many rounds the first half has and where the second starts; the middle is left."""
    return rounds // 2, rounds - rounds // 2


def enough(weight: Floats, cut: tuple[int, int], least: int) -> Flags:
    """Return which series have ``least`` rounds with any weight on both sides of ``cut``."""
    there = weight > 0
    flags: Flags = (there[: cut[0]].sum(axis=0) >= least) & (there[cut[1] :].sum(axis=0) >= least)
    return flags


def changes(
    total: Floats,
    weight: Floats,
    cut: tuple[int, int],
    asked: Flags,
    family: NDArray[np.intp],
    rng: np.random.Generator,
    *,
    line: bool = True,
    shuffles: int = SHUFFLES,
) -> Change:
    """Return what changed between two stretches of a season.

    ``total``, ``weight``: S and n, shape (rounds, series), rounds in order. ``cut``: rounds of the
    first stretch, and the place at which the second starts. ``asked``, ``family``: (series,),
    which are judged, and together with which others (equal numbers). ``line``: whether the
    straight line is a second test.
    """
    rounds = len(total)
    sums = _Sums.of(total, weight)
    in_order = np.arange(rounds)[None, :]
    first, second = sums.stretches(in_order, cut)
    step = _difference(first, second)
    drift = sums.line(in_order)
    alone = _smallest(step, drift if line else None)[0]
    blocks = [
        _smallest(_difference(*sums.stretches(places, cut)), sums.line(places) if line else None)
        for places in _orders(rounds, shuffles if asked.any() else 0, rng)
    ]
    p, alpha = np.full(len(alone), np.nan), np.full(len(alone), np.nan)
    for one in np.unique(family[asked]):
        members = asked & (family == one)
        least = np.sort(np.concatenate([luck[:, members].min(axis=1) for luck in blocks]))
        as_far = np.searchsorted(least, alone[members] * _ALIKE, side="right")
        p[members] = (1 + as_far) / (1 + shuffles)
        # so many orders may be as far and it is still called a change: the next is not to be
        most = ceil(CHANCE * (1 + shuffles)) - 2
        alpha[members] = least[most] / (1 + (_ALIKE - 1) / 2) if most >= 0 else 0.0
    return Change(
        first=_only(first, sums.middle),
        second=_only(second, sums.middle),
        step=_only(step),
        line=_only(drift),
        p=p,
        alpha=alpha,
    )


def _only(fit: Fit, middle: ArrayLike = 0.0) -> Fit:
    return Fit(middle + fit.value[0], fit.se[0], fit.df[0])


def _difference(first: Fit, second: Fit) -> Fit:
    se, df = welch(first.se**2, first.df, second.se**2, second.df)
    return Fit(second.value - first.value, se, df)


def _smallest(step: Fit, line: Fit | None) -> Floats:
    return step.p if line is None else np.minimum(step.p, line.p)


def _orders(rounds: int, shuffles: int, rng: np.random.Generator) -> Iterator[NDArray[np.intp]]:
    """Give the place of every round in each random order, in blocks (some, rounds)."""
    some = max(1, _PLACES_AT_A_TIME // max(rounds, 1))
    for start in range(0, shuffles, some):
        size = min(some, shuffles - start)
        yield rng.permuted(np.tile(np.arange(rounds), (size, 1)), axis=1)


@dataclass(frozen=True, slots=True)
class _Sums:
    """What every order of the rounds needs of them: then an order costs a few matrix products.

    Sums are taken about the mean of the season (``middle``), so that a series that never varies
    is exactly level. ``of_round``: per round S, n, S^2, S n, n^2 and whether n > 0, side by side.
    """

    middle: Floats
    total: Floats
    weight: Floats
    of_round: Floats
    scatter: Floats

    @classmethod
    def of(cls, total: Floats, weight: Floats) -> _Sums:
        """Return the sums of S and n, shape (rounds, series)."""
        with np.errstate(divide="ignore", invalid="ignore"):
            middle = total.sum(axis=0) / weight.sum(axis=0)
        apart = total - weight * middle
        there = weight > 0
        squares = np.divide(apart**2, weight, out=np.zeros_like(apart), where=there)
        columns = [apart, weight, apart**2, apart * weight, weight**2, there.astype(float)]
        return cls(middle, apart, weight, np.concatenate(columns, axis=1), squares.sum(axis=0))

    def stretches(self, places: NDArray[np.intp], cut: tuple[int, int]) -> tuple[Fit, Fit]:
        """Return the means of both stretches, about ``middle``.

        ``places``: (orders, rounds), where each round stands.
        """
        return self._stretch(places < cut[0]), self._stretch(places >= cut[1])

    def _stretch(self, inside: Flags) -> Fit:
        found = inside.astype(float) @ self.of_round
        s, n, ss, sn, nn, rounds = np.split(found, 6, axis=1)
        floor = _NO_SCATTER * (self.total**2).sum(axis=0)
        with np.errstate(divide="ignore", invalid="ignore"):
            mean = s / n
            error = np.maximum(ss - 2 * mean * sn + mean**2 * nn, floor)
            se = rounds / (rounds - 1) * np.sqrt(error) / n
        known = rounds > 1
        return Fit(mean, np.where(known, se, np.nan), np.where(known, rounds - 1, np.nan))

    def line(self, places: NDArray[np.intp]) -> Fit:
        """Return the straight line from the first place to the last; ``places`` as above."""
        length = places.shape[1] - 1
        t = places - length / 2
        n = self.weight.sum(axis=0)
        rounds = (self.weight > 0).sum(axis=0)
        with np.errstate(divide="ignore", invalid="ignore"):
            about = (t**2) @ self.weight - (t @ self.weight) ** 2 / n
            slope = (t @ self.total) / about
            error = np.maximum(self.scatter - slope**2 * about, _NO_SCATTER * self.scatter)
            se = np.sqrt(error / (rounds - 2) / about)
        df = np.broadcast_to(np.where(rounds > 2, rounds - 2.0, np.nan), slope.shape)
        return Fit(slope * length, se * length, df)
