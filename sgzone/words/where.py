"""Sentences on where strokes are won and lost: parts, summaries, single strokes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from sgzone.review.where.measuring import MOST_STROKES, SENSITIVE
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import OPEN, side_of
from sgzone.terms import HOLED, NEAR_LIES, NOT_ENOUGH
from sgzone.units import FT_PER_YD
from sgzone.words.digits import (
    DAGGER,
    MINUS,
    PUBLISHED,
    count,
    daggered,
    interval_words,
    listed,
    number,
    rows,
)
from sgzone.words.say import Say, Words

LUCK_SO_FAR = "too early: the order is mostly luck"

_ENDS = 5  # strokes, worst and best of a list
NEXT = "Next: sgzone why says what causes it; sgzone practice shares out your hours."

PARTS_TITLE = "Where strokes go: gained per round of 18 holes, by part of the game"


TOO_FEW_TO_DRAW = (
    "Too few shots: bars of single strokes would look like a finding. A verdict needs 10 strokes "
    "over 5 rounds."
)


READ_PARTS = (
    "Bars and their numbers: as played, orange to the left loses, blue to the right gains.",
    "Dot and line: the best estimate and its range. The verdict speaks of them.",
)

GREY_PARTS = "Grey bars: neither is shown, or too few shots to judge."

MARKED = {
    "some": f"{DAGGER} The benchmark's value here is not published but fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
    "all": f"{DAGGER} No benchmark value here is published: they are fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
}
NOT_PUBLISHED = (
    f"{DAGGER} Worked out, not published: --wide says how the standard's value was found."
)

WITHOUT_A_SEASON_FILE = (
    "Verdicts are not rerun under measuring errors, nor unfinished holes counted, without a season "
    "file."
)


def not_rerun(strokes: int) -> str:
    """Return why no verdict was tried with measuring errors."""
    return (
        f"{strokes} strokes: verdicts were not rerun under measuring errors (up to "
        f"{MOST_STROKES}); choose a player or dates."
    )


def summary_title(table: pd.DataFrame, keys: Sequence[str], against: str) -> str:
    """Return what a summary by ``keys`` is; an order without a verdict is not called worst first.

    ``table``: as ``review.where.summary.summarise``.
    """
    cells = table[(table[list(keys)] != TOTAL).all(axis=1)]
    judged = cells.empty or (cells["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else LUCK_SO_FAR
    if list(keys)[:1] == ["month"]:
        order = "in order of time"
    return f"Strokes a round of 18 holes against {against}: + gains, - loses, {order}."


def ranges(table: pd.DataFrame, say: Say) -> Words:
    """Return how often a range is right, where a table has one."""
    return (f"Ranges: {say.chances}.",) if table["low"].notna().any() else ()


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


def _named(parts: pd.Series, say: Say) -> list[str]:
    words = say.parts
    return [words.get(part, f"the {part}") for part in parts]  # the total is a row too


def parts_lead(parts: pd.DataFrame, say: Say) -> Words:
    """Return what the parts are and what is sensitive to distances."""
    sure = f"; ranges {say.chances}" if parts["shrunk_low_per_round"].notna().any() else ""
    judged = (parts["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else LUCK_SO_FAR
    lead = f"Strokes a round of 18 holes, by part of the game, {order}{sure}."
    return (lead, *sensitive(parts, say))


def sensitive(parts: pd.DataFrame, say: Say) -> Words:
    """Return which verdicts would change with other distances; nothing where none was tried."""
    if "measuring" not in parts or (parts["verdict"] == NOT_ENOUGH).all():
        return ()
    names = _named(parts.loc[parts["measuring"] == SENSITIVE, "part"], say)
    if not names:
        return ("No verdict changes with distances 10% longer or shorter.",)
    return (f"Distance-sensitive: {listed(names)} (10% more or less changes the verdict).",)


def read_parts(verdicts: pd.Series) -> Words:
    """Return how to read the chart by part; of grey bars only where there are some."""
    sided = verdicts.map(side_of) != OPEN
    return READ_PARTS if sided.all() else (*READ_PARTS, GREY_PARTS)


def parts_alt(parts: pd.DataFrame, say: Say) -> str:
    """Return the chart by part in words."""
    ends = interval_words(parts["shrunk_low_per_round"], parts["shrunk_high_per_round"], 2)
    said = [
        f"{say.parts[row.part]} {number(row.gained_per_round, 2, signed=True)}, "
        f"{_best(row)}{row.verdict}"
        for row in rows(parts.assign(ends=ends))
    ]
    return f"Strokes gained per round by part, as played: {'; '.join(said)}."


def _best(row: Any) -> str:
    """Return the best estimate of a part with its range, before its verdict; empty for none."""
    if row.shrunk_per_round != row.shrunk_per_round:
        return ""
    return f"best estimate {number(row.shrunk_per_round, 2, signed=True)} ({row.ends}), "


def marked(basis: pd.Series) -> Words:
    """Return what the mark beside a number means, where one stands."""
    known = basis[basis != ""]
    other = known != PUBLISHED
    if not other.any():
        return ()
    return (MARKED["all" if other.all() else "some"],)
