"""How a cell of each kind is read, and the rules any column of that kind must keep."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.terms import HOLED, LIE_ALIASES, LIES
from sgzone.units import UNIT_WORDS

WHOLE_NUMBER = r"[+-]?\d+(\.0*)?"
NUMBER = r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?"
DECIMAL_COMMA = r"[+-]?\d*,\d+.*"
ISO_DATE = r"\d{4}-\d{2}-\d{2}([ T]00:00(:00(\.0+)?)?)?Z?"
SWAPPABLE_DATE = r"\d{1,2}[/.-]\d{1,2}[/.-](\d{2}|\d{4})"
FIRST_DAY = "1970-01-01"  # what is before it is a slip, or a number shown as a date

MOST_ASKED = (
    5  # rows of one question that are asked one by one: beyond it a card is of another kind
)

SHEET_ERRORS = (
    *("#REF!", "#N/A", "#DIV/0!", "#VALUE!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"),
    *("#FIELD!", "#BLOCKED!", "#CONNECT!", "#BUSY!", "#UNKNOWN!", "#EXTERNAL!", "#PYTHON!"),
    *("#GETTING_DATA", "#ERROR!"),
)
"""What a spreadsheet shows instead of a value; a CSV it exports holds the same texts."""
NO_RESULT = "#no result"
"""What a cell of a workbook holds whose formula was never worked out."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing a row must (or had better) keep.

    ``where`` is the SQL condition, over the staged rows, that a faulty row meets. ``wrong`` and
    ``fix`` may name staged columns in braces, ``{today}``, and ``{guess}``: the nearest of
    ``words``, as a question. ``scope`` is ``cell`` (any row whose cells can be told apart) or
    ``hole`` (a row whose keys could be read). ``once``: only the first row with each value is
    told. ``alone``: ``where`` looks at nothing but the column's own cell and what is read from
    it. ``texts``: the cells that meet it, where they can be listed. ``together``: what is wrong
    where more than ``MOST_ASKED`` rows meet it, one question about all ``{total}`` of them; then
    ``fix_together`` says what to do.
    """

    name: str
    column: str
    where: str
    wrong: str
    fix: str
    severity: str = "error"
    scope: str = "cell"
    once: bool = False
    words: tuple[str, ...] = ()
    texts: tuple[str, ...] = ()
    alone: bool = False
    together: str = ""
    fix_together: str = ""

    @property
    def condition(self) -> str:
        """The whole SQL condition."""
        return f"NOT {'broken' if self.scope == 'cell' else 'bad_key'} AND ({self.where})"


def quoted(text: str) -> str:
    """Return a SQL literal of a text of our own.

    >>> quoted("7'")
    "'7'''"
    """
    return "'" + text.replace("'", "''") + "'"


_INSTEAD = (*SHEET_ERRORS, NO_RESULT)
_ERRORS = "|".join(map(re.escape, _INSTEAD))


def matches(cell: str, pattern: str) -> str:
    """Return the SQL condition that the whole cell has this form."""
    return f"regexp_full_match({cell}, {quoted(pattern)})"


def typed(column: ColumnSpec) -> str:
    """Return the SQL expression of a column's value; NULL where its cell cannot be read."""
    cell = f"cell_{column.name}"
    value = _value(column, cell)
    if column.default:
        return f"CASE WHEN {cell} IS NULL THEN {column.default} ELSE {value} END"
    return value


def _value(column: ColumnSpec, cell: str) -> str:
    if column.kind == "integer":
        whole = f"TRY_CAST(TRY_CAST({cell} AS DOUBLE) AS INTEGER)"
        return f"CASE WHEN {matches(cell, WHOLE_NUMBER)} THEN {whole} END"
    if column.kind == "number":
        return f"CASE WHEN {matches(cell, NUMBER)} THEN TRY_CAST({cell} AS DOUBLE) END"
    if column.kind == "date":
        return f"CASE WHEN {matches(cell, ISO_DATE)} THEN TRY_CAST(left({cell}, 10) AS DATE) END"
    if column.name == "unit":
        cases = (f"WHEN {quoted(word)} THEN {quoted(unit)}" for word, unit in UNIT_WORDS.items())
        return f"CASE lower({cell}) {' '.join(cases)} END"
    if column.name in ("lie", "to_lie"):
        lies = {lie: lie for lie in LIES} | LIE_ALIASES
        lies |= {HOLED: HOLED} if HOLED in column.words else {}
        cases = (f"WHEN {quoted(word)} THEN {quoted(lie)}" for word, lie in lies.items())
        return rf"CASE regexp_replace(lower({cell}), '[\s_]+', ' ', 'g') {' '.join(cases)} END"
    if column.kind == "word":
        plain = rf"regexp_replace(lower({cell}), '[\s_-]+', '_', 'g')"
        return f"CASE WHEN {plain} IN ({_list(column.words)}) THEN {plain} END"
    if column.kind == "words":
        known = _list(column.words)
        return f"CASE WHEN lower({cell}) IN ({known}) THEN lower({cell}) ELSE {cell} END"
    return cell


