"""Strokes in a list: where balls lay, the worst and the best, what a value rests on."""

from __future__ import annotations

import pandas as pd

from sgzone.terms import HOLED, NEAR_LIES
from sgzone.units import FT_PER_YD
from sgzone.words.digits import DAGGER, MINUS, count, daggered, number
from sgzone.words.say import Say, Words

_ENDS = 5  # strokes, worst and best of a list
NOT_PUBLISHED = (
    f"{DAGGER} Worked out, not published: --wide says how the standard's value was found."
)


def gained_lead(strokes: pd.DataFrame, against: str) -> Words:
    """Return how many strokes are listed, and what the best and the worst of them did."""
    known = strokes["gained"].dropna()
    if known.empty:
        return (f"{count(len(strokes), 'stroke')} against {against}.",)
    best, worst = (
        number(end, 2, signed=True).replace(MINUS, "-") for end in (known.max(), known.min())
    )
    what = f"{count(len(strokes), 'stroke')} against {against}: + gains, - loses."
    return (f"{what} The best {best}, the worst {worst}.",)


def daggers(
    table: pd.DataFrame, column: str, say: Say, *, wide: bool
) -> tuple[pd.DataFrame, Words]:
    """Return a table with marks in one of its columns, and what the mark means.

    Marked is what rests on values of the benchmark that are not published (column ``basis``). Where
    the ``wide`` table says on what, no mark is needed.
    """
    if wide or "basis" not in table or not (table["basis"] != "").any():
        return table, ()
    words = say.words(column)
    names = [words.get(name, name) for name in table[column]]
    marked = [daggered(n, basis) for n, basis in zip(names, table["basis"], strict=True)]
    return table.assign(**{column: marked}), (NOT_PUBLISHED,)


def ends(strokes: pd.DataFrame) -> pd.DataFrame:
    """Return the worst and the best strokes of a list, the worst first; of a short one all."""
    if len(strokes) <= 2 * _ENDS:
        return strokes
    known = strokes[strokes["gained"].notna()].sort_values("gained", kind="stable")
    return pd.concat([known.head(_ENDS), known.tail(_ENDS)])


def places(lies: pd.Series[str], yards: pd.Series[float], say: Say) -> list[str]:
    """Return where balls lay as a player says it: yards off the green, feet on and around it."""
    return [_place(lie, far, say) for lie, far in zip(lies, yards, strict=True)]


def _place(lie: object, yards: float, say: Say) -> str:
    if not isinstance(lie, str):
        return "unknown"
    if lie == HOLED:
        return lie
    unit, factor, places = _unit(lie, say)
    return f"{lie} {say.length(yards * factor, unit, places)}"


def _unit(lie: str, say: Say) -> tuple[str, float, int]:
    """Return the unit a ball at this lie is told in, what yards are multiplied by, its decimals."""
    return ("ft", FT_PER_YD, 1) if say.metric or lie in NEAR_LIES else ("yd", 1.0, 0)


def length_of(lie: str, say: Say) -> tuple[float, int, str]:
    """Return what makes yards at this lie a length as ``places`` has it: factor, decimals, unit."""
    unit, factor, places = _unit(lie, say)
    return factor * say.factor(unit), say.places(unit, places), say.unit(unit)
