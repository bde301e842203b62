"""One plain sentence about a number."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.clubs.number import EQUAL

_LEAST_AIM_FT = 1.0


def sentence(table: pd.DataFrame, yards: float) -> str:
    """Return what to hit from ``yards``, what is equal to it, and on how many shots it rests.

    ``table``: as ``clubs.number.plan_number`` returns it.
    """
    if not len(table):
        return (
            f"No stock swing of yours finishes near {yards:g} yd. Write club and swing on the "
            "card, or test your swings in blocks."
        )
    best = table.iloc[0]
    where = f"land it {best['landing_yd']:.0f} yd out, {_aim(best['side_aim_ft'])}"
    said = (
        f"{yards:g} yd: {_swing(best)}, {where}: {best['expected_strokes']:.2f} strokes to hole "
        f"out on average, resting on {best['shots']} shots."
    )
    if best["spread_cost_ft"] > 0:
        said += f" Moving the swing adds {best['spread_cost_ft']:.1f} ft of spread short/long."
    other = table[(table["verdict"] == EQUAL) & (_names(table) != _names(table).iloc[0])]
    if len(other):
        ways = [_swing(row) for _, row in other.drop_duplicates(["club", "swing"]).iterrows()]
        said += f" Equal here: {'; '.join(ways)}."
    return said


def _names(table: pd.DataFrame) -> pd.Series[str]:
    return table["club"].astype(str) + " " + table["swing"].astype(str)


def _swing(row: pd.Series[Any]) -> str:
    name = f"{row['club']} {row['swing']}".strip()
    return f"{name}, {row['played']}"


def _aim(side_ft: float) -> str:
    if abs(side_ft) < _LEAST_AIM_FT:
        return "at the hole"
    return f"aim {abs(side_ft):.0f} ft {'right' if side_ft > 0 else 'left'} of the hole"
