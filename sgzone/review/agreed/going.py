"""How each agreement goes: before it and since, the range of the change, what would settle it.

An agreement is one question of its own. Its verdict comes of whole rounds in random order, as a
change over the season does (``stats.change``); too few rounds or shots on a side give none.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from scipy.special import ndtri

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.review.agreed.observed import GAINED, Observed
from sgzone.review.where.cells import HOLES_PER_ROUND
from sgzone.season.agreed.keeping import AGREEMENT_COLUMNS, kept
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.change import changes
from sgzone.stats.cluster import means
from sgzone.stats.rates import (
    Estimate,
    chance_reached,
    difference_interval,
    median_interval,
    share_interval,
)
from sgzone.stats.resample import SEED
from sgzone.stats.verdict import BETTER_SINCE, NOT_SETTLED, TOO_FEW, WORSE_SINCE
from sgzone.terms import DEFAULT_LEVEL, FEET, MEASURE, MIN_ROUNDS, MIN_SHOTS, SHARE

if TYPE_CHECKING:
    from sgzone.season.store import Store

YEAR = pd.Timedelta(days=365)
"""How far back before reaches: an older game is another game."""
POWER, CHANCE = 0.80, 0.02
"""A change of the size asked for would be called one so often; luck alone is so seldom. Many look
again each week: six looks at nothing then call a change in 4 to 12 seasons of 100, at .05 in 9 to
20."""
WORTH_SEEING = {SHARE: 0.10, FEET: 0.10, GAINED: 0.10}
"""The change to look for where no target says it: ten points of a share, a tenth of the proximity,
a tenth of a stroke per shot."""
LEAST_GAP = {SHARE: 0.02, FEET: 0.5}
"""A target nearer than this to where it was: the change worth seeing stands for it."""
_REACH = float(ndtri(1 - CHANCE / 2) + ndtri(POWER))
_NONE: Estimate = (np.nan, np.nan, np.nan)


@dataclass(frozen=True, slots=True)
class Going:
    """How one agreement goes. NaN where nothing can be counted.

    ``before``, ``since``, ``change`` (since less before) in ``unit``: a share from 0 to 1, feet, or
    strokes gained per 18 holes (``per round``). ``more``: about how many more shots would show
    a change of ``gap``, in the same unit. ``met``: the chance that the true value has reached the
    target. ``p``: how often luck moves it as far.
    """

    unit: str | None = None
    before: float = np.nan
    before_low: float = np.nan
    before_high: float = np.nan
    since: float = np.nan
    since_low: float = np.nan
    since_high: float = np.nan
    change: float = np.nan
    change_low: float = np.nan
    change_high: float = np.nan
    shots_before: int = 0
    shots_since: int = 0
    rounds_before: int = 0
    rounds_since: int = 0
    p: float = np.nan
    verdict: str = ""
    gap: float = np.nan
    more: float = np.nan
    met: float = np.nan


GOING_COLUMNS = (*AGREEMENT_COLUMNS, *Going.__dataclass_fields__)


@bounded
def agreements(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return one row per agreement, open and closed: what was agreed on and how it goes.

    Columns: agreement (its number), player, day (agreed on), text, part, measure, from_ft, to_ft,
    target, due, closed (the day it was done, missing while open); unit: ``share`` (0 to 1), ``ft``
    or ``per round`` (strokes gained per 18 holes against the benchmark), missing where nothing is
    counted; before and since with low and high at ``level``: rounds up to the day within a year,
    and those after it; change (since less before) with its range; shots_before, shots_since,
    rounds_before, rounds_since; p: how often luck alone moves it as far; verdict (``better since``,
    ``worse since``, ``not settled``, ``too few``, or blank); more: about how many more shots would
    show a change of ``gap``; met: the chance from 0 to 1 that the
    target is reached.

    Raises ``CallError`` for an unknown player or benchmark.
    """
    store.refuse_unknown(selection.player)
    table = kept(store, selection.player)
    rows = []
    for player, own in table.groupby("player", sort=True):
        of = Observed(store, benchmark, replace(selection, player=str(player)))
        rows += [asdict(going(of, row, level, seed)) for _, row in own.iterrows()]
    facts = pd.DataFrame(rows, columns=list(Going.__dataclass_fields__))
    return pd.concat([table, facts], axis=1)[list(GOING_COLUMNS)]


