"""One plain sentence about a number."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.stats.verdict import EQUAL
from sgzone.words.cautions import RULES
from sgzone.words.digits import count
from sgzone.words.say import Say

_LEAST_AIM_FT = 1.0


def title(lie: str, source: str, against: str) -> str:
    """Return what the ways to play one number rest on."""
    return f"From the {lie}, {source} shots, against {against}"


def sheet_title(lie: str, source: str, against: str) -> str:
    """Return what a sheet of numbers rests on."""
    return f"Numbers from the {lie}, {source} shots, against {against}"


def card_subtitle(player: str | None, lie: str, source: str, against: str) -> str:
    """Return whose sheet of numbers it is and what it rests on."""
    return f"{player or 'nobody'}, from the {lie}, {source} shots, against {against}"


def number_notes(say: Say) -> tuple[str, ...]:
    """Return what the interval of a way to play is of, and what the Rules limit."""
    return (f"Interval {say.sure} of the difference: how well the swings are known.", RULES)


def sentence(table: pd.DataFrame, yards: float, say: Say) -> str:
    """Return what to hit from ``yards``, what is equal to it, and on how many shots it rests.

    ``table``: as ``clubs.number.plan_number`` returns it.
    """
    number = say.typed(yards)
    if not len(table):
        return (
            f"No stock swing of yours finishes near {number}. Write club and swing on the card, or "
            "test your swings in blocks."
        )
    best = table.iloc[0]
    where = f"land it {say.length(best['landing_yd'], 'yd')} out"
    said = (
        f"{number}: {_swing(best, say)}, {where}, {_aim(best['side_aim_ft'], say)}: "
        f"{best['expected_strokes']:.2f} strokes to hole out on average, resting on "
        f"{count(best['shots'], 'shot')}."
    )
    if best["spread_cost_ft"] > 0:
        cost = say.length(best["spread_cost_ft"], "ft", 1)
        said += f" Moving the swing adds {cost} of spread short/long."
    other = table[(table["verdict"] == EQUAL) & (_names(table) != _names(table).iloc[0])]
    if len(other):
        ways = [_swing(row, say) for _, row in other.drop_duplicates(["club", "swing"]).iterrows()]
        said += f" Equal here: {'; '.join(ways)}."
    return said


def played(moved_yd: float, say: Say) -> str:
    """Return how a swing is played: ``stock``, ``3 yd more``, ``3 yd off``; empty if unknown."""
    if moved_yd != moved_yd:
        return ""
    if moved_yd == 0:
        return "stock"
    return f"{say.length(abs(moved_yd), 'yd')} {'more' if moved_yd > 0 else 'off'}"


def _names(table: pd.DataFrame) -> pd.Series[str]:
    return table["club"].astype(str) + " " + table["swing"].astype(str)


def _swing(row: pd.Series[Any], say: Say) -> str:
    name = f"{row['club']} {row['swing']}".strip()
    return f"{name}, {played(row['moved_yd'], say)}"


def _aim(side_ft: float, say: Say) -> str:
    if abs(side_ft) < _LEAST_AIM_FT:
        return "at the hole"
    side = "right" if side_ft > 0 else "left"
    return f"aim {say.length(abs(side_ft), 'ft')} {side} of the hole"
