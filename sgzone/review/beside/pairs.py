"""What stands beside the difference of two groups: spreads, proximity, how alike their shots are.

Everything is over the strokes that count for the pair: those of lies and distance steps both have.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.stats.cluster import Ints, unlike_means
from sgzone.stats.groups import Observations, Pairs, counts
from sgzone.stats.rates import unlike_shares
from sgzone.stats.robust import unlike_spreads
from sgzone.units import FT_PER_YD

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]

LIE_MIX = 0.15
"""Groups differ in lies from this share of shots up (if chance alone would rarely do it)."""
NUMBER_MIX_YD = 3.0
CHANCE = 0.05
FACTS = ("other_lies", "farther_yd", "alone", "of_shots", "unnamed")
"""What a note is made of: see ``mixes``."""
_LEAST = 5  # strokes of each group before their mix is judged


def shared_rows(rows: Observations, pairs: Pairs) -> list[Bools]:
    """Return, per pair, the mask of the strokes of both groups in strata that both have."""
    there = counts(rows) > 0
    masks = []
    for first, second in zip(pairs.first, pairs.second, strict=True):
        both = there[:, first] & there[:, second]
        masks.append(both[rows.stratum] & np.isin(rows.group, (first, second)))
    return masks


def pair_spreads(
    rows: pd.DataFrame, code: Ints, pairs: Pairs, shared: Sequence[Bools], at_yd: Floats
) -> pd.DataFrame:
    """Return median proximity, depth and side sd (feet) and rounds of both groups of each pair.

    ``known_*``: strokes with depth and side, which the sds rest on; each miss is taken as a share
    of its own distance and shown at ``at_yd``. ``spread_p``: Brown-Forsythe test on depth.
    """
    distance = rows["distance_ft"].to_numpy(float)
    depth = rows["depth_ft"].to_numpy(float) / distance
    side = rows["side_ft"].to_numpy(float) / distance
    known = np.isfinite(depth) & np.isfinite(side)
    end = rows["end_distance_ft"].to_numpy(float)
    turn = rows["round_key"].to_numpy()
    table = []
    for k, used in enumerate(shared):
        found: dict[str, float] = {}
        depths = []
        for name, group in (("first", pairs.first[k]), ("second", pairs.second[k])):
            mine = used & (code == group)
            seen = mine & known
            scale = at_yd[k] * FT_PER_YD
            found[f"rounds_{name}"] = len(np.unique(turn[mine]))
            found[f"proximity_{name}_ft"] = float(np.median(end[mine])) if mine.any() else np.nan
            found[f"depth_sd_{name}_ft"] = scale * _sd(depth[seen])
            found[f"side_sd_{name}_ft"] = scale * _sd(side[seen])
            found[f"known_{name}"] = int(seen.sum())
            depths.append(depth[seen])
        found["spread_p"] = spread_test(*depths)
        table.append(found)
    return pd.DataFrame(table)


def spread_test(first: Floats, second: Floats) -> float:
    """Return the p-value of the Brown-Forsythe test that two spreads are equal; NaN under 5 each.

    The test compares distances from each sample's median.
    """
    if min(len(first), len(second)) < _LEAST:
        return np.nan
    return unlike_spreads(first, second)


def finish_shares(rows: pd.DataFrame, groups: Sequence[str]) -> pd.DataFrame:
    """Return, per group, the share of shots that finished within each distance of the hole.

    ``rows``: strokes with ``group`` and ``end_distance_ft``. Columns: group, shots, finish_ft,
    share; one row per shot, nearest first.
    """
    tables = []
    for group in groups:
        feet = np.sort(rows.loc[rows["group"] == group, "end_distance_ft"].to_numpy(float))
        share = np.arange(1, len(feet) + 1) / max(len(feet), 1)
        one = {"group": group, "shots": len(feet), "finish_ft": feet, "share": share}
        tables.append(pd.DataFrame(one))
    return pd.concat(tables, ignore_index=True)


def mixes(
    rows: pd.DataFrame, code: Ints, pairs: Pairs, shared: Sequence[Bools], unnamed: int
) -> pd.DataFrame:
    """Return, per pair, how the strokes of its groups differ in where they were played from.

    Columns ``FACTS``: ``other_lies``, the share of shots from other lies, and ``farther_yd``, how
    much farther out the second was played from; either is missing where chance alone would do as
    much. ``alone`` of ``of_shots`` have no counterpart at their lie and distance step. ``unnamed``:
    strokes left out because what they are compared by was not written down.
    """
    lie, lies = pd.factorize(rows["lie"].astype(str))
    number = rows["number_yd"].to_numpy(float)
    found = []
    for k, used in enumerate(shared):
        mine = [code == group for group in (pairs.first[k], pairs.second[k])]
        whole = int(sum(m.sum() for m in mine))
        apart = _other_lies([np.bincount(lie[m], minlength=len(lies)) for m in mine])
        farther = _farther(*(number[m] for m in mine))
        found.append((apart, farther, whole - int(used.sum()), whole, unnamed))
    return pd.DataFrame(found, columns=list(FACTS))


def _sd(values: Floats) -> float:
    return float(values.std(ddof=1)) if len(values) > 1 else np.nan


def _other_lies(groups: Sequence[Ints]) -> float:
    """Return the share of the shots of two groups, given by lie, that come from other lies."""
    table = np.stack(groups)
    table = table[:, table.any(axis=0)]
    if table.shape[1] < 2 or table.sum(axis=1).min() < _LEAST:
        return np.nan
    share = table / table.sum(axis=1, keepdims=True)
    apart = float(np.abs(share[0] - share[1]).sum() / 2)
    by_chance = apart < LIE_MIX or unlike_shares(table) >= CHANCE
    return np.nan if by_chance else apart


def _farther(first: Floats, second: Floats) -> float:
    """Return how much farther out the second was played from, yards; below 0 it was nearer."""
    if min(len(first), len(second)) < _LEAST:
        return np.nan
    apart = float(second.mean() - first.mean())
    if abs(apart) < NUMBER_MIX_YD:
        return np.nan
    return apart if unlike_means(first, second) < CHANCE else np.nan
