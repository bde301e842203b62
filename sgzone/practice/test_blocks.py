"""Did practice help? Test blocks first: the change of the log miss from one half to the other.

Only blocks of mixed numbers count; own and range balls, grass and mats are never pooled. A day has
an effect of its own, so days are the sample, not balls. No rate of learning is ever fitted: a
season cannot tell it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import ndtri, stdtrit

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.placing import parts_of
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.practice.log import practice_log
from sgzone.practice.settings import Settings
from sgzone.resources import sql
from sgzone.review.why.reference import reference_finish
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.cluster import welch
from sgzone.terms import DEFAULT_LEVEL, FAIRWAY, OUTSIDE
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

MIXED = 3
"""A block with fewer different numbers is a measurement of one swing, not a test of the part."""
MIN_DAYS = 3
POWER, ONE_SIDED = 0.80, 0.05
GAIN = 0.5
"""Strokes per round that a good block of practice may win."""
_NEAREST_FT = 0.5
_LOG_OVER_MEDIAN = (np.log(2) - np.euler_gamma) / 2 - np.log(np.sqrt(2 * np.log(2)))
"""Mean log of a Rayleigh radius less the log of its median: where a player at the level stands."""

CHANGE_COLUMNS = (
    *("part", "ball", "surface", "days_before", "days_after", "balls", "change", "low", "high"),
    *("smallest_seen", "hours_between", "recoverable", "recoverable_low", "recoverable_high"),
)


def mixed_blocks(
    store: Store, benchmark: str | Benchmark, selection: Selection = EVERYTHING
) -> pd.DataFrame:
    """Return each test ball of mixed blocks with its log miss.

    Balls at numbers outside the zone are left out. Adds ``part`` (by target, as from the
    fairway), ``miss_ft``, ``mark_ft`` (the level's median
    finish from that number) and ``log_miss`` = ln(miss / mark): 0 is about the level's own.
    """
    values = selection.parameters()
    del values["event"]
    balls = store.frame(sql("practice", "test_balls"), values)
    numbers = balls.groupby(["date", "block"])["target_yd"].transform("nunique")
    balls = balls[numbers >= MIXED].reset_index(drop=True)
    curve = in_store(store, benchmark)
    feet = balls["target_yd"].to_numpy(float) * FT_PER_YD
    mark = reference_finish(curve, FAIRWAY, feet).median_ft
    miss = np.hypot(balls["depth_ft"].to_numpy(float), balls["side_ft"].to_numpy(float))
    miss = np.maximum(miss, _NEAREST_FT)
    balls = balls.assign(
        part=parts_of(FAIRWAY, feet), miss_ft=miss, mark_ft=mark, log_miss=np.log(miss / mark)
    )
    return balls[balls["part"] != OUTSIDE].reset_index(drop=True)


@bounded
def block_change(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    settings: Settings | None = None,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return the change of the miss from the first half of the test days to the second.

    ``change``, ``low``, ``high``: relative (-0.2: misses a fifth smaller), at ``level``, by Welch's
    t on day means. ``smallest_seen``: the change that so many days show in 80% of cases (one-sided
    5%). ``hours_between``: practice of the part from one half's middle to the other's, by the log.
    ``recoverable``: the share of the loss practice may win back, updated by this change. Under
    three days a half: no change is given.
    """
    settings = settings or Settings()
    balls = mixed_blocks(store, benchmark, selection)
    log = practice_log(store, selection)
    apart = ["part", "ball", "surface"]
    rows = [
        _change(rows, dict(zip(apart, rows[apart].iloc[0], strict=True)), log, settings, level)
        for _, rows in balls.groupby(apart, dropna=False, sort=True)
    ]
    return pd.DataFrame(rows, columns=list(CHANGE_COLUMNS))


