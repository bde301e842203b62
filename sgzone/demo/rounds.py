"""Whole rounds: pins, wind and the round's own form, then every hole played out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.demo import green
from sgzone.demo.courses import Course
from sgzone.demo.play import CALM, CROSS_LEFT, WINDS, Holes, from_tee, play
from sgzone.demo.player import Player
from sgzone.units import FT_PER_YD

HOLES = 18
LENGTH_SD_YD = 4.0  # tee markers and pins move from day to day
SLOPE_SD = 0.015
CALM_MPH = 3.0
WIND_MPH = 8.0  # median wind of a round

Ints = NDArray[np.int64]


def draw_holes(
    rng: Generator, player: Player, courses: Sequence[Course], course_of: Ints
) -> tuple[Holes, pd.DataFrame]:
    """Set up 18 holes for each round; ``course_of`` is each round's index into ``courses``.

    Returns the holes and one row per hole: round_id, hole, course, par, yards, wind, wind_mph, and
    the pin sheet in yards (pin_on_yd, green_deep_yd, pin_left_yd, green_wide_yd).
    """
    n_rounds = len(course_of)
    n = n_rounds * HOLES
    round_id = np.repeat(np.arange(n_rounds), HOLES)

    def by_hole(name: str) -> NDArray[np.float64]:
        return np.array([getattr(course, name) for course in courses])[course_of].reshape(n, -1)

    hazard = by_hole("hazard").astype(np.int64)
    yards = by_hole("yards")[:, 0] + rng.normal(0, LENGTH_SD_YD, n)
    greens = green.draw_pins(
        rng, by_hole("wide_ft")[:, 0], by_hole("deep_ft")[:, 0], hazard[:, 0], hazard[:, 1]
    )
    form = np.exp(rng.normal(-(player.round_sd**2) / 2, player.round_sd, n_rounds))
    mph = np.minimum(WIND_MPH * np.exp(rng.normal(0, 0.5, n_rounds)), 30.0).round()[round_id]
    wind = rng.integers(CALM + 1, CROSS_LEFT + 2, n)
    wind[mph <= CALM_MPH] = CALM
    mph[wind == CALM] = 0.0
    slope = rng.normal(0, SLOPE_SD, n)
    holes = from_tee(yards, greens, form[round_id], wind, mph, slope)
    table = pd.DataFrame(
        {
            "round_id": round_id,
            "hole": np.tile(np.arange(1, HOLES + 1), n_rounds),
            "course": np.array([course.name for course in courses], dtype=object)[
                np.repeat(course_of, HOLES)
            ],
            "par": by_hole("par")[:, 0].astype(np.int64),
            "yards": yards,
            "wind": np.array(WINDS, dtype=object)[wind],
            "wind_mph": mph,
            "pin_on_yd": (greens.half_deep - greens.centre_y) / FT_PER_YD,
            "green_deep_yd": 2 * greens.half_deep / FT_PER_YD,
            "pin_left_yd": (greens.half_wide - greens.centre_x) / FT_PER_YD,
            "green_wide_yd": 2 * greens.half_wide / FT_PER_YD,
        }
    )
    return holes, table


def play_rounds(
    rng: Generator, player: Player, courses: Sequence[Course], course_of: Ints
) -> pd.DataFrame:
    """Play whole rounds and return every stroke (columns of ``play`` and of ``draw_holes``)."""
    holes, table = draw_holes(rng, player, courses, course_of)
    strokes = play(rng, player, holes)
    at = strokes["hole_id"].to_numpy()
    for name in table.columns:
        strokes[name] = table[name].to_numpy()[at]
    return strokes
