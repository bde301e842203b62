"""The example hole of an empty card: how it is written, and how it is known again.

Its rows name no player but ``(example)``, so none of them is ever anybody's stroke. They are passed
over only while they are as they were written: a stroke that was typed over one is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.grid import fatal
from sgzone.errors import Problem, first_of_a_kind

PLAYER = "(example)"
"""In brackets, for a player may well be called Example."""

_EVERY_ROW = {
    "player": PLAYER,
    "date": "2026-05-14",
    "round": "1",
    "hole": "3",
    "format": "stroke",
    "course": "Home",
    "event": "practice",
    "par": "3",
}
_STROKES = (
    {
        "shot": "1",
        "lie": "tee",
        "distance": "142",
        "club": "8 iron",
        "swing": "full",
        "measured": "laser",
        "effective_yd": "147",
        "depth_ft": "-30",
        "side_ft": "29",
        "wind": "into",
        "wind_mph": "8",
        "note": "an example: it loads as nothing; write your strokes below it",
    },
    {"shot": "2", "lie": "sand", "distance": "14 yd", "club": "56", "measured": "paced"},
    {"shot": "3", "lie": "green", "distance": "7'10\"", "club": "putter", "measured": "paced"},
    {"shot": "4", "lie": "green", "distance": "1", "result": "holed", "club": "putter"},
)
HOLE = tuple({**_EVERY_ROW, **stroke} for stroke in _STROKES)
"""Column -> cell of each row; what a row leaves out is blank."""

_KNOWN_BY = ("shot", "lie", "distance")
_BLANKS = " \t\r\n\u00a0\ufeff"


def without_example(file: str, table: pa.Table) -> tuple[pa.Table, list[Problem]]:
    """Return a card without the rows of the example, a note of them, and what was typed over.

    ``table``: ``source_row`` and columns of text. Raises ``DataError`` where no other row is left.
    """
    if "player" not in table.column_names:
        return table, []
    marked = pc.fill_null(_is(table["player"], PLAYER), False)
    if not pc.any(marked).as_py():
        return table, []
    rows, rest = table.filter(marked), table.filter(pc.invert(marked))
    kept = pc.fill_null(_as_written(rows), False)
    typed_over = rows.filter(pc.invert(kept))["source_row"]
    if not len(rest) and not len(typed_over):
        raise fatal(
            file,
            "there are no strokes yet, only the example hole",
            "Write one row per stroke under it, with the player's name.",
            row=rows["source_row"][0].as_py(),
        )
    note = _note(file, rows.filter(kept)["source_row"])
    return rest, [*note, *first_of_a_kind(_asked(file, typed_over), len(typed_over))]


def _is(column: pa.ChunkedArray, text: str) -> pa.ChunkedArray:
    """Return whether each cell is a text, whatever its capitals and the blanks around it.

    Asked of the distinct texts alone: a season has millions of rows and few players.
    """
    coded = column.combine_chunks()
    coded = coded if pa.types.is_dictionary(coded.type) else coded.dictionary_encode()
    plain = pc.utf8_lower(pc.utf8_trim(coded.dictionary.cast(pa.string()), _BLANKS))
    return pc.equal(plain, text).take(coded.indices)


def _as_written(rows: pa.Table) -> pa.Array:
    """Return whether each row is one of the example's, by what a stroke is."""
    there = [name for name in _KNOWN_BY if name in rows.column_names]
    each = (
        reduce(pc.and_kleene, (_is(rows[name], row[name]) for name in there), pa.scalar(True))
        for row in HOLE
    )
    return reduce(pc.or_kleene, each, pa.array([False] * len(rows)))


def _note(file: str, rows: pa.ChunkedArray) -> list[Problem]:
    if not len(rows):
        return []
    wrong = "the example hole is here and is passed over"
    fix = "Nothing to do; delete its rows if you like."
    return [Problem(file, rows[0].as_py(), "player", PLAYER, wrong, fix, "note")]


def _asked(file: str, rows: pa.ChunkedArray) -> Iterator[Problem]:
    for row in rows:
        yield Problem(
            file,
            row.as_py(),
            "player",
            PLAYER,
            "a row of the example hole was changed: is it the example's or a player's stroke?",
            "Write the player's name in it, or delete the row.",
        )
