"""What a checked file holds, in a sentence: whoever wrote it hears whether it is all there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from sgzone.cards.clock import today
from sgzone.harmless import named
from sgzone.words.digits import count, day, thousands

Contents = Mapping[str, Any]
"""The counts of one table, as ``season.reading.look_over`` has them, with its ``kind``."""

READY = "Ready to load."


def closing(files: Iterable[tuple[str, Iterable[Contents]]]) -> list[str]:
    """Return what each file holds, then that it can be loaded.

    ``files``: the name of each and its tables, none of them empty. One file needs no name.
    """
    told = [(name, " ".join(f"{table_in_words(one)}." for one in tables)) for name, tables in files]
    if len(told) == 1:
        return [f"{told[0][1]} {READY}"]
    lines = [f"{named(name)}: {words}" for name, words in told]
    return [*lines, f"{count(len(told), 'file')}, no errors. {READY}"]


def table_in_words(table: Contents) -> str:
    """Return what one table holds: ``18 holes, 47 strokes, 31 putts, 2 penalties on 14 May``."""
    what = _WORDS[table["kind"]](table)
    of = f" of {thousands(table['players'])} players" if table["players"] > 1 else ""
    if table["kind"] == "bag":
        return f"{what} in the bag{of}"
    when = _days(table["first_day"], table["last_day"])
    if table.get("open"):
        left = f"{count(table['open'], 'hole')} left where the last stroke finished"
        return f"{what}{of} {when}; {left}"
    return f"{what}{of} {when}"


def _card(table: Contents) -> str:
    told = [count(table["rounds"], "round")] if table["rounds"] > 1 else []
    told += [count(table["holes"], "hole"), count(table["strokes"], "stroke")]
    told += [count(table["putts"], "putt") if table["putts"] else "no putt"]
    if table["penalties"]:
        told += ["1 penalty" if table["penalties"] == 1 else f"{table['penalties']} penalties"]
    return ", ".join(told)


def _log(table: Contents) -> str:
    hours = f"{table['minutes'] / 60:.1f} hours"
    entries = thousands(table["entries"])
    return f"{entries} practice entr{'y' if table['entries'] == 1 else 'ies'}, {hours}"


def _test(table: Contents) -> str:
    return f"{count(table['balls'], 'ball')} in {count(table['blocks'], 'block')}"


def _bag(table: Contents) -> str:
    return count(table["clubs"], "club")


_WORDS = {"shot": _card, "log": _log, "test": _test, "bag": _bag}


def _days(first: date, last: date) -> str:
    if first == last:
        return f"on {_day(first)}"
    return f"from {_day(first)} to {_day(last)}"


def _day(when: date) -> str:
    """Return a day; the year is said where it is not this one, for it may be a slip."""
    words = day(when)
    return words if when.year != today().year else words.rsplit(" ", 1)[0]
