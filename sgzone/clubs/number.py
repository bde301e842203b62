"""What do I hit from here? Every stock swing near the number, weighed on one set of misses.

E = 1 + the mean, over the misses of a swing, of what the finish is worth. A swing may be played
stock, or moved to where it should finish: moving costs spread.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.cards.columns import columns_of as card_columns
from sgzone.clubs.green import Green, GreenValue, green_of
from sgzone.clubs.options import Swings, swings_of
from sgzone.clubs.reach import FULL_MORE, most_more, near_swings
from sgzone.clubs.shots import COURSE, club_shots
from sgzone.clubs.stock import FEW
from sgzone.errors import CallError, did_you_mean
from sgzone.review.why.reference import ASSUMPTIONS
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.quadrature import POINTS, Kind, Points, miss_points
from sgzone.stats.resample import SEED
from sgzone.stats.robust import POOL_DF
from sgzone.stats.verdict import BEST, COSTS, EQUAL, TOO_CLOSE
from sgzone.terms import DEFAULT_LEVEL, SWING_LIE, SWING_LIES
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

FACTS = ("pooled", "short")
"""What a note is made of: whether the spread is that of the player's other swings, and whether no
swing reaches."""
NUMBER_COLUMNS = (
    *("club", "swing", "landing_yd", "side_aim_ft", "expected_strokes", "difference"),
    *("low", "high", "shots", "verdict"),
    *("moved_yd", "carry_yd", "finish_ft", "depth_sd_ft", "side_sd_ft", "spread_cost_ft"),
    "lean_ft",
    *FACTS,
)
FIRMNESS = next(c.words for c in card_columns("shot") if c.name == "green_firmness")
EQUAL_WITHIN = 0.02
"""Strokes within which options are equal here."""
SIDE_AIMS_FT = np.arange(-12.0, 13.0, 2.0)
FINISH_AIMS_FT = np.array([0.0, -9.0, 9.0, 18.0])
MOVE_COST = 0.25
"""Feet of extra depth sd for each yard, times 3, that a stock swing is moved."""
LEAST_MOVE_YD = 1.0
MISHIT = Kind(
    ASSUMPTIONS.mishit_share,
    ASSUMPTIONS.mishit_depth,
    ASSUMPTIONS.mishit_depth_sd,
    ASSUMPTIONS.mishit_side,
)
SPREAD_DOUBT = 1.1
"""How much farther a spread is off (in the logarithm) than chi-square and the doubt of the curve
say: 1.1 times with 5 and 10 shots, 1.2 with 40, as mishits too small to see stay in. Measured; with
1.15 ranges at 80% hold .84 to .88 of the differences of swings with 10 shots."""
_DRAWS = 200
_DRAW_POINTS = 128


@dataclass(frozen=True, slots=True)
class Plays:
    """Ways to play one number, arrays of shape (plays,).

    ``of``: row of ``Swings``; ``finish_ft``: where it should finish, past the hole (+) or short;
    ``moved_yd``: from the stock swing; ``distance_ft``: of the finish; sds in feet.
    """

    of: NDArray[np.int64]
    finish_ft: Floats
    moved_yd: Floats
    distance_ft: Floats
    depth_sd_ft: Floats
    side_sd_ft: Floats
    lean_ft: Floats


@bounded
def plan_number(
    store: Store,
    yards: float,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    green: Green | None = None,
    lie: str = "fairway",
    firmness: str | None = None,
    source: str = COURSE,
    full_more: float = FULL_MORE,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return the ways to play an effective number of ``yards``, the best first.

    ``green``: ``clubs.green.green_of``; None is the middle of a usual one. ``lie``: fairway (a tee
    with it), rough or sand. ``firmness`` of the green: one of ``FIRMNESS``. ``full_more``: how much
    more of a full swing is offered, percent of its carry. Columns:
    ``NUMBER_COLUMNS``: where to land it, side aim (right +), what it costs, and the difference to
    the best with an interval for how little is known of the swings. Raises ``CallError`` for a
    number or lie out of reach and for an unknown firmness. Empty where no stock swing is near.
    Prepare before play; see ``words.cautions.RULES``.
    """
    swings, curve = player_swings(store, benchmark, selection, lie, firmness, source)
    return number_table(swings, yards, green or green_of(), curve, level, seed, full_more)


