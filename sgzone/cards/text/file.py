"""A file with a text card: a note of a phone, a saved mail, what was piped in."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa

from sgzone.cards.delimited import encoded
from sgzone.cards.given import Given
from sgzone.cards.grid import fatal
from sgzone.cards.limits import MAX_BYTES, refuse_many_lines
from sgzone.cards.text.card import lines_of
from sgzone.cards.text.mail import NO_TEXT, NO_TEXT_FIX, text_of_mail
from sgzone.cards.text.table import table_of_card
from sgzone.cards.tolerant.header import SEARCHED, find_header
from sgzone.errors import Problem
from sgzone.inputs import any_text, read_bytes

TEXT_ENDINGS = (".txt", ".eml")

TextCard = tuple[pa.Table, tuple[str, ...], tuple[Problem, ...]]
"""Rows, columns that no card has, problems: what ``reader.TextTable`` holds."""


def read_text_card(path: Path, file: str, given: Given) -> TextCard:
    """Read a text card or a saved mail. Raises ``DataError`` for what is no text or has no stroke.

    ``file``: what it is called in messages.
    """
    ending = path.suffix.lower()
    data = read_bytes(path, MAX_BYTES[ending], f"a {ending} file")
    held, encoding = (b"", "") if ending == ".eml" else any_text(path, data)
    text = _mail(file, data) if ending == ".eml" else held.decode()
    if not text.strip():
        raise fatal(file, "the file is empty", "`sgzone template round.txt` writes an example.")
    refuse_many_lines(file, len(lines_of(text)))
    table, extra, problems = table_of_card(file, text, given)
    if not len(table) and not any(problem.severity == "error" for problem in problems):
        raise fatal(
            file,
            "there is no hole in it",
            "Write a line a hole, its number first: 1 f112 18 2. `sgzone template round.txt` "
            "writes an example.",
        )
    notes = (encoded(file, encoding, held),) if encoding else ()
    return table, extra, (*notes, *problems)


def _mail(file: str, data: bytes) -> str:
    try:
        text = text_of_mail(data)
    except ValueError as wrong:
        raise fatal(file, str(wrong), NO_TEXT_FIX) from wrong
    if text is None:
        raise fatal(file, NO_TEXT, NO_TEXT_FIX)
    return text


def decoded(path: Path, data: bytes) -> str:
    """Return the text of a note in any usual encoding. Raises ``UnreadError`` for no text."""
    return any_text(path, data)[0].decode()


def ending_of(text: str) -> str:
    """Return ``.csv`` where a text is a table with a header of a known kind, else ``.txt``.

    >>> ending_of("Spieler;Datum;Loch;Lage;Distanz\\n"), ending_of("Ned, 14 May 2026, Home\\n1 f9!")
    ('.csv', '.txt')
    """
    lines = [line for line in lines_of(text[:100_000]) if line.strip()][:SEARCHED]
    for sign in (",", ";", "\t"):
        if find_header([[cell.strip(' "') for cell in line.split(sign)] for line in lines]):
            return ".csv"
    return ".txt"
