"""Putts that count as holed since nobody wrote otherwise: so many of them that it cannot be.

A hole's last putt counts as holed. On a card whose second row of a hole is where the ball finished,
those are putts that nobody made, and every answer would call their player a master. docs/
method-belief.md says how likely a true card is to be taken for one, and one of these to pass.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from typing import Any

import duckdb
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.errors import Problem, first_of_a_kind
from sgzone.resources import data_path
from sgzone.season.steps import step_text
from sgzone.season.tails import at_least

BEYOND = 1e-6
"""Chance below which a round at tour odds, or a player's file at ``FILE_ODDS``, is refused."""
STRANGE = 1e-3
"""Chance below which a round at tour odds is noted."""
FILE_ODDS = 2.0
"""Over a whole file the odds of the tour are doubled: better putters than its mean are on it."""
NEAREST_FT, NEAREST_SHARE = 1.0, 0.999
"""Nearer than any published share; no source: a tap-in goes in."""
_LUCKY = 2.0
"""Standard deviations above the mean. No sum of tries has a lighter tail than one whose last value
is all of them going in, e^-z^2 at its lightest: 2% here, so none below it is near ``STRANGE``."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Putts:
    """Putts of the staged rounds. ``counted``: those that count as holed."""

    round_no: NDArray[np.int64]
    feet: Floats
    counted: NDArray[np.bool_]

    def groups(self, number: NDArray[np.int64]) -> dict[int, Putts]:
        """Return the putts by a number that each has, none of those below 0."""
        order = np.argsort(number, kind="stable")
        order = order[np.searchsorted(number[order], 0) :]
        numbers, starts = np.unique(number[order], return_index=True)
        parts = np.split(order, starts[1:]) if len(starts) else []
        return {
            int(one): Putts(self.round_no[rows], self.feet[rows], self.counted[rows])
            for one, rows in zip(numbers, parts, strict=True)
        }

    def of(self, rounds: NDArray[np.int64]) -> dict[int, Putts]:
        """Return the putts of some rounds, round by round."""
        return self.groups(np.where(np.isin(self.round_no, rounds), self.round_no, -1))

    def made(self) -> int:
        return int(self.counted.sum())

    def chance(self, odds: float = 1.0) -> float:
        """Return the chance that so many or more go in at so many times the odds of the tour."""
        return at_least(_at_odds(tour_share(self.feet), odds), self.made())

    def lucky(self, odds: float, deviations: float) -> NDArray[np.int64]:
        """Return the rounds with more putts made than the mean and so many deviations.

        By straight lines between the published shares, which needs no library and is near enough.
        """
        if not len(self.feet):
            return np.empty(0, np.int64)
        share = _at_odds(_rough_share(self.feet), odds)
        mean, spread, made = (
            np.bincount(self.round_no, weights)
            for weights in (share, share * (1 - share), self.counted.astype(float))
        )
        return np.flatnonzero(made > mean + deviations * np.sqrt(spread))


def belief_problems(connection: duckdb.DuckDBPyConnection, file: str) -> list[Problem]:
    """Return one problem per player whose card is beyond belief, and a note per strange round.

    Asked of the staged rows of a card.
    """
    found: dict[str, Any] = connection.execute(step_text("open_putts")).fetchnumpy()
    putts = Putts(*(np.ma.getdata(found[name]) for name in ("round_no", "distance_ft", "counted")))
    lucky = putts.lucky(1.0, _LUCKY)
    better = len(putts.lucky(FILE_ODDS, 0.0)) > 0  # else no file of them is above its own mean
    if not len(lucky) and not better:
        return []
    rounds = connection.execute(step_text("staged_rounds")).df()  # numbered from 0
    each = putts.of(lucky)
    chances = pd.Series({number: own.chance() for number, own in each.items()}, dtype=float)
    refused = _by_round(file, rounds, each, chances)
    if better:
        refused |= _by_file(file, rounds, putts, refused)
    strange = chances[(chances >= BEYOND) & (chances < STRANGE)].index.to_numpy()
    notes = [_note(file, rounds.iloc[number], each[number]) for number in strange]
    return [*refused.values(), *first_of_a_kind(notes, len(notes))]


def _by_round(
    file: str, rounds: pd.DataFrame, each: dict[int, Putts], chances: pd.Series[float]
) -> dict[str, Problem]:
    """Return the refusal of each player with a round beyond belief, told of the least likely."""
    beyond = chances[chances < BEYOND].sort_values(kind="stable")
    players = rounds["player"].reindex(beyond.index).tolist()
    found: dict[str, Problem] = {}
    for number, player in zip(map(int, beyond.index.to_numpy()), players, strict=True):
        if player not in found:
            more = players.count(player) - 1
            found[player] = _refusal(file, rounds.iloc[number], each[number], more)
    return found


def _by_file(
    file: str, rounds: pd.DataFrame, putts: Putts, refused: dict[str, Problem]
) -> dict[str, Problem]:
    """Return the refusal of each other player whose rounds together are beyond belief."""
    codes, players = pd.factorize(rounds["player"])
    found: dict[str, Problem] = {}
    for code, whole in putts.groups(codes[putts.round_no].astype(np.int64)).items():
        if players[code] not in refused and _beyond(whole):
            own = rounds[codes == code]
            found[players[code]] = _refusal(file, own.iloc[0], whole, len(own) - 1, whole=True)
    return found


def _beyond(putts: Putts) -> bool:
    share = _at_odds(_rough_share(putts.feet), FILE_ODDS)
    if putts.made() <= share.sum() + _LUCKY * np.sqrt((share * (1 - share)).sum()):
        return False
    return putts.chance(FILE_ODDS) < BEYOND


def _refusal(
    file: str, first: pd.Series[Any], putts: Putts, more: int, *, whole: bool = False
) -> Problem:
    where = f" in {more + 1} rounds" if whole else ""
    also = f" (and {more} more round{'' if more == 1 else 's'})" if more and not whole else ""
    return Problem(
        file,
        int(first["source_row"]),
        "result",
        str(first["player"]) if whole else _round(first),
        f"{_how_many(putts)}{where}: beyond belief{also}",
        "If these rows are where the ball finished, write that into to_lie and to_distance of the "
        "stroke before. If the putts did go in, write holed.",
    )


def _note(file: str, first: pd.Series[Any], putts: Putts) -> Problem:
    return Problem(
        file,
        int(first["source_row"]),
        "result",
        _round(first),
        f"{_how_many(putts)}: fewer than 1 round in 1,000 on tour",
        "Nothing, if they went in. Where the ball finished belongs into to_lie and to_distance.",
        "note",
    )


def _how_many(putts: Putts) -> str:
    middle = float(np.median(putts.feet[putts.counted]))
    return (
        f"{putts.made()} of {len(putts.feet)} putts count as holed, half of them from "
        f"{middle:.0f} ft or more"
    )


def _round(first: pd.Series[Any]) -> str:
    return f"{first['player']}, {first['date']}, {first['round']}"


def tour_share(feet: Floats) -> Floats:
    """Return the share of putts that the tour holes from so many feet; source key broadie2014.

    The published one-putt shares, smooth between them (PCHIP of their log odds over ln(1 + feet)),
    the last slope beyond the farthest.
    """
    place, logit = _published()
    slope = _slopes()
    at = np.log1p(np.maximum(feet, NEAREST_FT))
    left = np.clip(np.searchsorted(place, at, side="right") - 1, 0, len(place) - 2)
    step = (place[1:] - place[:-1])[left]
    t = np.minimum((at - place[left]) / step, 1.0)
    found = (
        logit[left] * (1 + 2 * t) * (1 - t) ** 2
        + logit[left + 1] * t**2 * (3 - 2 * t)
        + step * t * (1 - t) * (slope[left] * (1 - t) - slope[left + 1] * t)
        + np.maximum(at - place[-1], 0.0) * slope[-1]
    )
    return np.asarray(1 / (1 + np.exp(-found)), float)


@cache
def _slopes() -> Floats:
    """Return the slopes at the published shares by the rule of Fritsch and Carlson.

    By hand, as scipy's PchipInterpolator has them, which takes longer to import than to load a
    card. All shares fall with the distance, so no slope has to be set to 0.
    """
    place, logit = _published()
    step = np.diff(place)
    rise = np.diff(logit) / step
    ahead, behind = 2 * step[1:] + step[:-1], step[1:] + 2 * step[:-1]
    within = (ahead + behind) / (ahead / rise[:-1] + behind / rise[1:])
    ends = [
        ((2 * a + b) * first - a * second) / (a + b)
        for a, b, first, second in (
            (step[0], step[1], rise[0], rise[1]),
            (step[-1], step[-2], rise[-1], rise[-2]),
        )
    ]
    ends = [
        max(min(end, 0.0), 3 * near) for end, near in zip(ends, (rise[0], rise[-1]), strict=True)
    ]
    return np.concatenate([ends[:1], within, ends[1:]])


def _rough_share(feet: Floats) -> Floats:
    place, logit = _published()
    found = np.interp(np.log1p(feet), place, logit)
    return np.asarray(1 / (1 + np.exp(-found)), float)


def _at_odds(share: Floats, times: float) -> Floats:
    return share * times / (1 + share * (times - 1))


@cache
def _published() -> tuple[Floats, Floats]:
    """Return ln(1 + feet) and the log odds of the tour's published one-putt shares."""
    with data_path("published/putt_outcomes.csv").open(encoding="utf-8", newline="") as file:
        rows = [
            (float(row["distance_ft"]), float(row["percent"]) / 100)
            for row in csv.DictReader(file)
            if (row["population"], row["outcome"]) == ("tour", "one-putt")
        ]
    feet, share = np.array([(NEAREST_FT, NEAREST_SHARE), *rows]).T
    return np.log1p(feet), np.log(share / (1 - share))
