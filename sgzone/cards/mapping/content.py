"""The tables of a mapping held to the card: our columns, our words, our units."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping as Table
from typing import Any

from sgzone.cards.columns import ColumnSpec, columns_of, nearest
from sgzone.cards.mapping.schema import MOST_TOLD, plain
from sgzone.cards.mapping.toml import Document, quoted
from sgzone.cards.rules import ISO_DATE, NUMBER, WHOLE_NUMBER
from sgzone.cards.tables import TABLES, all_names
from sgzone.errors import Problem
from sgzone.terms import LIE_ALIASES
from sgzone.units import UNIT_WORDS

PLACES = ("ball", "pin", "finish")
"""What positions can be of; the last is where the stroke ended, else the next row says it."""
_LATITUDE, _LONGITUDE = re.compile(r"\blat"), re.compile(r"\b(lon|lng)")
_FORMS = {
    "integer": (WHOLE_NUMBER, "a whole number"),
    "number": (NUMBER, "a number"),
    "date": (ISO_DATE, "the day as 2026-05-14"),
}
LENGTHS = ("yd", "ft")
"""Units of columns that a mapping can convert into."""


def spec_of(name: str) -> ColumnSpec:
    """Return a column of ours; those of one name are the same in every table."""
    return next(s for table in TABLES for s in columns_of(table.kind) if s.name == name)


def table_of(name: str) -> str:
    """Return the first kind of table that has a column."""
    return next(t.kind for t in TABLES if any(s.name == name for s in columns_of(t.kind)))


def is_length(spec: ColumnSpec) -> bool:
    """Return whether a column holds lengths, so that a unit can be said of it."""
    return spec.kind == "distance" or (spec.kind == "number" and spec.unit in LENGTHS)


def checked_columns(
    document: Document, tables: Table[str, dict[str, Any]], problems: list[Problem]
) -> dict[str, str]:
    """Return our column -> their header, as far as that can be."""
    found: dict[str, str] = {}
    of_header: dict[str, list[str]] = {}
    for name, header in _ours(document, "columns", tables["columns"], problems):
        if not isinstance(header, str) or not header.strip():
            fix = f'Write the header of the table in quotes: {name} = "Lage".'
            wrong = "this is no header"
            problems.append(document.problem(("columns", name), wrong, fix, header))
            continue
        found[name] = header
        of_header.setdefault(plain(header), []).append(name)
    for names in of_header.values():
        bare = [name for name in names if name not in tables["words"]]
        if len(names) > 1 and bare:
            wrong = f"{' and '.join(names)} cannot both be the cells of one header"
            fix = f"Name another header for {bare[-1]}, or its words under [words.{bare[-1]}]."
            keys = ("columns", bare[-1])
            problems.append(document.problem(keys, wrong, fix, found[bare[-1]]))
    return found


def checked_units(
    document: Document, table: dict[str, Any], problems: list[Problem]
) -> dict[str, str]:
    """Return our column -> ``yd``, ``m``, ``ft`` or the header of a column of units."""
    found: dict[str, str] = {}
    for name, unit in _ours(document, "units", table, problems):
        keys = ("units", name)
        if not is_length(spec_of(name)):
            lengths = ", ".join(n for n in sorted(all_names()) if is_length(spec_of(n)))
            problems.append(
                document.problem(keys, "no column of lengths", f"Those are {lengths}.", unit)
            )
        elif not isinstance(unit, str) or not unit.strip():
            fix = "Write yd, m or ft, or the header of the column that says it in each row."
            problems.append(document.problem(keys, "this is no unit", fix, unit))
        else:
            found[name] = UNIT_WORDS.get(unit.strip().lower(), unit)
    return found


def checked_words(
    document: Document, table: dict[str, Any], problems: list[Problem]
) -> dict[str, dict[str, str]]:
    """Return our column -> their word in plain form -> ours."""
    found: dict[str, dict[str, str]] = {}
    for name, words in _ours(document, "words", table, problems):
        if not isinstance(words, dict):
            fix = f'Write [words.{name}] in a line of its own, and their word = "ours" under it.'
            problems.append(document.problem(("words", name), "this must be a table", fix, words))
            continue
        found[name] = {}
        for theirs, ours in words.items():
            _add_word(document, (name, theirs), ours, found[name], problems)
    return found


def _add_word(
    document: Document,
    of: tuple[str, str],
    ours: object,
    found: dict[str, str],
    problems: list[Problem],
) -> None:
    name, theirs = of
    wrong = wrong_value(spec_of(name), ours) if len(problems) <= MOST_TOLD else None
    if found.get(plain(theirs), ours) != ours:
        wrong = ("this word is here twice, with two meanings", "Keep one of the two lines.")
    if wrong:
        problems.append(document.problem(("words", name, theirs), *wrong, ours))
    found[plain(theirs)] = str(ours)


def checked_fixed(
    document: Document, table: dict[str, Any], columns: Table[str, str], problems: list[Problem]
) -> dict[str, str]:
    """Return our column -> its value in every row."""
    found: dict[str, str] = {}
    for name, value in _ours(document, "fixed", table, problems):
        text = value.isoformat() if type(value) is datetime.date else value
        wrong = wrong_value(spec_of(name), text)
        if name in columns:
            wrong = (f"{name} is under [columns] too", "Keep one of the two lines.")
        if wrong:
            problems.append(document.problem(("fixed", name), *wrong, value))
        found[name] = str(text)
    return found


def checked_positions(
    document: Document, table: dict[str, Any], problems: list[Problem]
) -> dict[str, tuple[str, str]]:
    """Return place -> the headers of its latitude and its longitude."""
    found: dict[str, tuple[str, str]] = {}
    for name, headers in table.items():
        keys = ("positions", name)
        if name not in PLACES:
            fix = f"Write one of {', '.join(PLACES)}."
            problems.append(document.problem(keys, "no place of a stroke", fix, headers))
        elif wrong := _wrong_pair(name, headers):
            problems.append(document.problem(keys, *wrong, headers))
        else:
            found[name] = (headers[0], headers[1])
    for name in ("ball", "pin"):
        if table and name not in table:
            fix = f'Write {name} = ["header of latitude", "header of longitude"].'
            problems.append(document.problem(("positions",), f"positions need the {name}", fix))
    return found


def _wrong_pair(name: str, headers: object) -> tuple[str, str] | None:
    fix = f'Write {name} = ["header of latitude", "header of longitude"].'
    if not isinstance(headers, list) or len(headers) != 2:
        return "a position is two headers", fix
    if not all(isinstance(header, str) and header.strip() for header in headers):
        return "these are no headers", fix
    latitude, longitude = (plain(header).replace("_", " ") for header in headers)
    if _LONGITUDE.search(latitude) or _LATITUDE.search(longitude):
        return "longitude seems to come before latitude", fix
    return None


def wrong_value(spec: ColumnSpec, value: object) -> tuple[str, str] | None:
    """Return what is wrong with a value for a column of ours and what to write, None if nothing.

    A blank is fine: a word of theirs can mean that nothing is said.
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return "this is no word of ours", f"Write text in quotes; {spec.name} is {spec.meaning}."
    text = str(value).strip()
    if not text:
        return None
    if spec.words:
        return _wrong_word(spec, text)
    form, what = _FORMS.get(spec.kind, ("", ""))
    if form and not re.fullmatch(form, text):
        return f"{spec.name} cannot be this", f"Write {what}: {spec.meaning}."
    return None


