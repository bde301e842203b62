"""A week of practice: sessions of 30 to 60 minutes, numbers from the player's own rounds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.practice.plan import Plan
from sgzone.review.why.putting import holed_share
from sgzone.review.why.reference import reference_model
from sgzone.scoring import scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.terms import FAIRWAY, GREEN, PART_NAMES, SAND, SAND_LIES
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

UNIT_MINUTES = 15
SESSION_UNITS = 4  # a session is at most an hour
NUMBERS = 10
BALLS_A_NUMBER = 2
TEST_BALLS = 20
"""20 balls in 15 minutes leave time for a routine before each: common practice, no source."""
NEAR_FT = 15.0

SHEET_COLUMNS = (
    *("session", "minutes", "part", "order", "number", "unit", "lie", "club", "swing", "balls"),
    *("pass_mark_ft", "pass_balls"),
)


@bounded
def week_plan(
    store: Store,
    plan: Plan,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    week: int = 1,
    seed: int = SEED,
    *,
    strokes: pd.DataFrame | None = None,
) -> pd.DataFrame:
    """Return one week's sessions, one row per number to hit, in random order.

    ``week`` of the block, from 1: every week has new numbers, and a part with few minutes a week
    comes up in some of them, often enough to have its hours by the end.
    ``number`` in ``unit`` (yd off the green, ft on it) is drawn from the player's own starts of the
    part; club and swing are those the player mostly used there. ``pass_mark_ft``: the level's
    modelled median finish from that number, feet; ``pass_balls``: how many of 20 balls that level
    leaves inside it, or holes on the green, on average. Missing where the level has no model.
    ``strokes``: ``scored`` of the same, where it is at hand.
    """
    curve = in_store(store, benchmark)
    starts = scored(store, curve, selection) if strokes is None else strokes
    rng = np.random.default_rng((seed, week))
    sheets = []
    for session, parts in enumerate(_sessions(quarter_hours(plan, week, seed)), 1):
        minutes = UNIT_MINUTES * len(parts)
        for part in sorted(set(parts), key=PART_NAMES.index):
            rows = starts[starts["part"] == part]
            if len(rows):
                sheet = _numbers(rows, NUMBERS * parts.count(part), rng)
                sheet["session"], sheet["minutes"], sheet["part"] = session, minutes, part
                sheets.append(sheet)
    if not sheets:
        return pd.DataFrame(columns=list(SHEET_COLUMNS))
    table = pd.concat(sheets, ignore_index=True)
    # The numbers of a part stand together, so that nobody walks between two places every other
    # ball; within the part they were drawn at random and stay in that order.
    table["order"] = table.groupby(["session", "part"]).cumcount() + 1
    table = _with_marks(table, curve)
    return table[list(SHEET_COLUMNS)]


@bounded
def quarter_hours(plan: Plan, week: int = 1, seed: int = SEED) -> dict[str, int]:
    """Return the quarter hours of each part in one week of the block, parts without any left out.

    The parts lie end to end on a line of a week's quarter hours; a comb of one tooth a quarter hour
    falls on it, moved on by a fraction of a tooth every week. So each week has its hours, each
    part what rounding down or up would give it, and over the block its own hours.
    """
    exact = plan.table["hours_per_week"].to_numpy(float) * 60 / UNIT_MINUTES
    teeth = max(round(float(exact.sum())), 1)
    ends = np.concatenate([[0.0], np.cumsum(exact)]) * (teeth / exact.sum())
    weeks = max(round(plan.weeks), 1)
    order = np.random.default_rng(seed).permutation(weeks)
    offset = (order[(week - 1) % weeks] + 0.5) / weeks
    falls_on = np.searchsorted(ends, np.arange(teeth) + offset, side="right") - 1
    units = np.bincount(falls_on, minlength=len(exact))
    return {str(part): int(n) for part, n in zip(plan.table["part"], units, strict=True) if n}


def _sessions(quarters: dict[str, int]) -> list[list[str]]:
    """Deal quarter hours round the sessions, so that each mixes parts and lasts 30 to 60 min."""
    total = sum(quarters.values())
    if not total:
        return []
    sessions: list[list[str]] = [[] for _ in range(-(-total // SESSION_UNITS))]
    dealt = [part for part, n in sorted(quarters.items(), key=lambda u: -u[1]) for _ in range(n)]
    for place, part in enumerate(dealt):
        sessions[place % len(sessions)].append(part)
    return sessions


def _numbers(rows: pd.DataFrame, count: int, rng: np.random.Generator) -> pd.DataFrame:
    """Draw ``count`` numbers from a part's starts, with the club and swing used near them."""
    green = bool((rows["lie"] == GREEN).all())
    sand = bool(rows["lie"].isin(SAND_LIES).all())
    feet = rng.choice(rows["distance_ft"].to_numpy(float), count)
    feet = np.maximum(np.round(feet), 1.0) if green else np.round(feet / FT_PER_YD) * FT_PER_YD
    feet = np.maximum(feet, 1.0 if green else FT_PER_YD)
    return pd.DataFrame(
        {
            "feet": feet,
            "number": feet if green else feet / FT_PER_YD,
            "unit": "ft" if green else "yd",
            "lie": GREEN if green else SAND if sand else FAIRWAY,
            "club": _usual(rows, feet, "club"),
            "swing": _usual(rows, feet, "swing"),
            "balls": BALLS_A_NUMBER,
        }
    )


def _usual(rows: pd.DataFrame, feet: Floats, column: str) -> list[str]:
    """Return the most used word of a column within 5 yards of each number; empty if none."""
    known = rows[rows[column].notna()]
    codes, words = pd.factorize(known[column], sort=True)
    if not len(words):
        return [""] * len(feet)
    near = np.abs(known["distance_ft"].to_numpy(float)[None, :] - feet[:, None]) <= NEAR_FT
    votes = np.stack([(near & (codes == code)).sum(axis=1) for code in range(len(words))], axis=1)
    best = votes.argmax(axis=1)
    return [str(words[b]) if v[b] else "" for b, v in zip(best, votes, strict=True)]


def _with_marks(table: pd.DataFrame, curve: Benchmark) -> pd.DataFrame:
    model = reference_model(curve)
    lies, feet = table["lie"].to_numpy(object), table["feet"].to_numpy(float)
    on_green = lies == "green"
    turf = np.where(on_green, "fairway", lies)
    mark = np.where(on_green, np.nan, model.median_ft(turf, feet))
    inside = model.share_inside(turf, feet, np.where(np.isnan(mark), 0.0, mark))
    holed, _ = holed_share(curve.name, feet)
    return table.assign(
        pass_mark_ft=mark, pass_balls=TEST_BALLS * np.where(on_green, holed, inside)
    )
