"""A file with a text card: a note of a phone, a saved mail, what was piped in."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa

from sgzone.cards.given import Given
from sgzone.cards.grid import fatal
from sgzone.cards.limits import MAX_BYTES, refuse_many_lines
from sgzone.cards.tables import all_names, kind_of
from sgzone.cards.text.card import lines_of
from sgzone.cards.text.mail import NO_TEXT, NO_TEXT_FIX, text_of_mail
from sgzone.cards.text.table import table_of_card
from sgzone.errors import Problem
from sgzone.inputs import UnreadError, plain_utf8, read_bytes

TEXT_ENDINGS = (".txt", ".eml")
_HEADER_SEARCH = 20
_BOMS = (b"\xff\xfe", b"\xfe\xff")

TextCard = tuple[pa.Table, tuple[str, ...], tuple[Problem, ...]]
"""Rows, columns that no card has, problems: what ``reader.TextTable`` holds."""


def read_text_card(path: Path, file: str, given: Given) -> TextCard:
    """Read a text card or a saved mail. Raises ``DataError`` for what is no text or has no stroke.

    ``file``: what it is called in messages.
    """
    ending = path.suffix.lower()
    data = read_bytes(path, MAX_BYTES[ending], f"a {ending} file")
    text = _mail(file, data) if ending == ".eml" else decoded(path, data)
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
    return table, extra, problems


def _mail(file: str, data: bytes) -> str:
    try:
        text = text_of_mail(data)
    except ValueError as wrong:
        raise fatal(file, str(wrong), NO_TEXT_FIX) from wrong
    if text is None:
        raise fatal(file, NO_TEXT, NO_TEXT_FIX)
    return text


def decoded(path: Path, data: bytes) -> str:
    """Return the text of a note: UTF-8, UTF-16 with its mark, or what Windows writes.

    Raises ``UnreadError`` for what is no text.
    """
    if data.startswith(_BOMS):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError:
            return plain_utf8(path, data).decode()
    try:
        return plain_utf8(path, data).decode()
    except UnreadError as wrong:
        if wrong.row is None:  # no text at all
            raise
        return data.decode("cp1252", errors="replace")


def ending_of(text: str) -> str:
    """Return ``.csv`` where a text is a table with a header of a known kind, else ``.txt``.

    >>> ending_of("player;date;hole;lie\\n"), ending_of("Ned Farrow, 14 May 2026, Home\\n1 f9!")
    ('.csv', '.txt')
    """
    known = all_names()
    for line in [line for line in lines_of(text[:100_000]) if line.strip()][:_HEADER_SEARCH]:
        for sign in (",", ";", "\t"):
            cells = [cell.strip().strip('"').strip().lower() for cell in line.split(sign)]
            if kind_of(cells) is not None and len(known & set(cells)) > 1:
                return ".csv"
    return ".txt"
