"""A finished frame as a table of text, for terminal, page and paper alike."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from sgzone.answers import BY_ROW, DATA, SHORT, Column, columns_of
from sgzone.words.digits import MINUS, count, number, thousands
from sgzone.words.say import Say

if TYPE_CHECKING:
    import pandas as pd

Plain = dict[str, list[Any]]
"""Columns by name, None where a value is missing: rows that were never made a frame."""
LONG_TEXT = 28
"""A text column whose longest cell is wider may be broken over lines."""
_READ = {"start", "end"}
"""Columns that say in words what others hold."""
NUMBER, WORD, TEXT = "num", "word", "text"
_BY_UNIT = {
    **{"share": 0, "ft": 1, "per round": 2},
    **{"strokes per shot": 2, "% of distance": 0, "rpm": -1},
}
"""Unit of a row -> decimals of its numbers, -1 to the next ten: what their errors let them say."""


@dataclass(frozen=True, slots=True)
class Table:
    """A table ready to print.

    ``kinds``: per column ``num`` (flush right), ``word`` (kept on one line) or ``text``. ``short``:
    whether the column is in the short table too. ``links``: of each row, the section of the page
    that its first cell leads to; none for a table that leads nowhere. ``data``: the rows unrounded,
    by the names of csv. ``opens``: of each row, the strokes it is made of, as the page's script
    reads them (``part=putt_0_10``); none for a table of other things.
    """

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kinds: tuple[str, ...]
    short: tuple[bool, ...]
    links: tuple[str, ...] = ()
    data: pd.DataFrame | None = field(default=None, compare=False, repr=False)
    opens: tuple[str, ...] = ()

    def only_short(self) -> Table:
        """Return the table without its wide columns."""
        kept = [place for place, short in enumerate(self.short) if short]
        return Table(
            self.caption,
            tuple(self.headings[k] for k in kept),
            tuple(tuple(row[k] for k in kept) for row in self.rows),
            tuple(self.kinds[k] for k in kept),
            (True,) * len(kept),
            self.links,
            self.data,
            self.opens,
        )

    def typeset(self) -> Table:
        """Return the table with true minus signs, for page and paper."""
        rows = tuple(
            tuple(
                cell.replace("-", MINUS) if kind == NUMBER else cell
                for cell, kind in zip(row, self.kinds, strict=True)
            )
            for row in self.rows
        )
        return replace(self, rows=rows)


def more_rows(left: int) -> tuple[str, ...]:
    """Return how many rows of a table are not printed, and how to see them."""
    return (f"{count(left, 'more row')}: add --rows all.",) if left else ()


def table_of(
    frame: pd.DataFrame | Plain,
    answer: str,
    say: Say,
    caption: str = "",
    *,
    keys: Collection[str] = (),
    kept: Collection[str] = (),
    named: Mapping[str, str] | None = None,
) -> Table:
    """Return the shown columns of an answer as text; a missing value is an empty cell.

    A column in which no row says anything is left out, unless it is one of ``kept``. Low and high
    end of a range are one column. ``keys``: columns of the answer ``by`` that stand before the
    answer's own; those of ``auto`` come last. ``named``: what stands in headings for ``{...}``.
    """
    by = {column.name: column for column in columns_of("by")}
    own = [c for c in columns_of(answer) if c.name not in keys]
    own += [c for c in columns_of("auto") if c.name not in {other.name for other in own}]
    columns = [c for c in (*(by[k] for k in keys), *own) if c.name in frame and c.shown != DATA]
    made = []
    while columns:
        column = columns.pop(0)
        texts = _texts(frame, column, say)
        if column.range_of and columns and columns[0].range_of == column.range_of:
            high = _texts(frame, columns.pop(0), say)
            texts = [f"{a} to {b}" if a or b else "" for a, b in zip(texts, high, strict=True)]
        if any(texts) or not rows_in(frame) or column.name in kept or column.name in keys:
            made.append((column, texts))
    return Table(
        caption=caption,
        headings=tuple(_heading(column, say, named or {}) for column, _ in made),
        rows=tuple(zip(*(texts for _, texts in made), strict=True)),
        kinds=tuple(_kind(column, texts) for column, texts in made),
        short=tuple(column.shown == SHORT for column, _ in made),
        data=None if isinstance(frame, dict) else _data(frame, answer),
    )


def rows_in(frame: pd.DataFrame | Plain) -> int:
    """Return how many rows a frame or plain columns have."""
    return len(next(iter(frame.values()), ())) if isinstance(frame, dict) else len(frame)


def first_rows(frame: pd.DataFrame | Plain, most: int) -> pd.DataFrame | Plain:
    """Return at most so many rows, from the top."""
    if isinstance(frame, dict):
        return {name: values[:most] for name, values in frame.items()}
    return frame.iloc[:most]


def _data(frame: pd.DataFrame, answer: str) -> pd.DataFrame:
    return frame[[name for name in frame if name in _known(answer)]]


def _known(answer: str) -> set[str]:
    """Return the columns that csv may have of an answer, without words made of others."""
    return {column.name for name in (answer, "by", "auto") for column in columns_of(name)} - _READ


def _kind(column: Column, texts: list[str]) -> str:
    if column.numeric:
        return NUMBER
    return TEXT if max(map(len, texts), default=0) > LONG_TEXT else WORD


def _heading(column: Column, say: Say, named: Mapping[str, str]) -> str:
    heading = column.heading.format(**named) if named else column.heading
    length = column.unit in ("yd", "ft") and not column.range_of
    return f"{heading}, {say.unit(column.unit)}" if length else heading


def _texts(frame: pd.DataFrame | Plain, column: Column, say: Say) -> list[str]:
    values = frame[column.name]
    if column.unit == BY_ROW:
        pairs = zip(values, frame["unit"], strict=True)
        return [_in_unit(value, unit, say, signed=column.signed) for value, unit in pairs]
    known = values if isinstance(values, list) else _there(values)
    words = say.words(column.name)
    return [_cell(value, column, say, words) for value in known]


def _there(values: pd.Series[Any]) -> list[Any]:
    """Return the values of a column, None for each that is missing."""
    gone = values.isna().tolist()
    return [None if out else value for value, out in zip(values.tolist(), gone, strict=True)]


def _in_unit(value: float, unit: str, say: Say, *, signed: bool) -> str:
    """Return a number of a row that names its unit: ``42%``, ``18.5 ft``, ``1.80``, ``+340``."""
    if value != value:
        return ""
    places = _BY_UNIT[unit]
    if unit == "share":
        return f"{100 * value:.{places}f}%"
    if unit == "ft":
        return say.length(value, unit, places)
    return _plain(round(value, places), max(places, 0), signed=signed)


def _cell(value: Any, column: Column, say: Say, words: Mapping[str, str]) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else ""
    if column.decimals is not None and not isinstance(value, str):
        return _number(float(value), column, say)
    if hasattr(value, "isoformat"):
        return str(value.isoformat()).removesuffix("T00:00:00")
    return words.get(str(value), str(value))


def _number(value: float, column: Column, say: Say) -> str:
    places, signed = column.decimals or 0, column.signed
    if column.share == 1:
        return f"{_plain(100 * value, places, signed=signed)}%"
    if column.share:
        nearest = column.share * math.floor(100 * value / column.share + 0.5)
        return f"{nearest}%" if nearest else f"under {column.share}%"
    if column.unit:
        return _plain(value * say.factor(column.unit), places, signed=signed)
    if places == 0 and not signed:
        return thousands(value)
    return _plain(value, places, signed=signed)


def _plain(value: float, places: int, *, signed: bool) -> str:
    return number(value, places, signed=signed).replace(MINUS, "-")
