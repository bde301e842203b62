"""One plain sentence about a number."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.clubs.number import EQUAL, played_words
from sgzone.units import M_PER_FT, M_PER_YD

_LEAST_AIM_FT = 1.0


def sentence(table: pd.DataFrame, yards: float, units: str = "yards") -> str:
    """Return what to hit from ``yards``, what is equal to it, and on how many shots it rests.

    ``table``: as ``clubs.number.plan_number`` returns it. ``units``: yards or metric.
    """
    metric = units == "metric"
    yd, ft, long, short = (M_PER_YD, M_PER_FT, "m", "m") if metric else (1.0, 1.0, "yd", "ft")
    number = f"{yards * yd:.0f} {long}" if metric else f"{yards:g} yd"
    if not len(table):
        return (
            f"No stock swing of yours finishes near {number}. Write club and swing on the card, or "
            "test your swings in blocks."
        )
    best = table.iloc[0]
    where = f"land it {best['landing_yd'] * yd:.0f} {long} out"
    said = (
        f"{number}: {_swing(best, units)}, {where}, {_aim(best['side_aim_ft'], ft, short)}: "
        f"{best['expected_strokes']:.2f} strokes to hole out on average, resting on "
        f"{best['shots']} shot{'' if best['shots'] == 1 else 's'}."
    )
    if best["spread_cost_ft"] > 0:
        cost = f"{best['spread_cost_ft'] * ft:.1f} {short}"
        said += f" Moving the swing adds {cost} of spread short/long."
    other = table[(table["verdict"] == EQUAL) & (_names(table) != _names(table).iloc[0])]
    if len(other):
        ways = [
            _swing(row, units) for _, row in other.drop_duplicates(["club", "swing"]).iterrows()
        ]
        said += f" Equal here: {'; '.join(ways)}."
    return said


def _names(table: pd.DataFrame) -> pd.Series[str]:
    return table["club"].astype(str) + " " + table["swing"].astype(str)


def _swing(row: pd.Series[Any], units: str) -> str:
    name = f"{row['club']} {row['swing']}".strip()
    return f"{name}, {played_words([row['moved_yd']], units)[0]}"


def _aim(side_ft: float, factor: float, unit: str) -> str:
    if abs(side_ft) < _LEAST_AIM_FT:
        return "at the hole"
    feet = f"{abs(side_ft) * factor:.{0 if unit == 'ft' else 1}f} {unit}"
    return f"aim {feet} {'right' if side_ft > 0 else 'left'} of the hole"