def counted(of: Observed, row: pd.Series) -> tuple[pd.DataFrame | None, str | None]:
    """Return what an agreement counts and its unit; None and None where it counts nothing."""
    if not pd.isna(row["measure"]):
        ends = [None if pd.isna(row[name]) else float(row[name]) for name in ("from_ft", "to_ft")]
        return of.of_measure(row["measure"], *ends), MEASURE[row["measure"]].unit
    if not pd.isna(row["part"]):
        return of.of_part(row["part"]), GAINED
    return None, None


def going(of: Observed, row: pd.Series, level: float, seed: int) -> Going:
    """Return how one agreement goes; ``row``: of ``keeping.kept``."""
    seen, unit = counted(of, row)
    recent = _recent(of.rounds, row["day"])
    later = recent["date"] > row["day"]
    if seen is None or unit is None:
        return Going(rounds_before=int((~later).sum()), rounds_since=int(later.sum()))
    seen = _recent(seen, row["day"])
    rate = _rate(of, seen, unit, row["day"])
    before, since = _split(seen, row["day"])
    first, second = (estimate(stretch, unit, level, rate) for stretch in (before, since))
    change = difference_interval(first, second)
    p = _luck(seen, before, unit, seed)
    gap, more = _settles(seen, len(before), len(since), unit, _wanted(unit, first[0], row), level)
    return Going(
        unit,
        *first,
        *second,
        *change,
        **_sizes(before, since),
        p=p,
        verdict=_verdict(p, change[0], row["measure"]),
        gap=gap * rate,
        more=more,
        met=_met(since, unit, row, level),
    )


def estimate(seen: pd.DataFrame, unit: str, level: float, rate: float = 1.0) -> Estimate:
    """Return the value of a stretch with its range.

    ``rate``: strokes per 18 holes, for what is gained per round.
    """
    if seen.empty:
        return _NONE
    key, value = seen["round_key"].to_numpy(), seen["value"].to_numpy()
    if unit == SHARE:
        return share_interval(key, value, level)
    if unit == FEET:
        return median_interval(key, value, level)
    found = means(np.zeros(len(seen), int), key, value, 1, level)
    return (
        float(found.estimate[0] * rate),
        float(found.low[0] * rate),
        float(found.high[0] * rate),
    )


def _recent(frame: pd.DataFrame, day: pd.Timestamp) -> pd.DataFrame:
    return frame[frame["date"] > day - YEAR]


def _split(seen: pd.DataFrame, day: pd.Timestamp) -> tuple[pd.DataFrame, pd.DataFrame]:
    later = seen["date"] > day
    return seen.loc[~later], seen.loc[later]


def _sizes(before: pd.DataFrame, since: pd.DataFrame) -> dict[str, int]:
    return {
        "shots_before": len(before),
        "shots_since": len(since),
        "rounds_before": before["round_key"].nunique(),
        "rounds_since": since["round_key"].nunique(),
    }


def enough(seen: pd.DataFrame) -> bool:
    """Return whether a stretch has shots and rounds enough to be judged."""
    return len(seen) >= MIN_SHOTS and seen["round_key"].nunique() >= MIN_ROUNDS


def _luck(seen: pd.DataFrame, before: pd.DataFrame, unit: str, seed: int) -> float:
    """Return how often rounds in random order differ as far; NaN where a side has too few.

    Of the proximity the share inside the middle of all is compared: where that rises the median
    falls.
    """
    since = seen.iloc[len(before) :]
    if not (enough(before) and enough(since)):
        return np.nan
    value = seen["value"].to_numpy()
    if unit == FEET:
        value = (value <= np.median(value)).astype(float)
    _, place = np.unique(seen["round_key"], return_inverse=True)
    total, weight = (np.bincount(place, of)[:, None].astype(float) for of in (value, value * 0 + 1))
    first = before["round_key"].nunique()
    rng, asked = np.random.default_rng(seed), np.array([True])
    found = changes(total, weight, (first, first), asked, np.zeros(1, int), rng, line=False)
    return float(found.p[0])


