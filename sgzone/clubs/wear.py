"""Clubs with dates: what they have been used for since new, and what changed meanwhile."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import stdtrit

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.clubs.shots import FROM_YD, SWUNG_LIES
from sgzone.resources import sql
from sgzone.review.beside.grouping import labels
from sgzone.review.beside.groups import COMPARE_COLUMNS, chosen_strokes, compare_table
from sgzone.scoring import scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.slope import clustered_slope
from sgzone.terms import DEFAULT_LEVEL, MIN_ROUNDS, MIN_SHOTS

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

BAG_COLUMNS = (
    *("club", "loft_deg", "bounce_deg", "in_play_from", "in_play_to", "months"),
    *("shots", "sand_shots", "practice_balls"),
    *("shots_reached", "months_reached"),
)
WEAR_COLUMNS = (
    *("club", "in_play_from", "measure", "unit", "per_100_shots", "low", "high"),
    *("shots", "rounds"),
)
MEASURES = {
    "gained": "strokes per shot",
    "proximity": "% of distance",
    "spread": "% of distance",
    "spin": "rpm",
}
_DAYS_PER_MONTH = 365.25 / 12
_PER = 100.0
STEP_SHOTS = 20
_CLUB = ["player", "club", "in_play_from"]
"""What one club is: players may call theirs the same, and a name may be a new club's."""


@bounded
def bag(
    store: Store,
    selection: Selection = EVERYTHING,
    remind_shots: int | None = None,
    remind_months: float | None = None,
    today: date | None = None,
) -> pd.DataFrame:
    """Return one row per club and time in play: its age and what it was used for, by the file.

    ``shots``: strokes on cards, those from sand counted apart, and practice balls (test blocks and
    log). ``months``: to ``in_play_to``, else to ``today``, else to the last day in the file.
    ``shots_reached`` and ``months_reached``: ``remind_shots`` and ``remind_months``, which the
    player asked to be reminded of, where a club still in play has reached them.
    """
    table = _asked(store, "bag", selection)
    last = pd.Timestamp(today) if today else pd.Timestamp(table["last_day"].max())
    end = pd.to_datetime(table["in_play_to"]).fillna(last)
    table["months"] = (end - pd.to_datetime(table["in_play_from"])).dt.days / _DAYS_PER_MONTH
    table["months"] = table["months"].clip(lower=0)
    in_play = table["in_play_to"].isna()
    used = table["shots"] + table["sand_shots"]
    for name, value, most in (
        ("shots_reached", used, remind_shots),
        ("months_reached", table["months"], remind_months),
    ):
        limit = np.inf if most is None else float(most)
        table[name] = np.where(in_play & (value >= limit), limit, np.nan)
    return table[list(BAG_COLUMNS)]