@bounded
def rounds_to_show(
    store: Store, benchmark: str | Benchmark, selection: Selection, gain: float = GAIN
) -> float:
    """Return the rounds before and as many after that would show ``gain`` strokes per round.

    In 80% of cases, one-sided 5%, by the scatter of the player's own rounds. NaN under two rounds.
    """
    sums = round_sums(store, benchmark, selection)
    sizes = round_sizes(store, selection).set_index("round_key")["holes"]
    totals = sums.groupby("round_key")["total"].sum().reindex(sizes.index).fillna(0.0)
    if len(totals) < 2:
        return float("nan")
    sd = float((totals * 18 / sizes).std())
    return 2 * ((ndtri(1 - ONE_SIDED) + ndtri(POWER)) * sd / gain) ** 2


def _change(
    balls: pd.DataFrame,
    keys: dict[str, object],
    log: pd.DataFrame,
    settings: Settings,
    level: float,
) -> dict[str, object]:
    part = keys["part"]
    days = balls.groupby("date")["log_miss"].mean()
    half = len(days) // 2
    first, second = days.to_numpy(float)[:half], days.to_numpy(float)[half:]
    row: dict[str, object] = {
        **keys,
        **{"days_before": len(first), "days_after": len(second), "balls": len(balls)},
    }
    if min(len(first), len(second)) < MIN_DAYS:
        return row
    one, other = (half.var(ddof=1) / len(half) for half in (first, second))
    se, df = map(float, welch(one, len(first) - 1, other, len(second) - 1))
    if se == 0:  # day means that never differ are no measurement
        return row
    change = float(second.mean() - first.mean())
    reach = float(stdtrit(df, 0.5 + level / 2)) * se
    # t, not the normal: with three days a half the normal finds half of what it promises to
    seen = float(stdtrit(df, 1 - ONE_SIDED) + stdtrit(df, POWER)) * se
    hours = _hours_between(log, part, days.index, half)
    own = settings.recoverable_by_part.get(str(part), settings.recoverable)
    low, middle, high = updated_recoverable(
        (change, se, df), float(first.mean()) - _LOG_OVER_MEDIAN, hours, own, settings, level
    )
    return row | {
        "change": np.expm1(change),
        "low": np.expm1(change - reach),
        "high": np.expm1(change + reach),
        "smallest_seen": -np.expm1(-seen),
        "hours_between": hours,
        "recoverable": middle,
        "recoverable_low": low,
        "recoverable_high": high,
    }


def updated_recoverable(
    seen: tuple[float, float, float],
    excess: float,
    hours: float,
    recoverable: float,
    settings: Settings,
    level: float,
) -> tuple[float, float, float]:
    """Return low, median and high of the recoverable share after a change of the log miss.

    ``seen``: that change, its standard error and the degrees of freedom of the latter.
    ``excess``: log miss over the level's own before; practice of ``hours`` is expected to take
    c (1 - exp(-hours / tau)) of it away. tau keeps its prior throughout: it is summed over, not
    fitted. Without hours or excess the prior comes back.
    """
    from scipy.stats import norm
    from scipy.stats import t as student_t

    c = recoverable * np.exp(settings.recoverable_spread * np.linspace(-3.5, 3.5, 141))
    tau = settings.rate_hours * np.exp(settings.rate_spread * np.linspace(-3.0, 3.0, 61))
    prior = norm.pdf(np.linspace(-3.5, 3.5, 141))[:, None] * norm.pdf(np.linspace(-3, 3, 61))
    expected = -max(excess, 0.0) * c[:, None] * -np.expm1(-hours / tau)
    change, se, df = seen
    weight = (prior * student_t.pdf((change - expected) / se, df)).sum(axis=1)
    reached = np.cumsum(weight) / weight.sum()
    tail = 0.5 - level / 2
    ends = [float(np.interp(p, reached, c)) for p in (tail, 0.5, 1 - tail)]
    return ends[0], min(ends[1], 1.0), min(ends[2], 1.0)


def _hours_between(log: pd.DataFrame, part: object, days: pd.Index, half: int) -> float:
    dates = pd.to_datetime(pd.Series(days))
    middle = [dates.iloc[:half].mean(), dates.iloc[half:].mean()]
    when = pd.to_datetime(log["date"])
    chosen = (log["part"] == part) & (when > middle[0]) & (when <= middle[1])
    return float(log.loc[chosen, "minutes"].sum()) / 60
