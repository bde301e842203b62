"""The quick way through a tidy CSV or TSV file: arrow's parser instead of Python's.

Tidy: one record per line, and quotes only around whole cells that hold none. Both parsers then
read the same cells, and a record's number is its line. Anything else takes the slow way.
"""

from __future__ import annotations

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from sgzone.cards.columns import kind_of

_NEWLINE, _RETURN, _QUOTE = b'\n\r"'

Columns = tuple[list[str], list[pa.Array]]


def read_tidy(text: str, delimiter: str) -> Columns | None:
    """Return the headers and the columns of text of a tidy file, None where it is not tidy.

    Its header stands in row 1, and every row below it has as many cells and a filled first one.
    """
    head, newline, _ = text.partition("\n")
    body = text[len(head) :].rstrip("\n").encode() + b"\n"
    headers = [cell.strip() for cell in head.split(delimiter)]
    plain = [header.lower() for header in headers]
    if not newline or body == b"\n\n" or '"' in head or kind_of(plain) is None:
        return None
    if "\r" in head.removesuffix("\r") or not _one_line_each(body, delimiter):
        return None
    names = [str(position) for position in range(len(headers))]
    text_only = dict.fromkeys(names, pa.string())
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(body[1:]),
            read_options=arrow_csv.ReadOptions(column_names=names),
            parse_options=arrow_csv.ParseOptions(delimiter=delimiter, ignore_empty_lines=False),
            convert_options=arrow_csv.ConvertOptions(column_types=text_only),
        )
    except pa.ArrowInvalid:  # rows of another width: the slow way says which
        return None
    columns = [column.combine_chunks() for column in table.columns]
    firsts = {first.strip().lower() for first in pc.unique(columns[0]).to_pylist()}
    if "" in firsts or plain[0] in firsts:  # blank rows, a second header
        return None
    return headers, columns


def _one_line_each(body: bytes, delimiter: str) -> bool:
    """Return whether every record is one line. ``body``: starts and ends with a newline."""
    if body.count(b"\r") != body.count(b"\r\n"):
        return False
    if b'"' not in body:
        return True
    seen = np.frombuffer(body, dtype=np.uint8)
    quotes, newlines = np.flatnonzero(seen == _QUOTE), np.flatnonzero(seen == _NEWLINE)
    opening, closing = quotes[0::2], quotes[1::2]
    return bool(
        len(opening) == len(closing)
        and np.isin(seen[opening - 1], (ord(delimiter), _NEWLINE)).all()
        and np.isin(seen[closing + 1], (ord(delimiter), _NEWLINE, _RETURN)).all()
        and (np.searchsorted(newlines, opening) == np.searchsorted(newlines, closing)).all()
    )
