"""The plain counts of the trade: up-and-downs, sand saves, greens hit, proximity, putts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks.placing import bands_of, parts_of
from sgzone.bounds import bounded
from sgzone.resources import sql
from sgzone.scoring.only import ALL_STROKES, Only
from sgzone.scoring.recipe import recipe
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.cluster import per_unit
from sgzone.stats.rates import median_interval, share_interval
from sgzone.terms import BANDS, DEFAULT_LEVEL, ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.store import Store

FACTS = ("gifts", "given_up", "open", "untold", "conceded", "picked_up")
"""What a note is made of: tries won by a conceded putt, picked up and counted as missed, conceded
off the green and left out, left out since the strokes that followed are not on the card; holes
conceded and holes picked up, both left out."""
COUNT_COLUMNS = (
    *("measure", "band", "value", "unit", "low", "high", "n", "counted", "rounds"),
    *FACTS,
)
UP_AND_DOWNS, SAND_SAVES = "up-and-downs", "sand saves"
GREENS_HIT, PROXIMITY = "greens hit", "median proximity"
PUTTS, THREE_PUTTS = "putts per round", "three-putts per round"

NEAR_FT = 150.0
"""A try to get up and down starts inside 50 yards."""
UP_AND_DOWN_STROKES = 2
HOLES_PER_ROUND = 18


@bounded
def counts(
    store: Store,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    only: Only = ALL_STROKES,
) -> pd.DataFrame:
    """Return the plain counts with their intervals; no benchmark is needed.

    Columns: ``COUNT_COLUMNS``, with ``player`` before them where several are in the file and none
    was chosen. ``value``, ``low``, ``high`` in ``unit``: ``share`` (0 to 1), ``ft`` or ``per
    round`` (of 18 holes). ``n`` of what ``counted`` says. A try is a hole's first stroke from off
    the green (from sand) inside 50 yards; it is won when the ball is holed in two strokes or
    fewer, penalty strokes included. ``only``: tries and strokes that start from one lie, with one
    club, in one part; putts per round, which are of whole holes, are then left out.
    """
    by_player = selection.player is None and len(store.players()) > 1
    tries = only.of(_placed(tries_of(store, selection)))
    shots = only.of(_placed(shots_at_green(store, selection)))
    putts = ask(store, "putts", selection)
    rows = []
    for player, rounds in putts.groupby("player", sort=True):
        of_player = [frame[frame["player"] == player] for frame in (tries, shots)]
        rows += [
            {"player": player, **row}
            for row in (
                *_tries(of_player[0], level),
                *_at_green(of_player[1], level),
                *(() if only.columns else _putts(rounds, level)),
            )
        ]
    names = ["player", *COUNT_COLUMNS] if by_player else list(COUNT_COLUMNS)
    return pd.DataFrame(rows, columns=names)


def _placed(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return strokes with the part they start in."""
    return strokes.assign(part=parts_of(strokes["lie"], strokes["distance_ft"]))


def counts_by_band(table: pd.DataFrame) -> pd.DataFrame:
    """Return one row per band of ``counts``: greens hit and proximity beside each other."""
    keys, ends = ["band", "n", "rounds"], ["value", "low", "high"]
    wide = table.loc[table["band"].notna(), keys].drop_duplicates()
    for measure, names in (
        (GREENS_HIT, ("hit", "hit_low", "hit_high")),
        (PROXIMITY, ("near_ft", "near_low_ft", "near_high_ft")),
    ):
        own = table[table["measure"] == measure].rename(columns=dict(zip(ends, names, strict=True)))
        wide = wide.merge(own[[*keys, *names]], on=keys, how="left")
    return wide


def hole_endings(store: Store, selection: Selection = EVERYTHING) -> dict[str, int]:
    """Return how many holes of the selection were ``holed``, ``conceded`` and ``picked_up``."""
    rounds = ask(store, "putts", selection)
    return {
        "holed": int(rounds["holes"].sum()),
        "conceded": int(rounds["conceded"].sum()),
        "picked_up": int(rounds["picked_up"].sum()),
    }


def tries_of(store: Store, selection: Selection = EVERYTHING) -> pd.DataFrame:
    """Return one row per try to get up and down or to save par from sand, with ``results``' facts.

    Columns: measure, player, round_key, hole, strokes, ending, left_on_green, distance_ft,
    and of its first stroke lie and club.
    """
    return ask(store, "tries", selection, near_ft=NEAR_FT)


def shots_at_green(store: Store, selection: Selection = EVERYTHING) -> pd.DataFrame:
    """Return one row per stroke of the zone from off the green whose next place is known.

    Columns: player, round_key, distance_ft, hit (the green), end_distance_ft, depth_ft, lie,
    club.
    """
    return ask(store, "shots_at_green", selection, zone_ft=ZONE_FT)


def putts_from(store: Store, selection: Selection = EVERYTHING) -> pd.DataFrame:
    """Return one row per putt: player, round_key, distance_ft, holed, first, putts.

    ``holed`` is missing where the putt's end is unknown, ``putts`` (of the hole) where that was not
    played out.
    """
    return ask(store, "putts_from", selection)