def _list(words: Iterable[str]) -> str:
    return ", ".join(map(quoted, words))


def _is_error(cell: str) -> str:
    """Return the SQL condition that a cell is one of ``SHEET_ERRORS`` or ``NO_RESULT``."""
    return matches(cell, _ERRORS)


_SHOWS_ERROR = (
    "the spreadsheet shows an error here, not a value",
    "Mend the formula, or write the value itself; leave the cell blank if there is none.",
)
_LACKS_RESULT = (
    "a formula whose result is not in the file",
    "Open the workbook in a spreadsheet program and save it; or write the value itself.",
)


def instead_of_a_value(cell: str) -> tuple[str, str] | None:
    """Return what is wrong and what to do where a cell holds a spreadsheet's error, else None."""
    if cell == NO_RESULT:
        return _LACKS_RESULT
    return _SHOWS_ERROR if cell in SHEET_ERRORS else None


def plain_rules(table: str, except_for: frozenset[str] = frozenset()) -> tuple[Rule, ...]:
    """Return the rules every cell of a table must keep by its kind.

    ``except_for`` names columns whose rules stand elsewhere.
    """
    columns = [column for column in columns_of(table) if column.name not in except_for]
    return tuple(replace(rule, alone=True) for column in columns for rule in _rules_of(column))


def _rules_of(column: ColumnSpec) -> Iterator[Rule]:
    name, cell = column.name, f"cell_{column.name}"
    if column.kind in ("text", "words"):  # any other kind cannot read it and says so
        yield Rule("spreadsheet error", name, _is_error(cell), *_SHOWS_ERROR, texts=_INSTEAD)
    if column.needed:
        yield Rule("blank", name, f"{cell} IS NULL", "this cell is blank", f"{_asks(column)}.")
    if column.kind in ("integer", "number"):
        yield from _number_rules(column, cell)
    elif column.kind == "date":
        yield from _date_rules(name, cell)
    elif column.kind == "word":
        yield Rule(
            "word",
            name,
            f"{cell} IS NOT NULL AND {name} IS NULL",
            f"not a known word for {name}",
            f"Write one of {', '.join(column.words)}.{{guess}}",
            words=column.words,
        )
    elif column.kind == "words":
        yield Rule(
            "own word",
            name,
            f"{name} NOT IN ({_list(column.words)}) AND NOT {_is_error(cell)}",
            f"not one of {', '.join(column.words)}; kept as your own word",
            "Nothing, if you meant it.{guess}",
            severity="note",
            once=True,
            words=column.words,
        )
    elif column.kind == "text":
        yield Rule(
            "long text",
            name,
            f"length({name}) > {column.high}",
            f"longer than {column.high:g} characters",
            "Shorten it.",
        )


def _number_rules(column: ColumnSpec, cell: str) -> Iterator[Rule]:
    name = column.name
    what = "a whole number" if column.kind == "integer" else "a number"
    yield Rule(
        "decimal comma",
        name,
        matches(cell, DECIMAL_COMMA),
        "a comma inside a number",
        "Write decimals with a point (87.5) and no separator of thousands.",
    )
    yield Rule(
        "number",
        name,
        f"{cell} IS NOT NULL AND {name} IS NULL AND NOT {matches(cell, DECIMAL_COMMA)}",
        f"not {what}",
        f"Write {what}, without its unit, or leave the cell blank."
        if not column.needed
        else f"Write {what}.",
    )
    yield Rule(
        "range",
        name,
        f"{name} < {column.low} OR {name} > {column.high}",
        f"outside {column.low:g} to {column.high:g}{' ' + column.unit if column.unit else ''}",
        f"Check the number: {column.meaning}.",
    )


_STILL = {"in_play_to": ", or leave it blank while the club is in play"}


def _date_rules(name: str, cell: str) -> Iterator[Rule]:
    unread = f"{cell} IS NOT NULL AND {name} IS NULL"
    swappable = matches(cell, SWAPPABLE_DATE)
    yield Rule(
        "ambiguous date",
        name,
        f"{unread} AND {swappable}",
        "day and month could be swapped",
        "Write year-month-day, such as 2026-05-14.",
    )
    yield Rule(
        "date",
        name,
        f"{unread} AND NOT {swappable}",
        "not a date",
        "Write the day alone as year-month-day, such as 2026-05-14.",
    )
    yield Rule(
        "early date",
        name,
        f"{name} < DATE '{FIRST_DAY}'",
        f"a day before {FIRST_DAY[:4]}",
        f"Check the year; a club in play for longer came into play on {FIRST_DAY}."
        if name == "in_play_from"
        else "Check the year.",
    )
    yield Rule(
        "day to come",
        name,
        f"{name} > getvariable('today')::DATE + 1",
        "a day to come: is the date a slip, or this computer's clock wrong? (Today is {today}.)",
        f"Correct the date here and in the rows that share it{_STILL.get(name, '')}. If it is "
        "right, set the clock and try again.",
        once=True,
    )


def _asks(column: ColumnSpec) -> str:
    return f"Fill it in: {column.meaning}"
