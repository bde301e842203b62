"""The quick way through a tidy CSV or TSV file: arrow's parser instead of Python's.

Tidy: one record per line, and quotes only around whole cells that hold none. Both parsers then
read the same cells, and a record's number is its line. Anything else takes the slow way.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from sgzone.cards.tables import kind_of
from sgzone.cards.tolerant.header import is_sure
from sgzone.cards.tolerant.passing import REMARKS, TOTALS

_NEWLINE, _RETURN, _QUOTE = b'\n\r"'
_BLOCK = 2 << 20  # bytes; what a core keeps at hand, with few dictionaries to be made one

Columns = tuple[list[str], list[pa.Array]]


def read_tidy(data: bytes, delimiter: str) -> Columns | None:
    """Return the headers and the columns of a tidy file in UTF-8, None where it is not tidy.

    Its header stands in row 1, and every row below it has as many cells and a filled first one.
    The columns are dictionary-coded, null for a blank cell.
    """
    start = data.find(b"\n") + 1
    end = len(data.rstrip(b"\n")) if data.endswith(b"\n\n") else len(data)
    head = data[: max(start - 1, 0)].decode()
    headers = [cell.strip() for cell in head.split(delimiter)]
    plain = [header.lower() for header in headers]
    if not start or end <= start or '"' in head or not _is_header(headers):
        return None
    if "\r" in head.removesuffix("\r") or not _one_line_each(data, delimiter):
        return None
    names = [str(position) for position in range(len(headers))]
    options = arrow_csv.ConvertOptions(
        column_types=dict.fromkeys(names, pa.dictionary(pa.int32(), pa.string())),
        null_values=[""],
        strings_can_be_null=True,
    )
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(pa.py_buffer(data).slice(start, end - start)),
            read_options=arrow_csv.ReadOptions(column_names=names, block_size=_BLOCK),
            parse_options=arrow_csv.ParseOptions(delimiter=delimiter, ignore_empty_lines=False),
            convert_options=options,
        )
    except pa.ArrowInvalid:  # rows of another width: the slow way says which
        return None
    columns = [column.combine_chunks() for column in table.unify_dictionaries().columns]
    firsts = {first.strip().lower() for first in columns[0].dictionary.to_pylist()}
    if columns[0].null_count or "" in firsts or plain[0] in firsts:  # blank rows, a second header
        return None
    if any(_has_total(*pair) for pair in zip(plain, columns, strict=True)):
        return None
    return headers, columns


def _has_total(header: str, column: pa.DictionaryArray) -> bool:
    """Return whether a cell may be the label of a row of totals; the slow way says which are."""
    if header in REMARKS:
        return False
    texts = pc.utf8_lower(pc.utf8_trim_whitespace(column.dictionary))
    return bool(pc.any(pc.is_in(texts, pa.array(sorted(TOTALS)))).as_py())


def _is_header(cells: list[str]) -> bool:
    return kind_of(cell.lower() for cell in cells) is not None or is_sure(cells)


def _one_line_each(data: bytes, delimiter: str) -> bool:
    """Return whether every record is one line, and quotes stand only around whole cells.

    The first line holds no quotes.
    """
    if b"\r" in data and data.count(b"\r") != data.count(b"\r\n"):
        return False
    if b'"' not in data:
        return True
    seen = np.frombuffer(data, dtype=np.uint8)
    quotes, newlines = np.flatnonzero(seen == _QUOTE), np.flatnonzero(seen == _NEWLINE)
    opening, closing = quotes[0::2], quotes[1::2]
    if len(opening) != len(closing):
        return False
    after = closing[closing < len(seen) - 1] + 1  # a quote may be the last byte
    next_line = np.append(newlines, len(seen))[np.searchsorted(newlines, opening)]
    return bool(
        _are(seen[opening - 1], ord(delimiter), _NEWLINE)
        and _are(seen[after], ord(delimiter), _NEWLINE, _RETURN)
        and (next_line > closing).all()
    )


def _are(found: npt.NDArray[np.uint8], *wanted: int) -> bool:
    """Return whether all bytes are among those wanted."""
    table = np.zeros(256, dtype=bool)
    table[list(wanted)] = True
    return bool(table[found].all())
