"""A round written as a text card: short where that is read back as the same, else beyond doubt."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby
from typing import Any

from sgzone.cards.clock import today
from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.days import said
from sgzone.cards.given import NOTHING
from sgzone.cards.text.atoms import bracketed
from sgzone.cards.text.clean import clean
from sgzone.cards.text.heading import heading, settle
from sgzone.cards.text.hole import hole_line, read_hole
from sgzone.cards.text.lengths import length
from sgzone.cards.text.places import Reading
from sgzone.cards.text.vocabulary import (
    CONCEDED,
    HOLED_THERE,
    LETTER_OF,
    PICKED_UP,
    RESULT_OF,
    SWING_OF,
    as_club,
    as_swing,
)
from sgzone.harmless import one_line
from sgzone.terms import GREEN

Row = Mapping[str, Any]
"""One row of a card in canonical values, as ``season.reading.read_card`` has them."""

SURE_HOLED_FT = 10.0
"""A last putt from farther is written with its sign: that it went in was no slip of the pen."""

_SIGN_OF = {word: sign for sign, word in RESULT_OF.items()}
_OWN_FORM = {
    *("player", "date", "round", "hole", "shot", "lie", "distance", "unit", "penalty", "result"),
    *("club", "swing", "depth_ft", "side_ft", "par", "note"),
}
_OF_A_STROKE = ("distance_ft", "to_lie", "to_distance")
_NEEDED = {
    *("player", "date", "round", "hole", "lie", "distance_ft", "penalty", "result"),
    *("to_lie", "to_distance_ft"),
}
_PLAIN_VALUE = re.compile(r"[A-Za-z][A-Za-z-]*|-?[0-9.]+")
_NUMBERS = {c.name for c in columns_of("shot") if c.kind in ("integer", "number")}
_PLAIN_KEY = re.compile(r"[A-Za-z_]+")
_PLAIN_NAME = re.compile(r"[A-Za-z][A-Za-z'.]*( [A-Za-z][A-Za-z'.]*)*")
_ORDINAL = {1: "st", 2: "nd", 3: "rd"}


def card_text(rows: Sequence[Row], columns: Sequence[str] | None = None) -> str:
    """Return rounds as a text card: for each a line of who, when and where, and a line a hole.

    ``rows``: in canonical values and in order of play. ``columns``: only these of those columns
    that a card need not have are written; None: all. Read back it is the same round.
    """
    kept = [_kept(row, columns) for row in rows]
    rounds = groupby(kept, key=lambda row: (row["player"], row["date"], row.get("round", 1)))
    return "\n".join(_round(list(of)) for _, of in rounds)


def _kept(row: Row, columns: Sequence[str] | None) -> dict[str, Any]:
    """Return the filled values of a row, its own columns (JSON in ``extra``) under their names."""
    filled = {name: value for name, value in row.items() if not _missing(value)}
    filled.pop("played", None)
    more = json.loads(filled.pop("extra", "{}") or "{}")
    own = {f"[{name}": str(value) for name, value in more.items()}  # no column begins so
    if columns is not None:
        filled = {n: v for n, v in filled.items() if n in _NEEDED or n in columns}
        own = {}
    if "to_distance_ft" in filled:
        feet = float(filled.pop("to_distance_ft"))
        filled["to_distance"] = length(feet, None)[0] if feet else "0"
    return filled | own


def _missing(value: Any) -> bool:
    if isinstance(value, str):  # a word such as NaT is somebody's
        return not value
    return value is None or str(value) == "<NA>" or value != value


def _round(rows: list[dict[str, Any]]) -> str:
    shared = _shared(rows)
    lines = [_heading(rows[0], shared)]
    for _, hole in groupby(rows, key=lambda row: row["hole"]):
        lines.append(_hole([{k: v for k, v in row.items() if k not in shared} for row in hole]))
    return "\n".join(lines) + "\n"


def _shared(rows: Sequence[Row]) -> dict[str, Any]:
    """Return the columns by name that have one value in all rows."""
    first = rows[0]
    return {
        name: value
        for name, value in first.items()
        if name not in _OWN_FORM and name not in _OF_A_STROKE
        if all(name in row and row[name] == value for row in rows)
    }


# the heading


def _heading(row: Row, shared: Row) -> str:
    """Return the line above the holes; names in brackets where they are not read as they are."""
    short = _heading_text(row, shared, brackets=False)
    return short if _reads(short, row, shared) else _heading_text(row, shared, brackets=True)


def _heading_text(row: Row, shared: Row, *, brackets: bool) -> str:
    day = _day(row["date"])
    course = _name(str(shared["course"]), brackets) if "course" in shared else "-"
    items = [_name(str(row["player"]), brackets), said(day), course]
    cells = {name: value for name, value in shared.items() if name != "course"}
    for name in ("event", "format"):
        value = str(cells.get(name, ""))
        if value.isalpha() and not brackets:
            items.append(value)
            del cells[name]
    number = int(row.get("round", 1))
    items += [f"round {number}"] if number != 1 else []
    items += [" ".join(_pairs(cells))] if cells else []
    return ", ".join(items)


def _day(value: Any) -> date:
    return date.fromisoformat(str(value)[:10])


def _name(name: str, brackets: bool) -> str:
    return name if not brackets and _PLAIN_NAME.fullmatch(name) else bracketed(name)


def _reads(text: str, row: Row, shared: Row) -> bool:
    read = heading(clean(text), 1, today())
    if read is None:
        return False
    settle(read, NOTHING, None, {})
    same = (read.player, read.day, read.round) == (
        row["player"],
        _day(row["date"]),
        str(int(row.get("round", 1))),
    )
    cells = {name.removeprefix("["): _value(value) for name, value in shared.items()}
    return same and not read.questions and not read.metres and read.cells == cells


# holes


def _hole(rows: list[dict[str, Any]]) -> str:
    """Return the line of a hole: the short one where it is read back as what was meant."""
    short = _hole_text(rows, sure=False)
    return short if _same(short, rows) else _hole_text(rows, sure=True)


def _same(text: str, rows: Sequence[Row]) -> bool:
    """Return whether a line is read back, without a question, as the places of these rows."""
    at = hole_line(clean(text), 1)
    if at is None:
        return False
    read = read_hole(at, metres=False)
    return not read.questions and _places(read) == [_place(row) for row in rows]


def _places(read: Reading) -> list[tuple[Any, ...]]:
    return [
        (
            *(p.lie, p.feet(False) if p.number is not None else None, p.penalty, p.club, p.swing),
            *(p.cells.get("depth_ft"), p.cells.get("side_ft")),
        )
        for p in read.places
    ]


def _place(row: Row) -> tuple[Any, ...]:
    return (
        *(row.get("lie"), row.get("distance_ft"), int(row.get("penalty", 0))),
        *(row.get("club"), row.get("swing")),
        *(None if name not in row else _value(row[name]) for name in ("depth_ft", "side_ft")),
    )


def _hole_text(rows: list[dict[str, Any]], *, sure: bool) -> str:
    shared = _shared(rows)
    first = int(rows[0].get("shot", 1))
    head = [f"{int(rows[0]['hole'])}"]
    par = {row.get("par") for row in rows}
    if len(par) == 1 and None not in par:
        head.append(f"par{int(rows[0]['par'])}")
        rows = [{name: value for name, value in row.items() if name != "par"} for row in rows]
    head += [_ordinal(first)] if first != 1 else []
    head += list(_pairs(shared))
    strokes: list[str] = []
    note = ""
    for place, row in enumerate(rows):
        own = {name: value for name, value in row.items() if name not in shared}
        if place == 0 and _fits_behind(str(own.get("note", ""))):
            note = f" # {own.pop('note')}" if "note" in own else ""
        if int(own.get("shot", first + place)) == first + place:
            own.pop("shot", None)
        strokes += _stroke(own, sure=sure, last=place == len(rows) - 1)
    return " ".join([*head, *strokes]) + note


def _ordinal(number: int) -> str:
    ending = "th" if number % 100 in (11, 12, 13) else _ORDINAL.get(number % 10, "th")
    return f"{number}{ending}"


def _fits_behind(note: str) -> bool:
    return note == note.strip() and one_line(note) == note


def _stroke(row: dict[str, Any], *, sure: bool, last: bool) -> Iterator[str]:
    """Yield the words of one place: the stroke, then its columns by name."""
    more = {name: v for name, v in row.items() if name not in _OWN_FORM}
    more.pop("distance_ft", None)
    more |= {name: row[name] for name in ("shot", "par", "note") if name in row}
    result = _SIGN_OF.get(str(row.get("result", "")), "") if last else ""
    lie, feet = row.get("lie"), row.get("distance_ft")
    if lie is None or feet is None:
        yield f"?{PICKED_UP}"
        more |= {"lie": lie} if lie is not None else {}
        more |= {"distance": length(feet, None)[0]} if feet is not None else {}
        yield from _pairs(more)
        return
    yield (
        _token(str(lie), float(feet), sure)
        + "*" * int(row.get("penalty", 0))
        + _club(row, more)
        + _miss(row, more)
        + _ending(str(lie), float(feet), result)
    )
    yield from _pairs(more)


def _token(lie: str, feet: float, sure: bool) -> str:
    text, bare = length(feet, None if sure else lie)
    letter = "" if lie == GREEN and not sure and not _asks(text, bare) else LETTER_OF[lie]
    return f"{letter}{text.replace(' ', '')}"


def _asks(text: str, bare: bool) -> bool:
    """Return whether a number alone would be asked about: a long putt."""
    return bare and float(text) > 60


def _ending(lie: str, feet: float, sign: str) -> str:
    if sign == PICKED_UP:
        return f" {PICKED_UP}"
    if sign == CONCEDED:
        return CONCEDED
    return HOLED_THERE if sign and (lie != GREEN or feet > SURE_HOLED_FT) else ""


def _club(row: Row, more: dict[str, Any]) -> str:
    """Return club and swing behind slashes; a swing of one's own without a club goes by name."""
    club, swing = row.get("club"), row.get("swing")
    told = ""
    if club is not None:
        plain = club.isalnum() and club.isascii() and as_swing(club) is None
        told = (
            f"/{club}" if plain and as_club(club, slashed=True) == club else f"/{bracketed(club)}"
        )
    if swing is None:
        return told
    letter = next((letter for letter, word in SWING_OF.items() if word == swing), None)
    if letter is None and club is None:
        more["swing"] = swing
        return told
    return f"{told}/{letter or bracketed(swing)}"


def _miss(row: Row, more: dict[str, Any]) -> str:
    cells = {n: _value(row[n]) for n in ("depth_ft", "side_ft") if n in row}
    if any("e" in cell for cell in cells.values()):  # a power of ten is no finish
        more |= cells
        return ""
    return f"({cells.get('depth_ft', '')},{cells.get('side_ft', '')})" if cells else ""


# columns by name


def _pairs(cells: Row) -> Iterator[str]:
    for name, value in cells.items():
        text = _value(value)
        plain = _PLAIN_VALUE.fullmatch(text) and (text[0].isalpha() or name in _NUMBERS)
        yield f"{_key(name)}={text if plain else bracketed(text)}"


def _key(name: str) -> str:
    if not name.startswith("["):
        return name
    own = name[1:]
    known = own.lower().replace("-", "_") in names_of("shot")
    return own if _PLAIN_KEY.fullmatch(own) and not known else bracketed(own)


def _value(value: Any) -> str:
    """Return a value as a cell: a whole number without its point."""
    if isinstance(value, float) and value == int(value):
        return str(int(value))
    return str(value)
