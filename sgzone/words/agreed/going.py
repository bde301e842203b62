"""How agreements go, in a table, in sentences and in a line each."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from sgzone.harmless import cut
from sgzone.season.agreed.keeping import MOST_LETTERS
from sgzone.stats.verdict import BETTER_SINCE, NOT_SETTLED, TOO_FEW, WORSE_SINCE
from sgzone.terms import MEASURE, MIN_ROUNDS, MIN_SHOTS
from sgzone.words.agreed.measures import about, noun, spread, step, value
from sgzone.words.digits import count, day, listed, rows
from sgzone.words.say import Say, Words

TITLE = "What was agreed on"
NO_AGREEMENT = "No agreement yet."
HOW_TO_BEGIN = 'Begin: sgzone agree "two putts from 30 ft" --measure three_putt --from 30.'
NEXT = "Next: --done 1 closes number 1; the report opens with those still open."
NO_CAUSE = "Season, course and weather change too: a date is not a cause."
BY_LUCK = "Of six looks in a season, luck alone says better or worse in 1 season of 10."
NO_PROMISE = "A chance is an estimate, no promise."
NO_NUMBER = "not counted"
DONE = "done"
EDITED, CLOSED = "Agreement {} has its new text.", "Agreement {} is done."
DROPPED = "Dropped agreement {}."
_LINE = 60
"""Columns of an agreement's text in a line of a report."""
_TABLE = 40
"""Columns of it in a table."""
_VERDICTS = {
    **{TOO_FEW: "too few yet", "": NO_NUMBER},
    **{BETTER_SINCE: "better", WORSE_SINCE: "worse"},
}
_SUMS = ((BETTER_SINCE, "better"), (WORSE_SINCE, "worse"), (NOT_SETTLED, NOT_SETTLED))


def lead(table: pd.DataFrame) -> Words:
    """Return how many agreements are open and how they go. ``table``: as ``agreements``."""
    if table.empty:
        return (NO_AGREEMENT, HOW_TO_BEGIN)
    still = table[table["closed"].isna()]
    if still.empty:
        return (f"No open agreement; {count(len(table), 'agreement')} done.",)
    counted = [(int((still["verdict"] == code).sum()), word) for code, word in _SUMS]
    counted.append((int(still["verdict"].isin([TOO_FEW]).sum()), "with too few shots yet"))
    counted.append((int((still["verdict"] == "").sum()), "with nothing to count"))
    kinds = [(n, word) for n, word in counted if n]
    if len(kinds) == 1:
        said = kinds[0][1].removeprefix("with ")
    else:
        said = listed([f"{n} {word}" for n, word in kinds])
    return (f"{count(len(still), 'open agreement')}: {said}.",)


def shown(table: pd.DataFrame, say: Say, *, whole: bool = False) -> pd.DataFrame:
    """Return the agreements as a person reads them, open ones first: answer ``agreements``.

    The text is cut where it is long, unless it is wanted ``whole``; values and ranges are texts in
    the reader's units.
    """
    ordered = table.loc[table["closed"].notna().sort_values(kind="stable").index]
    found = list(rows(ordered))
    return ordered.assign(
        text=[
            f"{row.agreement}. {cut(row.text, 2 * MOST_LETTERS if whole else _TABLE)}"
            for row in found
        ],
        counted=[about(row, say) for row in found],
        before_words=[_value(row, row.before, say) for row in found],
        since_words=[_value(row, row.since, say) for row in found],
        range_words=[_spread(row, row.since_low, row.since_high, say) for row in found],
        goal=[_value(row, row.target, say) for row in found],
        verdict=[told(row) if pd.isna(row.closed) else DONE for row in found],
    )


def told(row: Any) -> str:
    """Return the verdict of an agreement as a person reads it."""
    verdict = str(row.verdict)
    return _VERDICTS.get(verdict, verdict)


def _value(row: Any, of: float, say: Say) -> str:
    return value(of, row.unit, say) if isinstance(row.unit, str) else ""


def _spread(row: Any, low: float, high: float, say: Say) -> str:
    return spread(low, high, row.unit, say) if isinstance(row.unit, str) else ""


def notes(table: pd.DataFrame, say: Say) -> Words:
    """Return what to be careful about, what would settle each, and what to ask next."""
    return (*care(table, say), *((NEXT,) if table["closed"].isna().any() else ()))


