"""Parquet files to cells of text."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.grid import Cells, fatal
from sgzone.cards.limits import (
    MAX_BYTES,
    MAX_UNPACKED,
    MOST_PACKED,
    refuse_long,
    refuse_wide,
    size,
)
from sgzone.errors import DataError, Problem

if TYPE_CHECKING:
    import pyarrow.parquet as pq

BATCH = 65_536  # rows looked at before the next are read


def read_parquet(path: Path) -> Cells:
    """Read a Parquet file; its first row counts as row 2, as if the header stood in row 1."""
    import pyarrow.parquet as pq

    try:
        with pq.ParquetFile(path) as head:
            refuse_long(path.name, head.metadata.num_rows)
            refuse_wide(path.name, len(head.schema_arrow))
            table = _unpacked(path, head)
    except (pa.ArrowException, OSError, UnicodeDecodeError) as wrong:
        raise fatal(
            path.name,
            "this is not a Parquet file, or it is damaged",
            "Write it again, or save the card as CSV.",
        ) from wrong
    if not table.num_rows:
        raise fatal(path.name, "there are no rows", "Write one row per stroke.")
    columns = [
        text_column(path.name, name, column)
        for name, column in zip(table.column_names, table.columns, strict=True)
    ]
    numbers = list(range(2, table.num_rows + 2))
    return Cells(table.column_names, 1, columns, numbers, [False] * len(numbers))


def _unpacked(path: Path, head: pq.ParquetFile) -> pa.Table:
    """Return the table with its texts still packed; raise ``DataError`` where it holds too much.

    The sizes a file states are looked at first. They may be lies, and one long text of a
    dictionary can stand in every row, so what is read is measured too, column by column.
    """
    import pyarrow.parquet as pq

    most = min(MAX_BYTES[".parquet"], max(MAX_UNPACKED, MOST_PACKED * path.stat().st_size))
    meta = head.metadata
    groups = [meta.row_group(number) for number in range(meta.num_row_groups)]
    _refuse_unpacked(path.name, sum(group.total_byte_size for group in groups), most)
    for field in head.schema_arrow:
        if pa.types.is_nested(field.type):
            raise _not_plain(path.name, field.name, field.type)
    texts = [
        f.name
        for f in head.schema_arrow
        if pa.types.is_large_unicode(f.type) or pa.types.is_string(f.type)
    ]
    names: list[str] = head.schema_arrow.names
    columns: list[pa.ChunkedArray] = []
    there = 0
    with pq.ParquetFile(path, read_dictionary=texts) as packed:
        for place, name in enumerate(names):
            earlier = names[:place].count(name)  # a later check tells of names that stand twice
            chunks = []
            for batch in packed.iter_batches(BATCH, columns=[name]):
                chunk = batch.column(batch.schema.get_all_field_indices(name)[earlier])
                there += _text_size(chunk)
                _refuse_unpacked(path.name, there, most)
                chunks.append(chunk)
            columns.append(pa.chunked_array(chunks, packed.schema_arrow.field(place).type))
    return pa.Table.from_arrays(columns, names=names)


def _text_size(column: pa.Array) -> int:
    """Return how many bytes a column has when every cell of it is written out."""
    if not pa.types.is_dictionary(column.type):
        return int(column.nbytes)
    lengths = pc.take(pc.binary_length(column.dictionary), column.indices)
    return int(pc.sum(lengths).as_py() or 0)


def _refuse_unpacked(file: str, there: int, most: int) -> None:
    if there > most:
        raise fatal(
            file,
            f"the table has more than {size(most)} when unpacked; no card of this size has as much",
            "Write the columns of the card alone, or save it as CSV UTF-8.",
        )


def text_column(file: str, name: str, column: pa.ChunkedArray) -> pa.Array:
    if pa.types.is_dictionary(column.type):
        column = column.cast(column.type.value_type)
    if pa.types.is_duration(column.type):  # its text is a bare number, of whatever unit
        raise _not_plain(file, name, column.type)
    _refuse_broken_text(file, name, column)
    try:
        return pc.cast(column, pa.string()).combine_chunks()
    except (pa.ArrowNotImplementedError, pa.ArrowInvalid) as wrong:
        raise _not_plain(file, name, column.type) from wrong


def _refuse_broken_text(file: str, name: str, column: pa.ChunkedArray) -> None:
    """Raise ``DataError``, naming the first, where texts are not UTF-8: nothing said so so far."""
    if not (pa.types.is_string(column.type) or pa.types.is_large_string(column.type)):
        return
    try:
        column.validate(full=True)
    except pa.ArrowInvalid as wrong:
        said, fix = "a text that is not UTF-8", "Write the table again with its texts in UTF-8."
        for row, cell in enumerate(column.cast(pa.large_binary()), 2):
            text = cell.as_py() or b""
            shown = text.decode(errors="backslashreplace")
            if shown.encode() != text:
                problem = Problem(file, row, name, shown, said, fix)
                raise DataError(f"{file}: row {row}, {name}: {said}. {fix}", [problem]) from wrong


def _not_plain(file: str, name: str, kind: pa.DataType) -> DataError:
    return fatal(
        file,
        f'the column "{name}" holds {str(kind)[:80]}, not text, numbers or dates',
        "Leave the column out, or write plain values.",
    )
