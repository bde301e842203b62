"""Hypothesis strategies of cards: valid, nearly valid, hostile."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

from hypothesis import strategies as st

from sgzone.cards.columns import names_of
from tests.strategies import valid_cards

NEARLY = (
    *("", " ", "0", "-1", "1", "2", "3", "99", "1e3", "1e400", "nan", "inf", "١", "7,5", "87.5"),
    *("7'10\"", "7'13\"", "10 yd", "80m", "14 ft", "5 km", "201", "701", "1_000", "0x1F"),
    *("trees", "rough", "Green", "bunker", "tee", "fringe", "collar", "holed", "conceded"),
    *(
        "picked_up",
        "Picked Up",
        "foursomes",
        "2026-05-14",
        "2026-02-30",
        "03/04/2026",
        "0001-01-01",
    ),
    *("9999-12-31", "10000-01-01", "2026-05-14 00:00:00", "practice", "into", "52", "full"),
)
HOSTILE = (
    "'; DROP TABLE strokes; --",
    '"; DROP TABLE strokes; --',
    "Robert'); DELETE FROM rounds; --",
    "$player",
    "{guess}",
    "{shot} {0} {__class__}",
    "%s%n",
    '=HYPERLINK("http://example.invalid")',
    "+1-1",
    "-2+3",
    "@SUM(A1)",
    "<script>alert(1)</script>",
    "</script><img src=x onerror=alert(1)>",
    "[bold red]x[/]",
    "[/]",
    "\x1b[31mred\x1b[0m",
    "\x1b]0;title\x07",
    "\x9b2J",
    "\x7f\x08\x0b",
    "a\nb",
    "a\r\nb",
    "a\rb",
    "a\tb",
    'say "hi"',
    "a,b;c",
    "\u202ereversed",
    "\u200b",
    "\ufeff",
    "\u00a0",
    "\u2028",
    "é" * 40,
    "\U0001f3cc" * 30,
    "x" * 81,
    "x" * 140_000,
    "../../etc/passwd",
    "/dev/null",
    "NULL",
    "None",
    "\ud7ff\ue000\uffff",
    "source_row",
    "cell_lie",
    "x0",
    "broken",
)

anything = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12)
cells = st.one_of(st.sampled_from(NEARLY), st.sampled_from(HOSTILE), anything)


@dataclass(frozen=True)
class Table:
    """The cells of a file, the header first; ``None`` is a line with nothing on it."""

    rows: tuple[tuple[str, ...] | None, ...]

    def csv(self, delimiter: str = ",", newline: str = "\n") -> str:
        """Return the table as delimited text."""
        out = io.StringIO()
        writer = csv.writer(out, delimiter=delimiter, lineterminator=newline)
        for row in self.rows:
            if row is None:
                out.write(newline)
            else:
                writer.writerow(row)
        return out.getvalue()


@st.composite
def plain_tables(draw: st.DrawFn) -> Table:
    """Draw a valid card as a table."""
    rows = [row.cells() for row in draw(valid_cards(max_rounds=2, max_holes=2))]
    return Table((tuple(rows[0]), *(tuple(row.values()) for row in rows)))


@st.composite
def spoiled_tables(draw: st.DrawFn) -> Table:
    """Draw a valid card and spoil it: cells, headers, rows, order, blank lines, widths."""
    rows: list[tuple[str, ...] | None] = list(draw(plain_tables()).rows)
    for spoil in draw(st.lists(st.sampled_from(SPOILS), min_size=1, max_size=5)):
        rows = draw(spoil(rows))
    return Table(tuple(rows))


Rows = list[tuple[str, ...] | None]


@st.composite
def _cell(draw: st.DrawFn, rows: Rows) -> Rows:
    place = draw(st.integers(0, len(rows) - 1))
    row = rows[place]
    if not row:
        return rows
    column = draw(st.integers(0, len(row) - 1))
    return [*rows[:place], (*row[:column], draw(cells), *row[column + 1 :]), *rows[place + 1 :]]


@st.composite
def _column(draw: st.DrawFn, rows: Rows) -> Rows:
    names = (*names_of("shot"), *names_of("log"), *names_of("test"), *names_of("bag"))
    header = draw(st.one_of(st.sampled_from(names), st.sampled_from(HOSTILE), anything))
    value = draw(cells)
    return [row and (*row, header if place == 0 else value) for place, row in enumerate(rows)]


@st.composite
def _blank_line(draw: st.DrawFn, rows: Rows) -> Rows:
    place = draw(st.integers(0, len(rows)))
    return [*rows[:place], None, *rows[place:]]


@st.composite
def _width(draw: st.DrawFn, rows: Rows) -> Rows:
    place = draw(st.integers(0, len(rows) - 1))
    row = rows[place] or ()
    row = (*row, draw(cells)) if draw(st.booleans()) else row[:-1]
    return [*rows[:place], row, *rows[place + 1 :]]


@st.composite
def _repeat(draw: st.DrawFn, rows: Rows) -> Rows:
    place = draw(st.integers(0, len(rows) - 1))
    return [*rows[: place + 1], *rows[place:]]


@st.composite
def _drop(draw: st.DrawFn, rows: Rows) -> Rows:
    place = draw(st.integers(0, len(rows) - 1))
    return [*rows[:place], *rows[place + 1 :]] if len(rows) > 1 else rows


@st.composite
def _swap(draw: st.DrawFn, rows: Rows) -> Rows:
    one, other = draw(st.integers(0, len(rows) - 1)), draw(st.integers(0, len(rows) - 1))
    rows = list(rows)
    rows[one], rows[other] = rows[other], rows[one]
    return rows


SPOILS = (_cell, _cell, _cell, _column, _blank_line, _width, _repeat, _drop, _swap)


@st.composite
def mutated(draw: st.DrawFn, data: bytes, most: int = 8) -> bytes:
    """Draw a file with bytes changed, cut out, repeated or put in."""
    changed = bytearray(data)
    for _ in range(draw(st.integers(1, most))):
        place = draw(st.integers(0, max(len(changed) - 1, 0)))
        piece = draw(st.one_of(st.binary(min_size=1, max_size=4), st.sampled_from(_PIECES)))
        how = draw(st.sampled_from(("over", "in", "cut", "end")))
        if how == "over":
            changed[place : place + len(piece)] = piece
        elif how == "in":
            changed[place:place] = piece
        elif how == "cut":
            del changed[place : place + draw(st.integers(1, 40))]
        else:
            del changed[place:]
    return bytes(changed)


_PIECES = (b"\x00", b"\xff", b'"', b"\n", b"\r", b",", b";", b"\t", b"\xef\xbb\xbf", b"\xc3", b"'")
