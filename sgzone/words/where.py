"""Sentences on where strokes are won and lost: parts, summaries, single strokes."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from sgzone.review.where.measuring import MOST_STROKES, SENSITIVE
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import OPEN, side_of
from sgzone.terms import HOLED, NEAR_LIES, NOT_ENOUGH
from sgzone.units import FT_PER_YD
from sgzone.words.digits import DAGGER, PUBLISHED, count, interval_words, listed, number, rows
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
    "Orange bars, left of the line: strokes lost per round; blue bars, right of it: gained.",
    "The thin line is the interval, the words are the verdict.",
)

LEANS = (
    "holds 0, yet the verdict names a side: it is about the value adjusted for few shots, which "
    "leans on the player's other parts."
)

GREY_PARTS = "Grey bars: neither is shown, or too few shots to judge."

MARKED = {
    "some": f"{DAGGER} The benchmark's value here is not published but fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
    "all": f"{DAGGER} No benchmark value here is published: they are fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
}

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


def summary_title(table: pd.DataFrame, keys: Sequence[str], against: str, say: Say) -> str:
    """Return what a summary by ``keys`` is; an order without a verdict is not called worst first.

    ``table``: as ``review.where.summary.summarise``.
    """
    cells = table[(table[list(keys)] != TOTAL).all(axis=1)]
    judged = cells.empty or (cells["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else LUCK_SO_FAR
    if list(keys)[:1] == ["month"]:
        order = "in order of time"
    sure = f" Ranges: {say.chances}." if table["low"].notna().any() else ""
    return f"Strokes a round of 18 holes against {against}: + gains, - loses, {order}.{sure}"


def gained_lead(strokes: pd.DataFrame, against: str) -> Words:
    """Return how many strokes are listed, and what the best and the worst of them did."""
    known = strokes["gained"].dropna()
    if known.empty:
        return (f"{count(len(strokes), 'stroke')} against {against}.",)
    best, worst = (number(end, 2, signed=True) for end in (known.max(), known.min()))
    what = f"{count(len(strokes), 'stroke')} against {against}: + gains, - loses."
    return (f"{what} The best {best}, the worst {worst}.",)


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
    if say.metric or lie in NEAR_LIES:
        return f"{lie} {say.length(yards * FT_PER_YD, 'ft', 1)}"
    return f"{lie} {say.length(yards, 'yd')}"


def _named(parts: pd.Series, say: Say) -> list[str]:
    words = say.parts
    return [words[part] for part in parts]


def parts_lead(parts: pd.DataFrame, say: Say) -> Words:
    """Return what the parts are and what is sensitive to distances."""
    sure = f"; ranges {say.chances}" if parts["low_per_round"].notna().any() else ""
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


def leaning(parts: pd.DataFrame, say: Say) -> Words:
    """Return which parts have a side though the interval of their own strokes holds 0, and why."""
    sided = parts["verdict"].map(side_of) != OPEN
    held = parts[sided & (parts["low_per_round"] < 0) & (parts["high_per_round"] > 0)]
    if held.empty:
        return ()
    return (f"The interval of {listed(_named(held['part'], say))} {LEANS}",)


def parts_alt(parts: pd.DataFrame, say: Say) -> str:
    """Return the chart by part in words."""
    ranges = interval_words(parts["low_per_round"], parts["high_per_round"], 2)
    said = [
        f"{say.parts[row.part]} {number(row.gained_per_round, 2, signed=True)} ({row.ends}), "
        f"{row.verdict}"
        for row in rows(parts.assign(ends=ranges))
    ]
    return f"Bars of strokes gained per round by part: {'; '.join(said)}."


def marked(basis: pd.Series) -> Words:
    """Return what the mark beside a number means, where one stands."""
    known = basis[basis != ""]
    other = known != PUBLISHED
    if not other.any():
        return ()
    return (MARKED["all" if other.all() else "some"],)
