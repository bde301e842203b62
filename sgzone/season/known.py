"""Whose names a file has: the same player written otherwise, and a name like another one.

Two spellings of one name would be two players with half a season each, so nothing of it is left
to chance: what differs in capitals and blanks alone is one player, what differs in a letter or two
is asked.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import duckdb
import numpy as np
import pandas as pd
import pyarrow as pa

from sgzone.cards.reader import TextTable
from sgzone.errors import Problem
from sgzone.season.coding import BLANKS
from sgzone.season.steps import run_step, temp_table

SHORT, LONG = 5, 10  # letters: from which one slip is a likeness, from which two are
MOST_PAIRS = 400_000  # two seconds of work; beyond it no file is one squad's
_BLANKS = re.compile(r"\s+")
_DIGITS = re.compile(r"\d+")


def with_known_names(text: TextTable, known: Sequence[str]) -> TextTable:
    """Return the table with each player as the season file, or the file further up, writes them.

    What differs in capitals and blanks alone is one player; a note says so. A name that stands in
    the season file is left as it is.
    """
    written = _written(text)
    stored = set(known)
    spelling = {folded(name): name for name in reversed(known)}
    read = {
        name: name if name in stored else spelling.setdefault(folded(name), name)
        for name in written
    }
    others = [name for name in written if read[name] != name]
    if not others:
        return text
    place = text.table.column_names.index("player")
    column = _coded(text)
    texts = [cell and read.get(cell.strip(BLANKS), cell) for cell in column.dictionary.to_pylist()]
    players = pa.array(texts, pa.string()).take(column.indices)
    table = text.table.set_column(place, "player", players.dictionary_encode())
    notes = [
        Problem(
            text.file,
            written[name],
            "player",
            name,
            f'read as "{read[name]}": only capitals or blanks differ',
            "Nothing to do.",
            "note",
        )
        for name in others
    ]
    return replace(text, table=table, problems=(*text.problems, *notes))


def name_problems(
    connection: duckdb.DuckDBPyConnection, text: TextTable, known: Sequence[str]
) -> list[Problem]:
    """Return one question for each new name that is a letter or two from another one."""
    written = _written(text)
    new = [name for name in written if name not in set(known)]
    names = [*known, *new]
    if not new or len(names) == 1:  # there is nobody to be taken for
        return []
    marks = [mark(name) for name in names]
    alike = Counter(marks)
    pairs = sum(alike[one] for one in marks[len(known) :])
    if pairs == len(new):  # each is like itself alone
        return []
    if pairs > MOST_PAIRS:
        wrong = f"{len(new)} new names are too many to hold against each other letter by letter"
        fix = "Look for one player under two names; sgzone rounds --rename OLD NEW makes them one."
        return [Problem(text.file, None, "player", "", wrong, fix, "note")]
    frame = pd.DataFrame({"place": range(-len(known), len(new)), "name": names})
    frame["plain"] = [plain(name) for name in names]
    frame["mark"] = marks
    frame["slips"] = [slips(name) for name in names]
    temp_table(connection, "names", frame)
    run_step(connection, "near_names")
    found = connection.execute("SELECT name, other, stored FROM near_names").fetchall()
    return [_question(text.file, written, *row) for row in found]


def _question(file: str, written: dict[str, int], name: str, other: str, stored: bool) -> Problem:
    where = "who is in the season file" if stored else f"row {written[other]}"
    return Problem(
        file,
        written[name],
        "player",
        name,
        f"{name} looks like {other} ({where}): the same player?",
        f"Write {other}, or add --new-player if {name} is another person.",
    )


def folded(name: str) -> str:
    """Return a name without what capitals and blanks make of it.

    >>> folded(" ned  FARROW")
    'ned farrow'
    """
    return _BLANKS.sub(" ", name).strip().casefold()


def plain(name: str) -> str:
    """Return a name's letters alone, small and without accents.

    >>> plain("Zoë O'Neil")
    'zoeoneil'
    """
    apart = unicodedata.normalize("NFKD", name.casefold())
    return "".join(sign for sign in apart if sign.isalnum())


def mark(name: str) -> str:
    """Return what tells two people with names alike: their initials and any digits.

    >>> mark("A. Hill 2")
    'ah2 2'
    """
    words = [plain(word) for word in _BLANKS.split(name.strip())]
    return f"{''.join(word[:1] for word in words)} {' '.join(_DIGITS.findall(name))}"


def slips(name: str) -> int:
    """Return how many letters of a name a slip may change, -1 where it is too short to tell.

    >>> slips("Ned Farrow"), slips("Benedict Farrow"), slips("Ada")
    (1, 2, -1)
    """
    letters = len(plain(name))
    return 2 if letters >= LONG else 1 if letters >= SHORT else -1


def _coded(text: TextTable) -> pa.DictionaryArray:
    column = text.table["player"].combine_chunks()
    return column if pa.types.is_dictionary(column.type) else column.dictionary_encode()


def _written(text: TextTable) -> dict[str, int]:
    """Return every name of a file and the row where it stands first, in the order of the file."""
    if "player" not in text.table.column_names or not text.table.num_rows:
        return {}
    column = _coded(text)
    cells = column.dictionary.to_pylist()
    rows = np.asarray(text.table["source_row"].combine_chunks())
    rows = rows[np.flatnonzero(np.asarray(column.indices.is_valid()))]
    numbers = np.asarray(column.indices.drop_null())
    firsts = np.full(len(cells), -1)
    firsts[numbers[::-1]] = np.arange(len(numbers))[::-1]  # the last one written is the first row
    found: dict[str, int] = {}
    for number in np.argsort(firsts):
        name = (cells[number] or "").strip(BLANKS)
        if name and firsts[number] >= 0:
            found.setdefault(name, int(rows[firsts[number]]))
    return found
