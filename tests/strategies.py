"""Hypothesis strategies of valid cards."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from sgzone.terms import MAX_PUTT_FT, SURE_PUTT_FT

OFF_GREEN = ("fairway", "rough", "sand", "recovery", "fringe")


@dataclass(frozen=True)
class Row:
    """One row of a card; the distance in whole feet, so that every unit writes it exactly."""

    player: str
    date: str
    round: int
    hole: int
    shot: int
    lie: str
    feet: int
    penalty: int
    result: str

    def cells(self, unit: str = "ft") -> dict[str, str]:
        """Return the row as the cells of a card, its distance written in ``unit``."""
        return {
            "player": self.player,
            "date": self.date,
            "round": str(self.round),
            "hole": str(self.hole),
            "shot": str(self.shot),
            "lie": self.lie,
            "distance": written(self.feet, unit),
            "penalty": str(self.penalty),
            "result": self.result,
        }


def written(feet: int, unit: str) -> str:
    """Return a length as a card may write it: in ``ft``, ``yd``, ``m``, or feet and inches."""
    if unit == "inches":
        return f"{feet}'0\""
    factor = {"ft": 1, "yd": 1 / 3, "m": 0.3048}[unit]
    return f"{feet * factor:.12f}".rstrip("0").rstrip(".") + f" {unit}"


@st.composite
def valid_holes(
    draw: st.DrawFn, player: str = "Ada", date: str = "2026-05-14", round_: int = 1, hole: int = 1
) -> list[Row]:
    """Draw the rows of one valid hole, in order.

    It may start at any shot number, in any lie; end holed, conceded or picked up; have penalties
    (counted in the shot numbers or not) and putts that leave the green.
    """
    count = draw(st.integers(1, 6))
    shot = draw(st.integers(1, 4))
    counts_penalties = draw(st.booleans())
    rows: list[Row] = []
    for place in range(count):
        first = not rows
        teed_again = not first and rows[-1].penalty > 0
        lies = ("green", *OFF_GREEN, *(("tee",) if first or teed_again else ()))
        lie = draw(st.sampled_from(lies))
        feet = draw(st.integers(1, int(MAX_PUTT_FT) if lie == "green" else 1500))
        last = place == count - 1
        penalty = 0 if last else draw(st.sampled_from((0, 0, 0, 1, 2)))
        rows.append(Row(player, date, round_, hole, shot, lie, feet, penalty, ""))
        shot += 1 + (penalty if counts_penalties else 0)
    return [*rows[:-1], replace(rows[-1], result=draw(_endings(rows[-1])))]


def _endings(row: Row) -> st.SearchStrategy[str]:
    sure = row.lie == "green" and row.feet <= SURE_PUTT_FT
    return st.sampled_from(("holed", "conceded", "picked_up", *(("",) if sure else ())))


@st.composite
def valid_cards(
    draw: st.DrawFn, max_rounds: int = 3, max_holes: int = 4, player: str = "Ada"
) -> list[Row]:
    """Draw the rows of a valid card of one player: rounds on different days, holes in order."""
    rows: list[Row] = []
    for day in range(draw(st.integers(1, max_rounds))):
        date = (datetime.date(2026, 5, 1) + datetime.timedelta(day)).isoformat()
        holes = draw(
            st.lists(st.integers(1, 18), min_size=1, max_size=max_holes, unique=True).map(sorted)
        )
        for hole in holes:
            rows += draw(valid_holes(player, date, 1, hole))
    return rows
