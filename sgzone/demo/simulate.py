"""Seasons with known truth: a shot card, and what is true of the player."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from html import escape
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.bounds import bounded
from sgzone.demo.card import base_card, exact_distance, zone_rows
from sgzone.demo.courses import CHAMPIONSHIP, Course
from sgzone.demo.player import Player
from sgzone.demo.presets import tour_level
from sgzone.demo.rounds import play_rounds
from sgzone.demo.truth import true_patterns
from sgzone.errors import CallError
from sgzone.stats.resample import SEED
from sgzone.writing import Output

SEASON_START = date(2026, 4, 1)
SEASON_ROUNDS = 40
STROKES_PER_ROUND = 30  # fewer than any player needs; only to size a simulation
STROKES_PER_ROW = 2  # of a round, for one row of a card; more than any player needs


@dataclass(frozen=True, eq=False, repr=False)
class Season:
    """One simulated season.

    ``card``: the shot card. ``truth``: bias and spread by lie, distance, club and swing
    (``truth.true_patterns``). ``strokes``: every stroke from the tee, exact (columns of
    ``play`` and ``draw_holes``). ``player``: all parameters.
    """

    card: pd.DataFrame
    truth: pd.DataFrame
    strokes: pd.DataFrame
    player: Player

    def __repr__(self) -> str:
        return f"<Season of {self.player.name}: {len(self.card)} rows of a card>"

    def _repr_html_(self) -> str:
        """Return its card as a notebook shows a table, under whose it is."""
        return f"<p>{escape(repr(self))}</p>{self.card.to_html(max_rows=10, index=False)}"


@bounded
def simulate_strokes(
    n: int,
    player: Player | None = None,
    seed: int = SEED,
    courses: Sequence[Course] = CHAMPIONSHIP,
) -> pd.DataFrame:
    """Play whole rounds until there are at least n strokes from the tee; exact, in order.

    Columns of ``play`` and ``draw_holes``, lengths in ft or yd as named. Raises CallError for
    n < 1.
    """
    if n < 1:
        raise CallError(f"n is {n}; at least 1 stroke must be asked for.")
    rounds = -(-n // STROKES_PER_ROUND)
    course_of = np.arange(rounds) % len(courses)
    strokes = play_rounds(np.random.default_rng(seed), player or tour_level(), courses, course_of)
    last = int(strokes["round_id"].iloc[n - 1])
    return strokes[strokes["round_id"] <= last].reset_index(drop=True)


@bounded
def simulate_season(
    player: Player | None = None,
    rounds: int = SEASON_ROUNDS,
    seed: int = SEED,
    courses: Sequence[Course] = CHAMPIONSHIP,
    start: date = SEASON_START,
) -> Season:
    """Simulate one player's season, one round every five days, complete and exactly measured.

    The card starts each hole at its first stroke inside 150 yards. Raises CallError for a number
    of rounds or a seed that is none, and for days beyond the year 9999.
    """
    if (date.max - start).days < 5 * rounds:
        raise CallError(f"{rounds} rounds from {start} end after the year 9999; start earlier")
    who = player or tour_level()
    course_of = np.arange(rounds) % len(courses)
    strokes = play_rounds(np.random.default_rng(seed), who, courses, course_of)
    days = np.array([start + timedelta(days=5 * k) for k in range(rounds)], dtype=object)
    strokes["player"] = who.name
    strokes["date"] = days[strokes["round_id"].to_numpy()]
    strokes["round"] = 1
    return Season(exact_card(strokes), true_patterns(who), strokes, who)


def exact_card(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return the unrounded card of simulated strokes that carry player, date and round."""
    distance = exact_distance(strokes["lie"].to_numpy(), strokes["distance_ft"].to_numpy())
    rows = zone_rows(strokes, distance, np.zeros(len(strokes), dtype=bool))
    card = base_card(strokes[rows], distance[rows])
    return card.drop(columns="hole_id").reset_index(drop=True)


@bounded
def write_cards(
    path: Path, n: int, players: int = 100, seed: int = SEED, player: Player | None = None
) -> int:
    """Write an exact card of whole rounds with at least n rows to ``path``; return its rows.

    ``path``: a new .csv or .parquet. The rounds are dealt out to ``players`` names, at most one a
    day each. Raises CallError for another file type, DataError where it exists or cannot be
    written.
    """
    if path.suffix not in (".csv", ".parquet"):
        raise CallError(f"{path.name} is neither .csv nor .parquet; choose one of them.")
    output = Output(path, None, what="The card").check()
    card = exact_card(_named(simulate_strokes(STROKES_PER_ROW * n, player, seed), players))
    number = card.groupby(["date", "player"], sort=False).ngroup().to_numpy()
    card = card[number <= number[n - 1]]
    if path.suffix == ".csv":
        output.write(card.to_csv(index=False, lineterminator="\n"))
    else:
        with output.file() as file:
            card.to_parquet(file, index=False)
    return len(card)


def _named(strokes: pd.DataFrame, players: int) -> pd.DataFrame:
    number: NDArray[np.int64] = strokes["round_id"].to_numpy()
    names = np.array([f"Simulated {k:04d}" for k in range(1, players + 1)], dtype=object)
    day = np.datetime64(SEASON_START) + (number // players).astype("timedelta64[D]")
    return strokes.assign(player=names[number % players], date=day, round=1)
