"""One plain sentence about a number."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.clubs.green import Green
from sgzone.clubs.shots import COURSE, RANGE_BALLS, TEST
from sgzone.stats.verdict import EQUAL
from sgzone.units import FT_PER_YD
from sgzone.words.cautions import RULES
from sgzone.words.digits import count, listed
from sgzone.words.say import Say, Words

SHOTS = {COURSE: "course shots", TEST: "test shots", RANGE_BALLS: "range balls"}
"""Each source of shots in words."""

_LEAST_AIM_FT = 1.0
_WORTH_A_WORD_FT = 2.0  # of spread: less is lost in any round
AROUND = ("short", "over it", "left", "right")
"""The sides of ``Green.lies`` in words."""


READ_GREEN = (
    "Dark line: the edge of the green; cross: the hole. Triangle: where to land it; circle: the "
    "middle of where it finishes.",
    "Inner ring: half of your shots; outer: 8 in 10.",
)


def green_title(yards: float, lie: str, source: str, say: Say) -> str:
    """Return the title of a number on its green."""
    far = say.length(yards, "yd") if say.metric else f"{yards:g} yd"
    return f"{far} from the {lie}, by {SHOTS[source]}: where to land it"


def green_words(green: Green, say: Say) -> str:
    """Return where the pin stands, how large the green is, and what lies around it."""
    on, deep, left, wide = (
        say.length(yards, "yd") for yards in (green.on, green.deep, green.left, green.wide)
    )
    around = listed([f"{lie} {side}" for side, lie in zip(AROUND, green.lies, strict=True)])
    return (
        f"Pin {on} on, {left} from the left edge; green {deep} deep, {wide} wide. Around it: "
        f"{around}."
    )


def none_near(yards: float, say: Say) -> str:
    """Return that there is nothing to hit."""
    far = say.typed(yards)
    return f"No stock swing of yours finishes near {far}."


def counted(table: pd.DataFrame) -> pd.DataFrame:
    """Return the options with the number of shots behind how each is played."""
    shots = [count(int(n), "shot") for n in table["shots"]]
    return table.assign(played=[f"{p} ({n})" for p, n in zip(table["played"], shots, strict=True)])


def title(lie: str, source: str, against: str) -> str:
    """Return what the ways to play one number rest on."""
    return f"From the {lie}, {source} shots, against {against}."


def sheet_title(lie: str, source: str, against: str) -> str:
    """Return what a sheet of numbers rests on."""
    return f"Numbers from the {lie}, {source} shots, against {against}"


def card_subtitle(player: str | None, lie: str, source: str, against: str) -> str:
    """Return whose sheet of numbers it is and what it rests on."""
    return f"{player or 'nobody'}, from the {lie}, {source} shots, against {against}"


def number_notes(say: Say) -> tuple[str, ...]:
    """Return what the ranges of a way to play are, and what the Rules limit."""
    return (f"Ranges (--wide): {say.chances}, how well the swings are known.", RULES)


def lead(table: pd.DataFrame, yards: float, say: Say) -> Words:
    """Return what to hit from ``yards``, on how many shots that rests, and what is equal to it.

    ``table``: as ``clubs.number.plan_number`` returns it.
    """
    number = say.typed(yards)
    if not len(table):
        return (
            f"No stock swing of yours finishes near {number}.",
            "Write club and swing on the card, or test your swings in blocks.",
        )
    best = table.iloc[0]
    aim = _aim(best["side_aim_ft"], say)
    land = say.length(best["landing_yd"], "yd")
    shots = count(best["shots"], "shot")
    said = [f"{number}: {_swing(best, say)}. Land it {land}. {aim}. ({shots})"]
    if best["spread_cost_ft"] >= _WORTH_A_WORD_FT:
        cost = say.length(best["spread_cost_ft"], "ft", 1)
        said.append(f"Changing the swing costs {cost} of distance control.")
    if best["short"]:
        said.append(f"No swing of yours reaches {number}: this one is {_short(best, say)}.")
    if best["pooled"]:
        said.append("Few shots: its spread is that of your other swings.")
    other = table[(table["verdict"] == EQUAL) & (_names(table) != _names(table).iloc[0])]
    if len(other):
        ways = [_swing(row, say) for _, row in other.drop_duplicates(["club", "swing"]).iterrows()]
        said.append(f"Just as good: {'; '.join(ways)}.")
    return tuple(said)


def out_of_reach(finish_ft: float, say: Say) -> str:
    """Return that no swing gets to a number; ``finish_ft``: where this one finishes."""
    far = say.length(-finish_ft / FT_PER_YD, "yd")
    return f"no swing of yours reaches: {far} short"


def played(moved_yd: float, say: Say) -> str:
    """Return how a swing is played: ``stock``, ``3 yd extra``, ``3 yd less``; empty if unknown."""
    if moved_yd != moved_yd:
        return ""
    if moved_yd == 0:
        return "stock"
    return f"{say.length(abs(moved_yd), 'yd')} {'extra' if moved_yd > 0 else 'less'}"


def _names(table: pd.DataFrame) -> pd.Series[str]:
    return table["club"].astype(str) + " " + table["swing"].astype(str)


def _swing(row: pd.Series[Any], say: Say) -> str:
    name = f"{row['club']} {row['swing']}".strip()
    return f"{name}, {played(row['moved_yd'], say)}"


def _short(row: pd.Series[Any], say: Say) -> str:
    return f"{say.length(-row['finish_ft'] / FT_PER_YD, 'yd')} short of the hole"


def _aim(side_ft: float, say: Say) -> str:
    if abs(side_ft) < _LEAST_AIM_FT:
        return "Aim at the hole"
    side = "right" if side_ft > 0 else "left"
    return f"Aim {say.length(abs(side_ft), 'ft')} {side}"
