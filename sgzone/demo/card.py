"""From simulated strokes to a shot card, exact or as a player would write it."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.terms import HOLED, ZONE_FT
from sgzone.units import FT_PER_YD

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]
Words = NDArray[np.object_]

CARD_COLUMNS = (
    *("player", "date", "round", "hole", "shot", "lie", "distance", "unit", "penalty", "result"),
    *("club", "swing", "measured", "intended_yd", "carry_yd", "effective_yd"),
    *("depth_ft", "side_ft", "launch_deg", "spin_rpm"),
    *("pin_on_yd", "green_deep_yd", "pin_left_yd", "green_wide_yd"),
    *("format", "wind", "wind_mph", "turf", "green_firmness", "green_speed_ft"),
    *("course", "event", "par"),
)

CARRY_YD = 30.0  # nearer than this a carry is not noted
SHORT_PUTT_FT = 5.0  # inside it a player writes half feet
PACED_YD = 20.0  # from here paced and guessed numbers end in 0 or 5
TAP_IN_FT = 2.5
GIVE_CHANCE = 0.6
GIVEN_UP = {"stableford": 2, "four-ball": 1}
"""Strokes over par that count for nothing (for the side, in a four-ball): the player picks up."""
LOST_SHARE = 0.5


def in_feet(lie: Words) -> Bools:
    """Return which rows are written in feet: on the green and its fringe."""
    return np.isin(lie, ("green", "fringe"))


def exact_distance(lie: Words, distance_ft: Floats) -> Floats:
    """Return the distance in the unit of its lie, unrounded."""
    return np.where(in_feet(lie), distance_ft, distance_ft / FT_PER_YD)


def written_distance(lie: Words, distance_ft: Floats, measured: Words) -> Floats:
    """Return the distance as a player writes it, in the unit of its lie; never 0.

    Putts to the foot, inside 5 ft to the half foot; whole yards; paced or guessed yards from 20 up
    end in 0 or 5.
    """
    half = np.maximum(np.round(distance_ft * 2) / 2, 0.5)
    feet = np.where(distance_ft < SHORT_PUTT_FT, half, np.round(distance_ft))
    yards = np.maximum(np.round(distance_ft / FT_PER_YD), 1.0)
    coarse = np.isin(measured, ("paced", "guess")) & (yards >= PACED_YD)
    fives = np.round(distance_ft / FT_PER_YD / 5) * 5
    return np.where(in_feet(lie), feet, np.where(coarse, fives, yards))


def zone_rows(strokes: pd.DataFrame, distance: Floats, from_tee: Bools) -> Bools:
    """Return which strokes a card holds: all of a hole from the first one inside the zone.

    ``strokes``: in order, with hole_id. ``distance``: as written. ``from_tee``: rows of rounds
    written down whole.
    """
    on = in_feet(strokes["lie"].to_numpy())
    inside = on | (distance * FT_PER_YD <= ZONE_FT)
    begun = pd.Series(inside).groupby(strokes["hole_id"].to_numpy()).cummax().to_numpy()
    return begun.astype(bool) | from_tee


def base_card(strokes: pd.DataFrame, distance: Floats) -> pd.DataFrame:
    """Return the card of complete holes: one row per stroke, the last one of each hole ``holed``.

    ``strokes``: columns of ``play_rounds`` and ``player``, ``date``, ``round``; ``distance`` in the
    unit of its lie. depth and side (ft) are given off the green, carries (yd) from 30 yd up.
    """
    lie = strokes["lie"].to_numpy()
    feet = in_feet(lie)
    holed = (strokes["end_lie"] == HOLED).to_numpy()
    at_green = (strokes["club"] != "").to_numpy() & ~feet
    card = strokes.reindex(columns=list(CARD_COLUMNS)).copy()
    card["distance"] = distance
    card["unit"] = np.where(feet, "ft", "yd")
    card["result"] = pd.Series("holed", index=card.index).where(holed, None)
    for name in ("club", "swing"):
        card[name] = strokes[name].replace("", None)
    seen = at_green & (strokes["penalty"] == 0).to_numpy()
    for name in ("depth_ft", "side_ft"):
        value = np.where(holed, 0.0, strokes[name].to_numpy())
        card[name] = np.where(seen, value, np.nan)
    yards = strokes["distance_ft"].to_numpy() / FT_PER_YD
    release = strokes["release_yd"].to_numpy()
    full = at_green & (yards >= CARRY_YD)
    carry = yards + strokes["depth_ft"].to_numpy() / FT_PER_YD - release
    card["intended_yd"] = np.where(full, yards - release, np.nan)
    card["carry_yd"] = np.where(full & seen & ~holed, np.maximum(carry, 0.0), np.nan)
    card["effective_yd"] = np.where(full, strokes["effective_yd"].to_numpy(), np.nan)
    card["hole_id"] = strokes["hole_id"].to_numpy()
    return card


def give_putts(rng: Generator, card: pd.DataFrame, match: Bools) -> pd.DataFrame:
    """Concede some last putts of match rounds: the row then marks where the ball lay."""
    first = ~card["hole_id"].duplicated().to_numpy()
    short = (card["lie"] == "green").to_numpy() & (card["distance"] <= TAP_IN_FT).to_numpy()
    last = (card["result"] == "holed").to_numpy()
    given = match & short & last & ~first & (rng.random(len(card)) < GIVE_CHANCE)
    card.loc[given, "result"] = "conceded"
    card.loc[given, "club"] = None
    return card


def pick_up(rng: Generator, card: pd.DataFrame) -> pd.DataFrame:
    """End holes that count for nothing: the row where the player picks up is no stroke.

    Some balls that cost a penalty were lost, and where the format allows it no other is played: lie
    and distance are blank then.
    """
    hole = card["hole_id"]
    before = card.groupby("hole_id")["penalty"].cumsum() - card["penalty"]
    count = (card["shot"] + before - card["par"]).to_numpy()
    limit = card["format"].map(GIVEN_UP).to_numpy(dtype=float)  # NaN: never picked up
    first = ~hole.duplicated().to_numpy()
    penalised = (card["penalty"].shift(fill_value=0) > 0).to_numpy() & ~np.isnan(limit)
    lost = penalised & ~first & (rng.random(len(card)) < LOST_SHARE)
    ended = ((count >= limit) & ~first) | lost
    nth = pd.Series(ended).groupby(hole.to_numpy()).cummax().to_numpy()
    up = nth & ~pd.Series(nth).groupby(hole.to_numpy()).shift(fill_value=False).to_numpy(dtype=bool)
    card.loc[up, "result"] = "picked_up"
    card.loc[up, "penalty"] = 0
    blank = ["club", "swing", "intended_yd", "carry_yd", "effective_yd", "depth_ft", "side_ft"]
    card.loc[up, blank] = None
    card.loc[up & lost, ["lie", "distance", "unit", "measured"]] = None
    kept: pd.DataFrame = card.loc[~nth | up]
    return kept