def care(table: pd.DataFrame, say: Say) -> Words:
    """Return what would settle each open agreement, then what to be careful about."""
    still = table[table["closed"].isna()]
    said = [f"{row.agreement}: {one}" for row in rows(still) for one in settling(row, say)]
    judged = still["verdict"].isin([BETTER_SINCE, WORSE_SINCE]).any()
    sure = " ".join(
        [
            *((f"Ranges: {say.chances}.",) if still["since_low"].notna().any() else ()),
            *((NO_PROMISE,) if still["met"].notna().any() else ()),
        ]
    )
    return (*said, *((sure,) if sure else ()), *((NO_CAUSE, BY_LUCK) if judged else ()))


def settling(row: Any, say: Say) -> Words:
    """Return what would settle an agreement, and how near its target is."""
    return (*_more(row, say), *_met(row, say))


def _more(row: Any, say: Say) -> Words:
    if row.verdict not in (TOO_FEW, NOT_SETTLED):
        return ()
    if row.verdict == TOO_FEW:
        if min(row.shots_before / MIN_SHOTS, row.rounds_before / MIN_ROUNDS) < 1:
            few = f"{noun(row, row.shots_before)} in {count(row.rounds_before, 'round')} before"
            return (f"{few} {_are(row.shots_before)} too few to judge by.",)
        return (f"too early: it takes {noun(row, MIN_SHOTS)} in {MIN_ROUNDS} rounds since.",)
    change = f"a change of {step(row.gap, row.unit, say)}"
    if row.more > 0:
        return (f"about {noun(row, _two_digits(row.more))} more would show {change}.",)
    return (f"only {change} or more would have shown by now.",)


def _are(n: int) -> str:
    return "is" if n == 1 else "are"


def _two_digits(n: float) -> float:
    power = 10.0 ** max(math.floor(math.log10(n)) - 1, 0)
    return math.ceil(n / power) * power


def _met(row: Any, say: Say) -> Words:
    """Return how likely the target is reached already; nothing without one."""
    if math.isnan(row.target):
        return ()
    target = f"target {value(row.target, row.unit, say)}{_due(row)}"
    if math.isnan(row.met):
        return (f"{target}; too few {_plural(row)} since to say how near.",)
    return (f"{target}: reached already with {chances(row.met)}.",)


def _due(row: Any) -> str:
    return "" if pd.isna(row.due) else f" by {day(row.due)}"


def _plural(row: Any) -> str:
    return noun(row, 2).partition(" ")[2]


def chances(p: float) -> str:
    """Return a chance as a coach says it.

    >>> chances(0.83), chances(0.13)
    ('about 8 chances in 10', 'about 1 chance in 10')
    >>> chances(0.02), chances(0.97)
    ('under 1 chance in 20', 'over 19 chances in 20')
    """
    if p < 0.05:
        return "under 1 chance in 20"
    if p > 0.95:
        return "over 19 chances in 20"
    tenths = min(max(round(10 * p), 1), 9)
    return f"about {count(tenths, 'chance')} in 10"


def line(row: Any, say: Say) -> str:
    """Return an open agreement in one line of a report: text, before, since, verdict."""
    text = cut(row.text, _LINE, "…")
    since = f"since {day(row.day)}"
    if not isinstance(row.unit, str):
        return f"{text} ({since}: {count(row.rounds_since, 'round')})."
    if row.since != row.since:
        return f"{text}: no {_plural(row)} {since}."
    now = value(row.since, row.unit, say)
    was = value(row.before, row.unit, say) or "unknown"
    sure = _spread(row, row.since_low, row.since_high, say)
    ranged = f"{sure}, " if sure else ""
    return (
        f"{text}: {was} before, {now} {since} ({ranged}{noun(row, row.shots_since)}): {told(row)}."
    )


def added(number: int, row: Any, say: Say) -> Words:
    """Return what was agreed on, as it was understood."""
    told = [f"Agreement {number}: {row.text}"]
    what = about(row, say)
    if what:
        goal = ""
        if not math.isnan(row.target):
            goal = f", target {value(row.target, MEASURE[row.measure].unit, say)}"
        told.append(f"Counted: {what}{goal}{_due(row)}; since means after {day(row.day)}.")
    else:
        told.append(f"Nothing is counted for it{_due(row)}. Add --measure or --part to count.")
    return tuple(told)
