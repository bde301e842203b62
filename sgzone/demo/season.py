"""The demo season: 40 rounds of an invented player, written down the way a player would."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.demo.card import (
    CARD_COLUMNS,
    base_card,
    give_putts,
    in_feet,
    pick_up,
    written_distance,
    zone_rows,
)
from sgzone.demo.courses import CLUB_COURSES
from sgzone.demo.flight import launch_and_spin
from sgzone.demo.player import Player
from sgzone.demo.rounds import play_rounds
from sgzone.units import FT_PER_YD

ROUNDS = 40
FIRST_DAY = pd.Timestamp("2026-04-04")
LAST_DAY = pd.Timestamp("2026-10-25")
TWO_ROUND_DAY = 17  # this round and the next are played on one day
WHOLE_CARDS = (2, 11, 20, 29, 38)  # written down from the tee
PARTIAL = {4: (1, 9), 9: (10, 18), 15: (1, 12), 22: (1, 14), 27: (10, 18), 33: (1, 10), 36: (1, 13)}
FORMATS = np.array(["stroke", "stableford", "match", "stroke", "four-ball"], dtype=object)
FORMAT_SHARE = (0.45, 0.27, 0.16, 0.04, 0.08)
COMPETITION_SHARE = 0.65
MONITOR_SHARE = 0.4  # of practice rounds, played with a launch monitor in the bag
FAR_YD = 40.0  # from here distances are measured by instrument
NO_SIDE, NO_DEPTH, NO_CARRY = 0.04, 0.08, 0.25  # shares of rows left blank
CLOSE_FT = 30.0  # farther finishes are written to the yard


def _rounds(rng: Generator) -> pd.DataFrame:
    """Draw the calendar and the conditions: one row per round."""
    days = (LAST_DAY - FIRST_DAY).days
    offset = np.sort(rng.choice(days // 2, ROUNDS - 1, replace=False)) * 2
    offset = np.insert(offset, TWO_ROUND_DAY + 1, offset[TWO_ROUND_DAY])
    practice = rng.random(ROUNDS) > COMPETITION_SHARE
    practice[list(PARTIAL)] = True
    return pd.DataFrame(
        {
            "player": "",
            "date": FIRST_DAY + pd.to_timedelta(offset, unit="D"),
            "round": np.where(np.arange(ROUNDS) == TWO_ROUND_DAY + 1, 2, 1),
            "format": rng.choice(FORMATS, ROUNDS, p=FORMAT_SHARE),
            "event": np.where(practice, "practice", "competition"),
            "turf": rng.choice(np.array(["soft", "medium", "firm"], dtype=object), ROUNDS),
            "green_firmness": rng.choice(["soft", "medium", "firm"], ROUNDS, p=(0.3, 0.5, 0.2)),
            "green_speed_ft": rng.normal(9.5, 0.6, ROUNDS).round(1),
            "monitor": practice & (rng.random(ROUNDS) < MONITOR_SHARE),
            "whole": np.isin(np.arange(ROUNDS), WHOLE_CARDS),
        }
    )


def _played(strokes: pd.DataFrame) -> NDArray[np.bool_]:
    """Return which strokes belong to holes that were played in partial rounds."""
    first, last = np.ones(ROUNDS), np.full(ROUNDS, 18)
    for number, (low, high) in PARTIAL.items():
        first[number], last[number] = low, high
    at = strokes["round_id"].to_numpy()
    hole = strokes["hole"].to_numpy()
    played: NDArray[np.bool_] = (hole >= first[at]) & (hole <= last[at])
    return played


def _measured(rng: Generator, strokes: pd.DataFrame) -> NDArray[np.object_]:
    """Draw how each distance was had: instruments far out, steps and guesses near the green."""
    n = len(strokes)
    feet = strokes["distance_ft"].to_numpy()
    words = np.array(["laser", "book", "gps"], dtype=object)
    far = rng.choice(words, n, p=(0.70, 0.18, 0.12))
    near = rng.choice(np.array(["paced", "guess"], dtype=object), n, p=(0.8, 0.2))
    return np.where(feet >= FAR_YD * FT_PER_YD, far, near)


def _blank(rng: Generator, card: pd.DataFrame) -> pd.DataFrame:
    """Leave out what a player leaves out, and round the rest as one writes it."""
    n = len(card)
    depth, side = card["depth_ft"].to_numpy(dtype=float), card["side_ft"].to_numpy(dtype=float)
    coarse = np.hypot(depth, side) > CLOSE_FT
    for name, value in (("depth_ft", depth), ("side_ft", side)):
        yards = np.round(value / FT_PER_YD) * FT_PER_YD
        card[name] = np.where(coarse, yards, np.round(value))
    draw = rng.random(n)
    card.loc[draw < NO_DEPTH, ["depth_ft", "side_ft"]] = np.nan
    card.loc[(draw >= NO_DEPTH) & (draw < NO_DEPTH + NO_SIDE), "side_ft"] = np.nan
    card.loc[rng.random(n) < NO_CARRY, "carry_yd"] = np.nan
    for name in ("intended_yd", "carry_yd", "effective_yd"):
        card[name] = card[name].round()
    return card


def _pin_sheet(card: pd.DataFrame) -> pd.DataFrame:
    """Round the pin sheet to whole yards; there is one in competitions only."""
    practice = (card["event"] != "competition").to_numpy()
    for name in ("pin_on_yd", "green_deep_yd", "pin_left_yd", "green_wide_yd"):
        card[name] = np.where(practice, np.nan, card[name].round())
    return card


def _units(card: pd.DataFrame) -> pd.DataFrame:
    """Keep the unit only where a bare number would be ambiguous: on the fringe."""
    card.loc[(card["lie"] != "fringe").to_numpy(), "unit"] = None
    return card


def demo_card(player: Player, seed: int) -> pd.DataFrame:
    """Return the demo season's card, in contract order of columns, rounded and with its gaps."""
    rng = np.random.default_rng(seed)
    rounds = _rounds(rng).assign(player=player.name)
    course_of = rng.integers(0, len(CLUB_COURSES), ROUNDS)
    strokes = play_rounds(rng, player, CLUB_COURSES, course_of)
    strokes = strokes[_played(strokes)].reset_index(drop=True)
    at = strokes["round_id"].to_numpy()
    for name in rounds.columns:
        strokes[name] = rounds[name].to_numpy()[at]
    measured = _measured(rng, strokes)
    lie = strokes["lie"].to_numpy()
    distance = written_distance(lie, strokes["distance_ft"].to_numpy(), measured)
    rows = zone_rows(strokes, distance, strokes["whole"].to_numpy())
    kept = strokes[rows]
    card = base_card(kept, distance[rows])
    card["measured"] = measured[rows]
    swung = card["swing"].notna().to_numpy() & kept["monitor"].to_numpy()
    clubs, swings = card["club"].to_numpy(), card["swing"].to_numpy()
    launch, spin = launch_and_spin(rng, clubs, swings, card["date"].reset_index(drop=True))
    card["launch_deg"] = np.where(swung, launch.round(1), np.nan)
    card["spin_rpm"] = np.where(swung, (spin / 10).round() * 10, np.nan)
    card = _pin_sheet(_blank(rng, card))
    card = give_putts(rng, card, (card["format"] == "match").to_numpy())
    card = pick_up(rng, card)
    card.loc[in_feet(card["lie"].to_numpy()) & (card["distance"] <= 10), "measured"] = None
    return _units(card)[list(CARD_COLUMNS)].reset_index(drop=True)
