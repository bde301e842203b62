"""Does a verdict survive the way distances were measured? No interval knows of measuring error.

Three reruns: every distance 0.9 and 1.1 times as long (a player who paces short or long), and
random errors by how a distance was had, averaged over a few draws. The sizes of the random
errors are common practice, no source. Cells stay as recorded: only the values move.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.review.where.cells import OF_LIES
from sgzone.review.where.summary import TOTAL, summary_keys, summary_table
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.rates import chance_of_as_many
from sgzone.stats.resample import SEED
from sgzone.stats.verdict import GAIN, LOSS, SIDES
from sgzone.terms import (
    DEFAULT_LEVEL,
    FINISH_SLACK_FT,
    FINISH_SLACK_SHARE,
    HOLED,
    NOT_ENOUGH,
    OUTSIDE,
)
from sgzone.units import FT_PER_YD, M_PER_FT

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

FIRM = "firm"
SENSITIVE = "distance-sensitive"
MOST_STROKES = 200_000
"""Beyond this the reruns cost more than they tell, and the verb leaves them out."""

FACTORS = (0.9, 1.1)
FIXED_FT = {"laser": 1.0 * FT_PER_YD, "gps": 3.0 * FT_PER_YD, "book": 3.0 * FT_PER_YD}
SHARE = {"paced": 0.05, "guess": 0.10}
UNSAID_SHARE = 0.05
GREEN_SHARE = 0.05
"""On the green no error is larger than that of pacing, whatever measured the approach."""
NOISE_DRAWS = 8
_NEAREST_FT = 0.5

HEAPED_SHARE = 0.30
"""Share of distances that end in 0 or 5 from which rounding is worth a word."""
HEAP_FIRST, HEAP_LAST = 8, 147
"""Whole windows of five numbers around each multiple of five, inside the zone in yards."""
HEAP_LEAST = 50
HEAP_P = 0.01
_WHOLE = 1e-6


@dataclass(frozen=True, slots=True)
class Measuring:
    """What measuring does to a summary.

    ``words``: per row of the summary ``holds``, ``hangs on how distances were measured``, or
    empty where there is no verdict. ``heaping``: see ``heaping``. ``checked``, ``disagree``:
    strokes with depth, side and a next place, and those where the two tell different stories.
    """

    words: list[str]
    heaping: pd.DataFrame
    checked: int
    disagree: int


@bounded
def check_measuring(
    store: Store,
    table: pd.DataFrame,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = ("part",),
    seed: int = SEED,
    *,
    strokes: pd.DataFrame | None = None,
) -> Measuring:
    """Return whether each verdict of ``table`` survives; ``table`` is ``summarise`` of the rest.

    ``strokes``: ``scored`` of the rest, where it is at hand.
    """
    curve = in_store(store, benchmark)
    keys = summary_keys(store, selection, by)
    strokes = scored(store, curve, selection) if strokes is None else strokes
    sizes = round_sizes(store, selection)
    words = survival(table, strokes, sizes, keys, curve, total=TOTAL in by, seed=seed)
    checked, disagree = agreement(strokes)
    return Measuring(words, heaping(strokes), checked, disagree)


@bounded
def survival(
    table: pd.DataFrame,
    strokes: pd.DataFrame,
    sizes: pd.DataFrame,
    keys: Sequence[str],
    curve: Benchmark,
    *,
    total: bool = False,
    seed: int = SEED,
) -> list[str]:
    """Return, per row of ``table``, whether its verdict keeps its side in all reruns.

    ``clear`` and ``probable`` are one side. ``strokes``: ``scored``, in the order of play.
    """
    names = list(table.columns[: table.columns.get_loc("shots")])
    side = _side(table["verdict"])
    held = pd.Series(True, index=table.index)
    for gained in _reruns(strokes, curve, seed):
        sums = _round_sums(strokes.assign(gained=gained), keys)
        again = summary_table(sums, sizes, keys, DEFAULT_LEVEL, total=total)
        other = table[names].merge(again[[*names, "verdict"]], on=names, how="left")["verdict"]
        held &= (_side(other) == side).to_numpy()
    words = np.where(held, FIRM, SENSITIVE)
    return list(np.where(table["verdict"] == NOT_ENOUGH, "", words))


def heaping(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return how many start distances end in 0 or 5: the mark of a guess.

    One row per place (``off the green``, ``on the green``) with enough of them: place, unit, n
    whole distances from 8 to 147 units, share ending in 0 or 5, expected share (every window of
    five numbers holds one), heaped (more than chance and at least ``HEAPED_SHARE``).
    """
    green = (strokes["lie"] == "green").to_numpy()
    feet = strokes["distance_ft"].to_numpy(float)
    places = {
        "off the green": (feet[~green], {"yd": FT_PER_YD, "m": 1 / M_PER_FT}),
        "on the green": (feet[green], {"ft": 1.0, "m": 1 / M_PER_FT}),
    }
    rows = []
    for place, (lengths, units) in places.items():
        whole = {unit: _whole_numbers(lengths / size) for unit, size in units.items()}
        unit = max(whole, key=lambda name: len(whole[name]))
        numbers = whole[unit]
        if len(numbers) < HEAP_LEAST:
            continue
        ending = int((numbers % 5 == 0).sum())
        share = ending / len(numbers)
        chance = chance_of_as_many(ending, len(numbers), 0.2)
        heaped = bool(share >= HEAPED_SHARE and chance < HEAP_P)
        rows.append((place, unit, len(numbers), share, 0.2, heaped))
    return pd.DataFrame(rows, columns=["place", "unit", "n", "share", "expected", "heaped"])


