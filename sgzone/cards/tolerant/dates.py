"""The dates of a table: in any order that is clear; one question where it is not."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import pyarrow.compute as pc

from sgzone.cards.columns import columns_of
from sgzone.cards.days import DMY, MDY, ORDER_WORDS, YMD, Readings, readings, said
from sgzone.cards.tolerant.coded import rows_with
from sgzone.cards.tolerant.draft import Draft

ORDERS = (DMY, MDY)
"""What ``--dates`` may say."""

_CLEAR = r"^\d{4}-\d{2}-\d{2}([ T]00:00(:00(\.0+)?)?Z?)?$"


def read_dates(draft: Draft) -> None:
    """Read every column of days; ask once where day and month could be swapped."""
    found: dict[str, dict[str, Readings]] = {}
    for column in columns_of(draft.kind):
        if column.kind == "date" and column.name in draft.columns:
            texts = draft.columns[column.name].dictionary
            odd = texts.filter(pc.invert(pc.match_substring_regex(texts, _CLEAR))).to_pylist()
            if odd:
                found[column.name] = {
                    text: readings(text, draft.today, serials=True) for text in odd
                }
    if not found:
        return
    order = draft.given.dates or _settled(found) or ""
    rows: dict[str, int] = {}
    for name, texts in found.items():
        chosen = _chosen(draft, name, texts, order)
        for text, (_, how) in chosen.items():
            count = int(rows_with(draft.columns[name], [text]).sum())
            rows[how] = rows.get(how, 0) + count
        draft.replace(name, {text: day.isoformat() for text, (day, _) in chosen.items()})
    for how in ORDER_WORDS:
        if rows.get(how):
            where = f"{rows[how]} row{'s' if rows[how] > 1 else ''}"
            draft.note(f"dates read as {ORDER_WORDS[how]} in {where}")


def _settled(found: Mapping[str, Mapping[str, Readings]]) -> str | None:
    """Return the order that the dates with one reading have, None where they do not agree.

    A date that no calendar has the other way round says it first, then one that would be to come.
    """
    every = [one for texts in found.values() for one in texts.values()]
    for days in ([one.possible for one in every], [one.days for one in every]):
        told = [day.keys() & set(ORDERS) for day in days if len(set(day.values())) == 1]
        orders = {order for one in told if len(one) == 1 for order in one}
        if orders:
            return orders.pop() if len(orders) == 1 else None
    return None


def _chosen(
    draft: Draft, name: str, texts: Mapping[str, Readings], order: str
) -> dict[str, tuple[date, str]]:
    """Return the day of each text and how it was read; ask of the first that has a choice."""
    chosen: dict[str, tuple[date, str]] = {}
    asked = False
    for text, one in texts.items():
        if order in one.possible:
            chosen[text] = (one.possible[order], order)
        elif one.only is not None:
            chosen[text] = (one.only, next(iter(one.days)))
        elif one.days:
            if not asked:
                _ask_order(draft, name, text, one)
            asked = True
            # a question refuses the file: any reading does, to keep the rules from asking too
            draft.replace(name, {text: next(iter(one.days.values())).isoformat()})
        elif one.wrong:
            _ask_day(draft, name, text, one.wrong)
            stand_in = draft.today - timedelta(days=len(draft.problems))
            draft.replace(name, {text: stand_in.isoformat()})
    return chosen


def _ask_order(draft: Draft, name: str, text: str, one: Readings) -> None:
    ways = [f"--dates {order} ({said(one.days[order])})" for order in ORDERS if order in one.days]
    if YMD in one.days:
        ways.append(f"or write {one.days[YMD].isoformat()} in the file")
    draft.ask(
        draft.first_row(name, [text]), name, text, one.question(text), f"Say {' or '.join(ways)}."
    )


def _ask_day(draft: Draft, name: str, text: str, wrong: str) -> None:
    fix = "Write the day as year-month-day, such as 2026-05-14."
    draft.ask(draft.first_row(name, [text]), name, text, wrong, fix)