def player_swings(
    store: Store,
    benchmark: str | Benchmark,
    selection: Selection,
    lie: str,
    firmness: str | None,
    source: str,
) -> tuple[Swings, Benchmark]:
    """Return the player's swings from one lie and the benchmark; arguments as ``plan_number``."""
    kind = SWING_LIE.get(lie)
    if kind is None:
        hint = did_you_mean(lie, SWING_LIES)
        raise CallError(
            f'no number is planned from "{lie}".{hint} Choose from: {", ".join(SWING_LIES)}.'
        )
    if firmness is not None and firmness not in FIRMNESS:
        hint = did_you_mean(firmness, FIRMNESS)
        raise CallError(f'no green is "{firmness}".{hint} Choose from: {", ".join(FIRMNESS)}.')
    curve = in_store(store, benchmark)
    shots = club_shots(store, selection, source)
    run = shots if source == COURSE else club_shots(store, selection, COURSE)
    return swings_of(shots, run, curve, kind, firmness), curve


@bounded
def number_table(
    swings: Swings,
    yards: float,
    green: Green,
    benchmark: Benchmark,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    full_more: float = FULL_MORE,
) -> pd.DataFrame:
    """Return the ways to play ``yards``, one row per swing played stock and moved; the best first.

    See ``plan_number``.
    """
    worth = GreenValue(green, benchmark)
    plays = plays_of(swings, yards, full_more)
    if not len(plays.of):
        return pd.DataFrame(columns=list(NUMBER_COLUMNS))
    points = miss_points(MISHIT, POINTS, seed)
    cost = expected(plays, SIDE_AIMS_FT, worth, points)
    aim = _first_best(cost)
    rows = np.arange(len(plays.of))
    best = cost[rows, aim]
    kept = _best_of_each(plays, best)
    order = kept[np.argsort(best[kept], kind="stable")]
    plays, best, aims = _take(plays, order), best[order], SIDE_AIMS_FT[aim[order]]
    ends = _difference_interval(swings, plays, aims, best, worth, level, seed)
    _, reached = near_swings(swings, yards, full_more)
    return _table(swings, plays, yards, best, aims, ends).assign(short=not reached)


@bounded
def plays_of(swings: Swings, yards: float, full_more: float = FULL_MORE) -> Plays:
    """Return every swing near the number played stock, and moved to each finish aim."""
    near, _ = near_swings(swings, yards, full_more)
    stock_ft = (swings.finish_yd[near] - yards) * FT_PER_YD
    finish = np.column_stack([stock_ft, np.tile(FINISH_AIMS_FT, (len(near), 1))])
    moved = (finish - stock_ft[:, None]) / FT_PER_YD
    real = (np.abs(moved) >= LEAST_MOVE_YD) & (moved <= most_more(swings, full_more)[near, None])
    real[:, 0] = True
    of = np.repeat(near, finish.shape[1]).reshape(finish.shape)[real]
    finish, moved = finish[real], moved[real]
    distance = yards * FT_PER_YD + finish
    extra = MOVE_COST * np.abs(moved) * FT_PER_YD
    return Plays(
        of=of,
        finish_ft=finish,
        moved_yd=moved,
        distance_ft=distance,
        depth_sd_ft=np.hypot(swings.depth_sd[of] * distance, extra),
        side_sd_ft=swings.side_sd[of] * distance,
        lean_ft=swings.side_lean[of] * distance,
    )


def expected(plays: Plays, aims_ft: Floats, worth: GreenValue, points: Points) -> Floats:
    """Return expected strokes of each play at each side aim, shape (plays, aims)."""
    depth = (
        plays.finish_ft[:, None]
        + plays.distance_ft[:, None] * points.fixed
        + plays.depth_sd_ft[:, None] * points.usual
    )
    side = plays.lean_ft[:, None] + plays.side_sd_ft[:, None] * points.side
    cost: Floats = 1 + np.stack(
        [worth(depth, side + aim) @ points.weight for aim in aims_ft], axis=1
    )
    return cost


def _first_best(cost: Floats) -> NDArray[np.int64]:
    """Return the aim of least cost per play; of equal ones the one nearest the hole."""
    order = np.argsort(np.abs(SIDE_AIMS_FT), kind="stable")
    first: NDArray[np.int64] = order[np.argmin(np.round(cost[:, order], 9), axis=1)]
    return first


