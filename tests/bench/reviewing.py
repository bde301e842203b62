"""The summary, and the bootstrap beside two ways to write it by hand."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd

from sgzone.review.where.summary import summarise
from sgzone.scoring.gained import round_sums
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from sgzone.stats.resample import DRAWS, SEED, round_weights
from tests.bench.material import Answer, Material


def summary(material: Material) -> Answer:
    """Sum up every part of every player: intervals, adjusted values, verdicts."""
    with open_store(material.season, read_only=True) as store:
        return int(summarise(store)["shots"].sum()), 0.0


def summary_of_one(material: Material) -> Answer:
    """Sum up every part of one player out of all."""
    with open_store(material.season, read_only=True) as store:
        one = Selection(player=store.players()[0])
        return int(summarise(store, selection=one)["shots"].sum()), 0.0


@cache
def _round_table(material: Material) -> pd.DataFrame:
    """Return one player's sums per round and part; cached, so that it is not timed."""
    with open_store(material.season, read_only=True) as store:
        sums = round_sums(store, selection=Selection(player=store.players()[0]), by=["part"])
    return sums.pivot_table(index="round_key", columns="part", values="total").fillna(0.0)


def bootstrap(material: Material) -> Answer:
    """Draw one player's rounds 2000 times: weights times per-round sums."""
    table = _round_table(material).to_numpy()
    round_weights(len(table)) @ table
    return DRAWS, 0.0


def bootstrap_numpy(material: Material) -> Answer:
    """The same, one draw of row numbers after the other."""
    table, rng = _round_table(material).to_numpy(), np.random.default_rng(SEED)
    for _ in range(DRAWS):
        table[rng.integers(len(table), size=len(table))].sum(axis=0)
    return DRAWS, 0.0


def bootstrap_pandas(material: Material) -> Answer:
    """The same with ``sample``."""
    table, rng = _round_table(material), np.random.default_rng(SEED)
    for _ in range(DRAWS):
        table.sample(frac=1, replace=True, random_state=rng).sum()
    return DRAWS, 0.0
