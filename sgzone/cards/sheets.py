"""Excel workbooks and Parquet files to cells of text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path
from zipfile import BadZipFile

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.parquet as pq
from python_calamine import CalamineError, CalamineWorkbook

from sgzone.cards.cells import Cells, Grid, fatal, from_grid
from sgzone.cards.limits import (
    MAX_BYTES,
    MAX_UNPACKED,
    MOST_PACKED,
    refuse_long,
    refuse_wide,
    size,
)
from sgzone.cards.unpacking import refuse_bomb
from sgzone.errors import DataError, Problem

BATCH = 65_536  # rows looked at before the next are read

Cell = int | float | str | bool | time | date | datetime | timedelta


def read_workbook(path: Path) -> Cells:
    """Read the first sheet with data of an Excel workbook; a note says which, if there are more.

    Dates become ISO dates, whole numbers lose their ``.0``.
    """
    try:
        refuse_bomb(path)
        workbook = CalamineWorkbook.from_path(str(path))
        sheets = [(name, workbook.get_sheet_by_name(name)) for name in workbook.sheet_names]
        filled = [(name, sheet) for name, sheet in sheets if sheet.total_height]
        if not filled:
            raise fatal(path.name, "the workbook is empty", "Write the card on its first sheet.")
        name, sheet = filled[0]
        values = sheet.to_python(skip_empty_area=False)
    except (CalamineError, BadZipFile, OSError, ValueError) as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({wrong})",
            "Open it in a spreadsheet, take off any password, and save it again as .xlsx.",
        ) from wrong
    grid: Grid = [[_as_text(cell) for cell in row] for row in values]
    problems = [] if len(filled) == 1 else [_which_sheet(path.name, name, filled[1:])]
    return from_grid(path.name, grid, problems)


def _as_text(cell: Cell) -> str:
    if isinstance(cell, str):
        return cell
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)


def _which_sheet(file: str, name: str, others: Sequence[tuple[str, object]]) -> Problem:
    left = ", ".join(other for other, _ in others)
    return Problem(
        file,
        None,
        "",
        name,
        f'only the sheet "{name}" was read; not read: {left}',
        "Save other sheets as files of their own.",
        "note",
    )


def read_parquet(path: Path) -> Cells:
    """Read a Parquet file; its first row counts as row 2, as if the header stood in row 1."""
    try:
        with pq.ParquetFile(path) as head:
            refuse_long(path.name, head.metadata.num_rows)
            refuse_wide(path.name, len(head.schema_arrow))
            table = _unpacked(path, head)
    except (pa.ArrowException, OSError) as wrong:
        raise fatal(
            path.name,
            "this is not a Parquet file, or it is damaged",
            "Write it again, or save the card as CSV.",
        ) from wrong
    if not table.num_rows:
        raise fatal(path.name, "there are no rows", "Write one row per stroke.")
    columns = [
        _text_column(path.name, name, column)
        for name, column in zip(table.column_names, table.columns, strict=True)
    ]
    numbers = list(range(2, table.num_rows + 2))
    return Cells(table.column_names, 1, columns, numbers, [False] * len(numbers))


def _unpacked(path: Path, head: pq.ParquetFile) -> pa.Table:
    """Return the table with its texts still packed; raise ``DataError`` where it holds too much.

    The sizes a file states are looked at first. They may be lies, and one long text of a
    dictionary can stand in every row, so what is read is measured too, column by column.
    """
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


def _text_column(file: str, name: str, column: pa.ChunkedArray) -> pa.Array:
    if pa.types.is_dictionary(column.type):
        column = column.cast(column.type.value_type)
    try:
        return pc.cast(column, pa.string()).combine_chunks()
    except (pa.ArrowNotImplementedError, pa.ArrowInvalid) as wrong:
        raise _not_plain(file, name, column.type) from wrong


def _not_plain(file: str, name: str, kind: pa.DataType) -> DataError:
    return fatal(
        file,
        f'the column "{name}" holds {str(kind)[:80]}, not text, numbers or dates',
        "Leave the column out, or write plain values.",
    )
