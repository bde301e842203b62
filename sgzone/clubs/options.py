"""A player's swings as options for a number: where each finishes, how wide, how well known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.clubs.shots import COURSE, GOOD_LIES, stock_swings
from sgzone.clubs.spreads import pulled_lean, swing_spreads
from sgzone.clubs.stock import releases, stocks
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

RELEASE_N = 8.0
"""What all swings together count for in one swing's release."""
MEDIAN_N = np.pi / 2
"""Shots of which a median tells as much as a mean of one, the usual pattern being normal."""
USUAL_RELEASE_YD = 0.0  # where no carry was ever written down beside a finish


@dataclass(frozen=True, slots=True)
class Swings:
    """The player's stock swings from one lie, arrays of shape (swings,), shortest first.

    ``carry_yd``: stock carry, pulled towards what the player means it to be; ``release_yd``. Shares
    of the distance: ``depth_sd``, ``side_sd`` with ``df`` and ``curve_sd`` (as in
    ``clubs.spreads.Spread``); ``carry_sd`` and ``side_lean_sd``, how well the stock carry and
    ``side_lean`` are known. ``shots``: what the spread rests on.
    """

    club: NDArray[np.object_]
    swing: NDArray[np.object_]
    carry_yd: Floats
    release_yd: Floats
    depth_sd: Floats
    side_sd: Floats
    df: Floats
    curve_sd: Floats
    side_lean: Floats
    carry_sd: Floats
    side_lean_sd: Floats
    shots: NDArray[np.int64]

    @property
    def finish_yd(self) -> Floats:
        """Where a stock swing finishes, yards: carry and release."""
        return self.carry_yd + self.release_yd


def swings_of(
    shots: pd.DataFrame,
    run: pd.DataFrame,
    benchmark: Benchmark,
    lie: str = "fairway",
    firmness: str | None = None,
) -> Swings:
    """Return the player's swings from ``shots`` (``clubs.shots.club_shots`` of one source).

    ``run``: course shots, for the release. ``lie``: fairway, rough or sand: spreads are of shots
    from there. ``firmness``: of the green; None is the usual one.
    """
    stock = stocks(shots)
    if not len(stock.carry):
        blank = np.array([])
        words = np.array([], dtype=object)
        return Swings(words, words, *(blank,) * 9, shots=blank.astype(np.int64))
    spread = swing_spreads(shots, stock.swings, stock.carry, lie, benchmark)
    known = np.isfinite(stock.meant)
    meant = np.where(known, stock.meant, stock.carry)
    off = (stock.carry - meant) / meant
    lean, lean_sd = pulled_lean(off, np.where(known, stock.n, 0), spread.depth_sd, MEDIAN_N)
    own = spread.depth_sd * np.sqrt(MEDIAN_N / stock.n)
    release, release_sd = _release(run, stock.swings, firmness)
    depth_sd = spread.depth_sd
    if len(shots) and shots["source"].iloc[0] != COURSE:  # a test ball's depth ends at its landing
        depth_sd = np.sqrt(depth_sd**2 + (release_sd / stock.carry) ** 2)
    return Swings(
        club=stock.swings.get_level_values("club").to_numpy(object),
        swing=stock.swings.get_level_values("swing").to_numpy(object),
        carry_yd=meant * (1 + lean),
        release_yd=release,
        depth_sd=depth_sd,
        side_sd=spread.side_sd,
        df=spread.df,
        curve_sd=spread.curve_sd,
        side_lean=spread.side_lean,
        carry_sd=np.where(known, lean_sd, own),
        side_lean_sd=spread.side_lean_sd,
        shots=spread.n.astype(np.int64),
    )


def _release(
    run: pd.DataFrame, swings: pd.MultiIndex, firmness: str | None
) -> tuple[Floats, Floats]:
    """Return mean and sd of each swing's release, yards, pulled towards that of all swings.

    A firmness moves it by what that firmness does to all swings, as far as its shots tell.
    """
    run = stock_swings(run[run["lie"].isin(GOOD_LIES)])
    run = run[run["carry_yd"].notna() & run["depth_ft"].notna()]
    value = (run["target_yd"] + run["depth_ft"] / FT_PER_YD - run["carry_yd"]).to_numpy(float)
    if not len(value):
        return np.full(len(swings), USUAL_RELEASE_YD), np.zeros(len(swings))
    found = releases(run, swings)
    n = found["release_shots"].astype(float)
    common, spread = float(np.median(value)), float(value.std(ddof=1)) if len(value) > 1 else 0.0
    own = np.where(n > 0, found["release_yd"].astype(float), common)
    mean = (n * own + RELEASE_N * common) / (n + RELEASE_N)
    if firmness is not None:
        here = value[(run["firmness"] == firmness).to_numpy()]
        if len(here):
            mean = mean + (float(np.median(here)) - common) * len(here) / (len(here) + RELEASE_N)
    sd = np.where(n > 1, found["release_sd_yd"].astype(float), spread)
    return mean, sd