@bounded
def wear(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return what changed per 100 shots with each club in the bag table, with its interval.

    Course shots off the green without sand. ``gained`` in strokes per shot, ``proximity`` and
    ``spread`` (distance from the usual depth) in percent of the distance, ``spin`` in rpm, each
    within its swing. Intervals treat a round as one draw. Columns: ``WEAR_COLUMNS``. Where players
    share a name of a club, each one's has rows of its own, by club, day and player.
    """
    points = wear_points(store, benchmark, selection)
    rows = []
    for (club, since, _), one in points.groupby(["club", "in_play_from", "player"], sort=True):
        for measure, unit in MEASURES.items():
            seen = one[one[measure].notna()]
            rows.append({"club": club, "in_play_from": since, "measure": measure, "unit": unit})
            rows[-1] |= _slope(seen, measure, level)
    return pd.DataFrame(rows, columns=list(WEAR_COLUMNS))


def wear_points(
    store: Store, benchmark: str | Benchmark = "tour", selection: Selection = EVERYTHING
) -> pd.DataFrame:
    """Return one row per shot of a club in the bag, with ``since_new`` and the measures.

    Columns: ``_CLUB`` (player, club, in_play_from), date, round_key, since_new, then ``MEASURES``.
    ``since_new``: the player's shots with it on cards since it came into play, this one included.
    Proximity and spread from 30 yd up: as a share of a chip's length they say little.
    """
    shots = scored(store, benchmark, selection)
    shots = shots[shots["lie"].isin(SWUNG_LIES)]
    shots = shots[(shots["status"] == "scored") & (shots["part"] != "outside")]
    met = shots.merge(_times(store, selection), on=["player", "club"])
    inside = (met["date"] >= met["in_play_from"]) & ~(met["date"] > met["in_play_to"])
    met = met[inside].sort_values(["date", "round", "hole", "shot"], ignore_index=True)
    same = met.groupby(_CLUB)
    swing = met.fillna({"swing": ""}).groupby([*_CLUB, "swing"])
    long = met["distance_ft"].where(met["distance_yd"] >= FROM_YD)
    depth = 100 * met["depth_ft"] / long
    usual = depth.groupby([*(met[name] for name in _CLUB), met["swing"].fillna("")])
    return pd.DataFrame(
        {
            **{name: met[name] for name in _CLUB},
            "date": met["date"],
            "round_key": met["round_key"],
            "since_new": same.cumcount() + 1,
            "gained": met["gained"],
            "proximity": 100 * met["end_distance_ft"] / long,
            "spread": (depth - usual.transform("median")).abs(),
            "spin": met["spin_rpm"] - swing["spin_rpm"].transform("mean"),
        }
    )


@bounded
def wear_steps(
    points: pd.DataFrame, measure: str = "gained", level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the mean of a measure over every 20 shots since new, per club and time in play.

    ``points``: as ``wear_points``. Columns: club, in_play_from, since_new (middle of the step),
    mean, low, high (t, shots as they come), shots. Steps under 10 shots are left out.
    """
    seen = points[points[measure].notna()]
    step = (seen["since_new"] - 1) // STEP_SHOTS
    cells = seen.groupby([*_CLUB, step.rename("step")])
    table = cells.agg(
        since_new=("since_new", "mean"),
        mean=(measure, "mean"),
        sd=(measure, "std"),
        shots=(measure, "size"),
    ).reset_index()
    table = table[table["shots"] >= MIN_SHOTS]
    shots = table["shots"].to_numpy(float)
    half = stdtrit(shots - 1, 0.5 + level / 2) * table["sd"] / np.sqrt(shots)
    table = table.assign(low=table["mean"] - half, high=table["mean"] + half)
    names = ["club", "in_play_from", "since_new", "mean", "low", "high", "shots"]
    return table[names].reset_index(drop=True)


@bounded
def changes(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return, per club replaced, the shots before and after the change compared.

    Columns: ``club``, then those of ``review.beside.groups.compare_table``: same lie and distance
    step.
    """
    starts = _times(store, selection)[_CLUB]
    replaced = starts[starts.duplicated(["player", "club"])]
    shots = scored(store, benchmark, selection)
    tables = [pd.DataFrame(columns=["club", *COMPARE_COLUMNS], dtype=object)]
    for player, club, day in replaced.itertuples(index=False):
        own = shots[(shots["player"] == player) & (shots["club"] == club)]
        own = own.assign(group=labels(own, ["date"], pd.Timestamp(day).date()))
        found = compare_table(chosen_strokes(own), None, level)
        found.insert(0, "club", club)
        tables.append(found.astype(object))
    return pd.concat(tables, ignore_index=True).infer_objects()


def _times(store: Store, selection: Selection) -> pd.DataFrame:
    return _asked(store, "times", selection)


def _asked(store: Store, name: str, selection: Selection) -> pd.DataFrame:
    return store.frame(sql("clubs", name), {"player": selection.player})


def _slope(seen: pd.DataFrame, measure: str, level: float) -> dict[str, object]:
    shots, rounds = len(seen), seen["round_key"].nunique()
    if shots < MIN_SHOTS or rounds < MIN_ROUNDS:
        return {"shots": shots, "rounds": rounds}
    slope, se = clustered_slope(
        seen["since_new"].to_numpy(float) / _PER,
        seen[measure].to_numpy(float),
        seen["round_key"].to_numpy(),
    )
    half = float(stdtrit(rounds - 1, 0.5 + level / 2)) * se
    ends = {"low": slope - half, "high": slope + half}
    return {"per_100_shots": slope, **ends, "shots": shots, "rounds": rounds}
