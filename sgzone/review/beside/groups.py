"""Two clubs, swings or conditions at the same number and lie: which is better, and how sure.

Strokes are compared inside one lie and one distance step only, so that a club is not blamed for
where it was played from. Course shots only: test blocks are another kind of evidence.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import ndtri

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.review.beside.grouping import BOUNCE, compare_keys, in_order, labels, with_bounce
from sgzone.review.beside.pairs import FACTS, mixes, pair_spreads, shared_rows
from sgzone.scoring import scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.groups import Observations, Pairs, Prior, Scatter, needed_each, scatter
from sgzone.stats.groups import compare as compare_groups
from sgzone.stats.verdict import BETTER_HERE, LEANING, NO_DIFFERENCE, TOO_FEW
from sgzone.terms import AIMED_LIES, DEFAULT_LEVEL, LIES, MIN_SHOTS, PART_NAMES
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

COMPARE_COLUMNS = (
    *("first", "second", "at_yd", "difference", "low", "high", "p_better", "verdict", "better"),
    *("adjusted", "adjusted_low", "adjusted_high", "shots_first", "shots_second"),
    *("rounds_first", "rounds_second", "shots_to_settle"),
    *("proximity_first_ft", "proximity_second_ft"),
    *("depth_sd_first_ft", "depth_sd_second_ft", "side_sd_first_ft", "side_sd_second_ft"),
    *("known_first", "known_second", "spread_p", *FACTS),
)

PRIOR = Prior(difference_sd=0.08, sd=0.33, df=30)
"""Own trials: sd of a true difference between clubs or swings, and of one stroke, strokes."""
WINDOW_YD = 10.0
GAP = 0.10
"""The difference, strokes per shot, that ``shots_to_settle`` is about."""
LEAN, BETTER = 0.80, 0.90
RULE_LEVEL = 0.80
"""Words rest on this level whatever level is shown."""
BEYOND = 0.02
"""Strokes per shot that the raw interval must lie beyond before one is called better."""
_PUTT_STEP_FT = 5.0
_STEP_FT = WINDOW_YD * FT_PER_YD


@bounded
def compared_strokes(
    store: Store,
    by: str | Sequence[str],
    at: float | None = None,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    split_date: date | None = None,
    lie: str | None = None,
    part: str | None = None,
) -> pd.DataFrame:
    """Return the strokes that ``questions.compare`` compares, with ``group``; arguments as there.

    Raises ``CallError`` for unknown words.
    """
    keys = compare_keys(by, split_date)
    rows = scored(store, benchmark, selection)
    rows = with_bounce(rows, store) if BOUNCE in keys else rows
    rows = rows.assign(group=labels(rows, keys, split_date))
    number_counts = "wind" not in keys  # the effective number holds the wind already
    return chosen_strokes(rows, at, lie, part, effective=number_counts)


@bounded
def chosen_strokes(
    frame: pd.DataFrame,
    at: float | None = None,
    lie: str | None = None,
    part: str | None = None,
    *,
    effective: bool = True,
) -> pd.DataFrame:
    """Return the scored strokes to compare with ``number_yd`` and ``stratum`` (lie and step).

    ``frame``: columns of ``scoring.gained.scored``; other arguments as in ``questions.compare``.
    Raises ``CallError`` for an unknown lie or part, and for putts at a number.
    """
    for word, words, what in ((lie, LIES, "lie"), (part, PART_NAMES, "part")):
        if word is not None and word not in words:
            raise CallError(
                f'no {what} is called "{word}".{did_you_mean(word, words)} Choose from: '
                f"{', '.join(words)}."
            )
    rows = frame[(frame["status"] == "scored") & frame["part"].isin(PART_NAMES)]
    if lie is not None:
        rows = rows[rows["lie"] == lie]
    if part is not None:
        rows = rows[rows["part"] == part]
    if lie is None and part is None:
        rows = rows[rows["lie"].isin(AIMED_LIES)]
    number = rows["distance_yd"]
    if effective:
        number = rows["effective_yd"].where(rows["effective_yd"].notna(), number)
    rows = rows.assign(number_yd=number)
    if at is None:
        size = np.where(rows["lie"] == "green", _PUTT_STEP_FT, _STEP_FT)
        step = np.floor(rows["number_yd"] * FT_PER_YD / size).astype(int).astype(str)
        return rows.assign(stratum=rows["lie"].astype(str) + " " + step)
    if (rows["lie"] == "green").any():
        raise CallError("putts have no number in yards; leave --at away to compare putts")
    rows = rows[(rows["number_yd"] - at).abs() <= WINDOW_YD]
    return rows.assign(stratum=rows["lie"].astype(str))


@bounded
def compare_table(
    rows: pd.DataFrame,
    at: float | None = None,
    level: float = DEFAULT_LEVEL,
    groups: Sequence[str] | None = None,
) -> pd.DataFrame:
    """Return one row per two groups of strokes: the second less the first, strokes per shot.

    ``rows``: as ``compared_strokes``, with ``group``, ``stratum`` and ``number_yd``. ``groups``:
    only these, in this order; without them the most played, at most ``grouping.MOST_GROUPS``.
    Columns: ``COMPARE_COLUMNS``; spreads are at ``at_yd``.
    """
    names = in_order(rows["group"], groups)
    unnamed = int(rows["group"].isna().sum())
    rows = rows[rows["group"].isin(names)].reset_index(drop=True)
    if len(names) < 2:
        return pd.DataFrame(columns=list(COMPARE_COLUMNS))
    code = pd.Categorical(rows["group"], categories=names).codes.astype(np.int64)
    stratum = pd.factorize(rows["stratum"])[0]
    cluster = pd.factorize(rows["round_key"])[0]
    data = Observations(rows["gained"].to_numpy(float), code, stratum, cluster)
    noise = scatter(data, PRIOR)
    pairs = compare_groups(data, noise, PRIOR)
    table = _estimates(pairs, noise, names, level)
    shared = shared_rows(data, pairs)
    table["at_yd"] = at if at is not None else [rows["number_yd"][used].mean() for used in shared]
    spread = pair_spreads(rows, code, pairs, shared, table["at_yd"].to_numpy(float))
    table = pd.concat([table, spread, mixes(rows, code, pairs, shared, unnamed)], axis=1)
    met = (pairs.n_first > 0) & (pairs.n_second > 0)
    kept = table if len(names) == 2 else table[met]
    return kept.reset_index(drop=True)[list(COMPARE_COLUMNS)]


def _estimates(pairs: Pairs, noise: Scatter, names: Sequence[str], level: float) -> pd.DataFrame:
    low, high = pairs.interval(level, noise.df)
    half = ndtri(0.5 + level / 2) * pairs.sd
    words, better = verdicts(pairs, noise.df, names)
    each = needed_each(noise.variance * pairs.usual_design, GAP)
    return pd.DataFrame(
        {
            "first": [names[k] for k in pairs.first],
            "second": [names[k] for k in pairs.second],
            "difference": pairs.difference,
            "low": low,
            "high": high,
            "p_better": pairs.p_second,
            "verdict": words,
            "better": better,
            "adjusted": pairs.mean,
            "adjusted_low": pairs.mean - half,
            "adjusted_high": pairs.mean + half,
            "shots_first": pairs.n_first.astype(int),
            "shots_second": pairs.n_second.astype(int),
            "shots_to_settle": int(np.ceil(each)),
        }
    )


def verdicts(
    pairs: Pairs, df: float, names: Sequence[str]
) -> tuple[NDArray[np.object_], NDArray[np.object_]]:
    """Return what may be said of each pair, and which of the two it speaks for ('' if neither).

    The raw interval is widened for the number of pairs looked at (Bonferroni): of five identical
    swings some pair would be called better in four seasons of ten.
    """
    sure = np.maximum(pairs.p_second, 1 - pairs.p_second)
    few = np.minimum(pairs.n_first, pairs.n_second) < MIN_SHOTS
    looks = max(int((~few).sum()), 1)
    low, high = pairs.interval(1 - (1 - RULE_LEVEL) / looks, df)
    beyond = (low > BEYOND) | (high < -BEYOND)
    words = np.select(
        [few, (sure >= BETTER) & beyond, sure >= LEAN],
        [TOO_FEW, BETTER_HERE, LEANING],
        NO_DIFFERENCE,
    )
    ahead = np.where(pairs.p_second >= 0.5, pairs.second, pairs.first)
    spoken = np.isin(words, [LEANING, BETTER_HERE])
    better = np.where(spoken, np.asarray(names, dtype=object)[ahead], "")
    return words.astype(object), better.astype(object)