def ask(store: Store, step: str, selection: Selection, **values: float) -> pd.DataFrame:
    """Return the rows of a step of ``review/sql`` over the rounds of the selection."""
    query = recipe(("chosen_rounds",), "") + sql("review", step)
    return store.frame(query, {**selection.parameters(), **values})


def _row(
    measure: str,
    found: tuple[float, float, float],
    unit: str,
    n: int,
    counted: str,
    rounds: int,
    *,
    band: str | None = None,
    facts: dict[str, int] | None = None,
) -> dict[str, object]:
    values = dict(zip(("value", "low", "high"), found, strict=True))
    return {
        **{"measure": measure, "band": band, "unit": unit, **values},
        **{"n": n, "counted": counted, "rounds": rounds},
        **{name: (facts or {}).get(name, 0) for name in FACTS},
    }


def results(tries: pd.DataFrame) -> pd.DataFrame:
    """Return tries to get up and down with what came of them: ``gift``, ``won``, ``open``.

    A conceded putt (``gift``) counts as holed with the next stroke, as the rules of match play have
    it; a hole picked up is no up-and-down. A ball conceded off the green, and a hole whose later
    strokes are not written down, leave ``open`` what came of it unless two strokes had gone
    already: such a try is left out.
    """
    conceded = tries["ending"] == "conceded"
    gift = conceded & tries["left_on_green"]
    strokes = tries["strokes"] + gift
    done = (tries["ending"] == "holed") | gift
    untold = ((conceded & ~gift) | (tries["ending"] == "open")) & (
        tries["strokes"] < UP_AND_DOWN_STROKES
    )
    return tries.assign(gift=gift, won=done & (strokes <= UP_AND_DOWN_STROKES), open=untold)


def _tries(tries: pd.DataFrame, level: float) -> list[dict[str, object]]:
    """Return up-and-downs and sand saves; what is won is said by ``results``."""
    tries = results(tries)
    won, ending = tries["won"], tries["ending"]
    rows = []
    for measure in (UP_AND_DOWNS, SAND_SAVES):
        of = tries["measure"] == measure
        used = of & ~tries["open"]
        facts = {
            "gifts": int((used & tries["gift"] & won).sum()),
            "given_up": int((used & (ending == "picked_up")).sum()),
            "open": int((of & tries["open"] & (ending == "conceded")).sum()),
            "untold": int((of & tries["open"] & (ending == "open")).sum()),
        }
        round_ = tries.loc[used, "round_key"].to_numpy()
        found = share_interval(round_, won[used], level)
        size, rounds = int(used.sum()), len(np.unique(round_))
        rows.append(_row(measure, found, "share", size, "tries", rounds, facts=facts))
    return rows


def _at_green(shots: pd.DataFrame, level: float) -> list[dict[str, object]]:
    """Return greens hit and median proximity by band, over strokes whose end is known.

    A ball on the green or in the hole has hit it; proximity is where the ball lay next (after a
    drop: the drop), greens missed included, 0 when holed.
    """
    places = bands_of(False, shots["distance_ft"])
    hits, nears = [], []
    for place, band in enumerate(BANDS):
        of = shots[places == place]
        if of.empty:
            continue
        round_ = of["round_key"].to_numpy()
        size, rounds = len(of), of["round_key"].nunique()
        hit = share_interval(round_, of["hit"], level)
        near = median_interval(round_, of["end_distance_ft"], level)
        hits.append(_row(GREENS_HIT, hit, "share", size, "strokes", rounds, band=band.name))
        nears.append(_row(PROXIMITY, near, "ft", size, "strokes", rounds, band=band.name))
    return hits + nears


def _putts(rounds: pd.DataFrame, level: float) -> list[dict[str, object]]:
    """Return putts and three-putts per 18 holes, over the holes that were played out."""
    played = rounds[rounds["holes"] > 0]
    facts = {name: int(rounds[name].sum()) for name in ("conceded", "picked_up")}
    holes = played["holes"].to_numpy(int)
    putts = three = (np.nan, np.nan, np.nan)
    if len(played):
        weight, total = holes / HOLES_PER_ROUND, played["putts"].to_numpy(float)
        mean = per_unit(np.zeros(len(played), dtype=int), weight, total, 1, level)
        putts = (float(mean.estimate[0]), float(mean.low[0]), float(mean.high[0]))
        # A hole has three putts or it has not: the share per hole keeps an interval at none.
        with_three = played["three_putts"].to_numpy(int)
        hit = np.repeat(
            np.tile([1, 0], len(played)), np.ravel([with_three, holes - with_three], "F")
        )
        share = share_interval(np.repeat(np.arange(len(played)), holes), hit, level)
        three = (share[0] * HOLES_PER_ROUND, share[1] * HOLES_PER_ROUND, share[2] * HOLES_PER_ROUND)
    return [
        _row(measure, found, "per round", int(holes.sum()), "holes", len(played), facts=facts)
        for measure, found in ((PUTTS, putts), (THREE_PUTTS, three))
    ]