def _verdict(p: float, change: float, measure: object) -> str:
    if np.isnan(p):
        return TOO_FEW
    if p >= CHANCE or not change:
        return NOT_SETTLED
    gained = MEASURE[measure].better(change) if isinstance(measure, str) else change
    return BETTER_SINCE if gained > 0 else WORSE_SINCE


def _wanted(unit: str, before: float, row: pd.Series) -> float:
    """Return the change to look for: up to the target, else one that is worth seeing."""
    if not pd.isna(row["target"]):
        ahead = float(MEASURE[row["measure"]].better(row["target"] - before))
        if ahead >= LEAST_GAP[unit]:
            return ahead
    return WORTH_SEEING[unit] * (before if unit == FEET else 1.0)


def _settles(
    seen: pd.DataFrame, first: int, since: int, unit: str, wanted: float, level: float
) -> tuple[float, float]:
    """Return a change and about how many more shots would show it, per shot.

    Where the shots before are too few for the change that is wanted, however many follow, it is the
    one that as many shots since would show. From the scatter of all shots there are, those of one
    round taken together.
    """
    if len(seen) < MIN_SHOTS or not first or not wanted > 0:
        return np.nan, np.nan
    variance = _variance(seen, unit, level)
    left = (wanted / _REACH) ** 2 / variance - 1 / first
    if left > 0:
        return wanted, float(max(ceil(1 / left) - since, MIN_SHOTS - since, 0))
    many = max(first, since)
    return float(_REACH * np.sqrt(variance * (1 / first + 1 / many))), float(many - since)


def _variance(seen: pd.DataFrame, unit: str, level: float) -> float:
    """Return the variance that one shot has, so that of n shots the mean has an n-th of it."""
    n = len(seen)
    value = seen["value"].to_numpy()
    if unit == FEET:
        _, low, high = estimate(seen, unit, level)
        return float(n * ((high - low) / 2 / ndtri(0.5 + level / 2)) ** 2)
    found = means(np.zeros(n, int), seen["round_key"], value, 1, level)
    together = float(found.se[0] ** 2 * n) if found.rounds[0] > 1 else 0.0
    alone = float(value.var())
    if unit == SHARE:  # of none or all there still is a chance of the other
        share = (value.sum() + 0.5) / (n + 1)
        alone = float(share * (1 - share))
    return max(together, alone)


def _met(since: pd.DataFrame, unit: str, row: pd.Series, level: float) -> float:
    """Return the chance that the true value since then has reached the target."""
    target, measure = row["target"], row["measure"]
    if pd.isna(target) or not enough(since):
        return np.nan
    key, value = since["round_key"].to_numpy(), since["value"].to_numpy()
    if unit == FEET:  # the median is within it where half of the shots or more are
        return chance_reached(key, value <= target, 0.5, level)
    above = chance_reached(key, value, target, level)
    return above if MEASURE[measure].more else 1 - above


def over_time(of: Observed, row: pd.Series, level: float) -> pd.DataFrame:
    """Return what an agreement counts month by month; the month it was agreed in as two.

    Columns: date (the middle of what is counted), later (since it), value, low, high, n (strokes,
    tries or greens). Nothing where nothing is counted.
    """
    seen, unit = counted(of, row)
    columns = ["date", "later", "value", "low", "high", "n"]
    if seen is None or unit is None or seen.empty:
        return pd.DataFrame(columns=columns)
    seen = _recent(seen, row["day"])
    rate = _rate(of, seen, unit, row["day"])
    later = (seen["date"] > row["day"]).rename("later")
    found = [
        (
            _middle(months["date"]),
            after,
            *estimate(months, unit, level, rate),
            len(months),
        )
        for (_, after), months in seen.groupby([seen["date"].dt.to_period("M"), later], sort=True)
    ]
    return pd.DataFrame(found, columns=columns)


def _middle(days: pd.Series) -> pd.Timestamp:
    """Return the day of the middle stroke; days in order."""
    return pd.Timestamp(days.iloc[len(days) // 2])


def _rate(of: Observed, seen: pd.DataFrame, unit: str, day: pd.Timestamp) -> float:
    """Return strokes per 18 holes of what is gained per round; 1 of all else."""
    holes = _recent(of.rounds, day)["holes"].sum()
    return len(seen) / (holes / HOLES_PER_ROUND) if unit == GAINED and holes else 1.0