def _best_of_each(plays: Plays, cost: Floats) -> NDArray[np.int64]:
    """Return one row per swing played stock and one per swing moved, the cheapest aim of each."""
    kind = plays.of * 2 + (plays.moved_yd != 0)
    order = np.lexsort((np.abs(plays.moved_yd), np.round(cost, 9), kind))
    first = np.unique(kind[order], return_index=True)[1]
    return order[first]


def _take(plays: Plays, rows: NDArray[np.int64]) -> Plays:
    return Plays(*(getattr(plays, name)[rows] for name in Plays.__slots__))


def _difference_interval(
    swings: Swings,
    plays: Plays,
    aims_ft: Floats,
    cost: Floats,
    worth: GreenValue,
    level: float,
    seed: int,
) -> tuple[Floats, Floats]:
    """Return the interval of each play's cost less the best's; NaN for the best itself.

    Spread, stock carry and lean of each swing are drawn from what is known of them.
    """
    rng = np.random.default_rng(seed)
    points = miss_points(MISHIT, _DRAW_POINTS, seed)
    df = swings.df
    # how far a swing is from the curve of all is taken to be the same short/long and left/right
    alike = rng.chisquare(POOL_DF, (1, _DRAWS, len(df)))
    own = 2 * rng.standard_gamma((df - POOL_DF) / 2, (2, _DRAWS, len(df)))
    wider = np.sqrt(df / (alike + own))
    # and the curve is off for all swings alike
    wider *= np.exp(swings.curve_sd * rng.standard_normal((2, _DRAWS, 1)))
    wider **= SPREAD_DOUBT
    shift, lean = rng.standard_normal((2, _DRAWS, len(df)))
    of, distance = plays.of, plays.distance_ft

    def costs(depth_sd: Floats, side_sd: Floats, finish: Floats, side: Floats) -> Floats:
        depth = finish[..., None] + distance[:, None] * points.fixed
        depth = depth + depth_sd[..., None] * points.usual
        value: Floats = worth(depth, side[..., None] + side_sd[..., None] * points.side)
        return value @ points.weight

    aim = plays.lean_ft + aims_ft
    centre = costs(plays.depth_sd_ft, plays.side_sd_ft, plays.finish_ft, aim)
    drawn = costs(
        plays.depth_sd_ft * wider[0][:, of],
        plays.side_sd_ft * wider[1][:, of],
        plays.finish_ft + (swings.carry_sd * shift)[:, of] * distance,
        aim + (swings.side_lean_sd * lean)[:, of] * distance,
    )
    change = drawn - centre
    change -= change[:, :1]
    low, high = np.quantile(change, [0.5 - level / 2, 0.5 + level / 2], axis=0)
    difference = cost - cost[0]
    low, high = difference + low, difference + high
    low[0] = high[0] = np.nan
    return low, high


def _table(
    swings: Swings,
    plays: Plays,
    yards: float,
    cost: Floats,
    aims_ft: Floats,
    ends: tuple[Floats, Floats],
) -> pd.DataFrame:
    of, difference = plays.of, cost - cost[0]
    release = swings.release_yd[of]
    words = np.select(
        [np.arange(len(of)) == 0, difference <= EQUAL_WITHIN, ends[0] <= EQUAL_WITHIN],
        [BEST, EQUAL, TOO_CLOSE],
        COSTS,
    )
    stock_sd = swings.depth_sd[of] * plays.distance_ft
    return pd.DataFrame(
        {
            "club": swings.club[of],
            "swing": swings.swing[of],
            "landing_yd": yards + plays.finish_ft / FT_PER_YD - release,
            "side_aim_ft": aims_ft,
            "expected_strokes": cost,
            "difference": difference,
            "low": ends[0],
            "high": ends[1],
            "shots": swings.shots[of],
            "verdict": words.astype(object),
            "moved_yd": plays.moved_yd,
            "carry_yd": swings.carry_yd[of],
            "finish_ft": plays.finish_ft,
            "depth_sd_ft": plays.depth_sd_ft,
            "side_sd_ft": plays.side_sd_ft,
            "spread_cost_ft": plays.depth_sd_ft - stock_sd,
            "lean_ft": plays.lean_ft,
            "pooled": swings.shots[of] < FEW,
        }
    )