def agreement(strokes: pd.DataFrame) -> tuple[int, int]:
    """Return how many strokes tell depth, side and a next place, and in how many they disagree.

    By the slack of the card's own check.
    """
    told = strokes[["depth_ft", "side_ft", "end_distance_ft"]].notna().all(axis=1)
    told &= (strokes["penalty"] == 0) & (strokes["end_lie"] != HOLED)
    rows = strokes[told]
    finish = np.hypot(rows["depth_ft"].to_numpy(float), rows["side_ft"].to_numpy(float))
    end = rows["end_distance_ft"].to_numpy(float)
    slack = np.maximum(FINISH_SLACK_FT, FINISH_SLACK_SHARE * np.maximum(finish, end))
    return len(rows), int((np.abs(finish - end) > slack).sum())


def _whole_numbers(numbers: Floats) -> NDArray[np.int64]:
    near = np.rint(numbers)
    inside = (near >= HEAP_FIRST) & (near <= HEAP_LAST) & (np.abs(numbers - near) < _WHOLE)
    return near[inside].astype(np.int64)


def _side(verdicts: pd.Series[str]) -> pd.Series[str]:
    """Return the side of each verdict; where it has none, the word itself."""
    side = verdicts.map(SIDES)
    return side.where(side.isin([LOSS, GAIN]), verdicts)


def _reruns(strokes: pd.DataFrame, curve: Benchmark, seed: int) -> list[Floats]:
    """Return gained of every stroke under each rerun, NaN where it was not scored."""
    start = strokes["distance_ft"].to_numpy(float)
    end = strokes["end_distance_ft"].to_numpy(float)
    reruns = [_gained(strokes, curve, start * factor, end * factor) for factor in FACTORS]
    rng = np.random.default_rng(seed)
    noisy = np.zeros(len(strokes))
    for _ in range(NOISE_DRAWS):
        noisy += _gained(strokes, curve, *_with_errors(strokes, rng)) / NOISE_DRAWS
    return [*reruns, noisy]


def _gained(strokes: pd.DataFrame, curve: Benchmark, start: Floats, end: Floats) -> Floats:
    before = curve.expected(strokes["lie"].to_numpy(object), start)
    after = curve.expected(strokes["end_lie"].to_numpy(object), end)
    penalty: Floats = strokes["penalty"].to_numpy(float)
    return before - after - 1 - penalty


def _with_errors(strokes: pd.DataFrame, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Return start and end distances with random errors; a ball's place has one error, not two."""
    measured = strokes["measured"]
    start = _disturbed(strokes["distance_ft"], measured, strokes["lie"], rng)
    end = _disturbed(strokes["end_distance_ft"], measured, strokes["end_lie"], rng)
    hole = strokes["hole_key"].to_numpy()
    followed = hole == np.roll(hole, -1)
    followed[-1:] = False
    end = np.where(followed, np.roll(start, -1), end)
    return start, np.where(strokes["end_lie"] == HOLED, 0.0, end)


def _disturbed(
    distance: pd.Series[float],
    measured: pd.Series[str],
    lie: pd.Series[str],
    rng: np.random.Generator,
) -> Floats:
    feet = distance.to_numpy(float)
    sd = measured.map(FIXED_FT).fillna(measured.map(SHARE).fillna(UNSAID_SHARE) * feet)
    error = np.where(lie == "green", np.minimum(sd, GREEN_SHARE * feet), sd)
    near: Floats = np.minimum(feet, _NEAREST_FT)
    return np.maximum(feet + error * rng.standard_normal(len(feet)), near)


def _round_sums(strokes: pd.DataFrame, keys: Sequence[str]) -> pd.DataFrame:
    """Return the sums of ``scoring.round_sums`` from strokes in memory."""
    strokes = strokes[strokes["part"] != OUTSIDE]
    gained = strokes["gained"]
    of_lies = {lie: gained.notna() & (strokes["lie"] == lie) for lie in OF_LIES}
    values = strokes.assign(squares=gained**2, unscored=gained.isna(), unvalued=0, **of_lies)
    groups = list(dict.fromkeys([*keys, "player", "round_key"]))
    found = values.groupby(groups, dropna=False, observed=True, sort=False)
    return found.agg(
        n=("gained", "count"),
        total=("gained", "sum"),
        squares=("squares", "sum"),
        unscored=("unscored", "sum"),
        unvalued=("unvalued", "sum"),
        **{lie: (lie, "sum") for lie in OF_LIES},
    ).reset_index()
