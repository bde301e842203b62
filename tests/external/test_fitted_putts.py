"""The putting part of a fitted benchmark on two published tables of putts holed.

Source keys berry1995 (professionals, 2 to 20 ft) and stat2 (one golfer, 3 to 7 ft); the printed
logistic curves are those of gelman2019 and stat2.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import expit, logit

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.fit import PUTT_NODES_FT, PUTT_PRIOR
from sgzone.benchmarks.putts import split
from sgzone.benchmarks.sources import read_published
from sgzone.stats.hat import logit_shift

PRINTED = {"berry": "logistic, Berry data", "stat2": "logistic, Stat2 Putts1"}


def _table(which: str) -> np.ndarray:
    rows = read_published(f"putting_{which}.csv")[["distance_ft", "tries", "holed"]]
    return rows.astype(float).to_numpy().T


def _fitted(which: str, of: float = 1.0) -> np.ndarray:
    feet, tries, holed = _table(which)
    base = logit(1 - split(benchmark("tour").expected("green", feet))[0])
    shift = logit_shift(feet, of * holed, base, PUTT_NODES_FT, PUTT_PRIOR, of * tries)
    return np.asarray(expit(base + shift.at(feet)))


def _printed(which: str) -> np.ndarray:
    rows = read_published("putting_model_estimates.csv").set_index(["model", "parameter"])["value"]
    intercept, slope = (float(rows[PRINTED[which], name]) for name in ("intercept", "slope"))
    return np.asarray(expit(intercept + slope * _table(which)[0]))


def _misfit(which: str, share: np.ndarray) -> float:
    """Return chi-square per distance of a curve of shares holed."""
    _, tries, holed = _table(which)
    return float(np.mean((holed - tries * share) ** 2 / (tries * share * (1 - share))))


@pytest.mark.parametrize("which", ["berry", "stat2"])
def test_it_runs_through_the_published_shares(which: str) -> None:
    assert _misfit(which, _fitted(which)) < 2.0


def test_it_follows_professionals_closer_than_the_printed_logistic() -> None:
    assert _misfit("berry", _fitted("berry")) < 0.25 * _misfit("berry", _printed("berry"))


def test_one_golfer_of_587_putts_is_followed_within_chance() -> None:
    _, tries, holed = _table("stat2")
    error = np.sqrt(holed * (tries - holed) / tries**3)
    assert (np.abs(_fitted("stat2") - holed / tries) < 2 * error).all()
    # the base, professionals, is nowhere near
    assert (np.abs(_fitted("stat2", 1e-6) - holed / tries) > 2 * error).all()


@pytest.mark.parametrize("which", ["berry", "stat2"])
def test_fewer_putts_leave_it_nearer_the_base(which: str) -> None:
    feet = _table(which)[0]
    base = 1 - split(benchmark("tour").expected("green", feet))[0]
    gaps = [np.abs(_fitted(which, of) - base).mean() for of in (1e-4, 1.0)]
    assert gaps[0] < 0.1 * gaps[1]