def _wrong_word(spec: ColumnSpec, text: str) -> tuple[str, str] | None:
    known = (*spec.words, *(LIE_ALIASES if spec.name.endswith("lie") else ()))
    known += tuple(UNIT_WORDS) if spec.name == "unit" else ()
    low = " ".join(text.lower().replace("_", " ").split())
    if low in known or low.replace(" ", "_") in known:
        return None
    guess = nearest(low, spec.words)
    if spec.kind == "words" and not guess:  # a player's own word
        return None
    hint = f' Did you mean "{guess}"?' if guess else ""
    return f"no word of ours for {spec.name}", f"Write one of {', '.join(spec.words)}.{hint}"


def _ours(
    document: Document, table: str, inside: dict[str, Any], problems: list[Problem]
) -> list[tuple[str, Any]]:
    """Return the entries whose key is a column of ours; the others are mistakes."""
    found = []
    for name, value in inside.items():
        if name in all_names():
            found.append((name, value))
            continue
        guess = nearest(name, all_names()) if len(problems) < MOST_TOLD else None
        fix = f"Did you mean {guess}?" if guess else "docs/data-dictionary.md lists our columns."
        turned = isinstance(value, str) and value in all_names()
        if turned and table == "columns":
            fix = f"Our name comes first: {value} = {quoted(name)}."
        problems.append(document.problem((table, name), "we have no such column", fix, value))
    return found
