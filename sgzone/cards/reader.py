"""Any input file to one table of text, each row with its number in a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pyarrow as pa

from sgzone.cards.columns import columns_of, names_of, nearest
from sgzone.cards.delimited import read_delimited
from sgzone.cards.example import without_example
from sgzone.cards.given import NOTHING, Given
from sgzone.cards.grid import Cells, fatal
from sgzone.cards.limits import MAX_BYTES, refuse_wide
from sgzone.cards.parquet import read_parquet
from sgzone.cards.tables import TABLE, TABLES, kind_of
from sgzone.cards.text.file import TEXT_ENDINGS, read_text_card
from sgzone.cards.workbook import read_workbook
from sgzone.errors import DataError, Problem
from sgzone.inputs import UnreadError, file_name, opened

EXTRA_PREFIX = "x"

READERS: dict[str, Callable[[Path], Cells]] = {
    ".csv": read_delimited,
    ".tsv": read_delimited,
    ".xlsx": read_workbook,
    ".parquet": read_parquet,
}


@dataclass(frozen=True, slots=True)
class TextTable:
    """One file as text.

    ``table`` has ``source_row`` (the header is row 1), ``broken`` (the row's cells cannot be told
    apart), every known column of the kind that the file has, and unknown columns as ``x0``,
    ``x1``, ...; ``extra`` holds the headers of those. ``problems`` are those seen while reading.
    """

    file: str
    kind: str
    table: pa.Table
    extra: tuple[str, ...]
    problems: tuple[Problem, ...]


def read_tables(path: str | Path, given: Given = NOTHING) -> list[TextTable]:
    """Read every table of one file of any kind. Errors as ``read_table``."""
    return [read_table(path, given)]


def read_table(path: str | Path, given: Given = NOTHING) -> TextTable:
    """Read one file of any kind.

    Raises ``DataError`` where the file cannot be read as a table at all; lesser problems are
    handed back with the table.
    """
    source = Path(path)
    file, ending = file_name(source), source.suffix.lower()
    try:
        _refuse_wrong_file(source)
        if ending in TEXT_ENDINGS:
            return TextTable(file, "shot", *read_text_card(source, file, given))
        cells = READERS[ending](source)
    except UnreadError as wrong:
        raise fatal(file, wrong.wrong, wrong.fix, row=wrong.row, value=wrong.value) from wrong
    return _arrange(file, cells)


def _refuse_wrong_file(source: Path) -> None:
    ending = source.suffix.lower()
    with opened(source, MAX_BYTES.get(ending), f"a {ending} file"):
        if ending not in (*READERS, *TEXT_ENDINGS):
            raise fatal(
                file_name(source),
                f'files ending in "{source.suffix}" are not read',
                f"Save it as one of {', '.join((*READERS, *TEXT_ENDINGS))}.",
                value=source.suffix,
            )


def _arrange(file: str, cells: Cells) -> TextTable:
    refuse_wide(file, len(cells.headers))
    headers = [header.strip().lower() for header in cells.headers]
    kind = kind_of(headers)
    if kind is None:
        raise _not_recognised(file, cells)
    problems = [*cells.problems, *_header_problems(file, cells, headers, kind)]
    arrays: dict[str, pa.Array] = {
        "source_row": pa.array(cells.row_numbers, pa.int32()),
        "broken": pa.array(cells.broken, pa.bool_()),
    }
    extra: list[str] = []
    known = set(names_of(kind))
    for header, written, column in zip(headers, cells.headers, cells.columns, strict=True):
        if header in known:
            arrays.setdefault(header, column)
        elif header:
            arrays[f"{EXTRA_PREFIX}{len(extra)}"] = column
            extra.append(written.strip())
    table = pa.table(arrays)
    if kind == "shot":
        table, of_example = without_example(file, table)
        problems += of_example
    return TextTable(file, kind, table, tuple(extra), tuple(problems))


def _not_recognised(file: str, cells: Cells) -> DataError:
    there = ", ".join(header[:30] for header in cells.headers[:8])
    wrong = f"the header is none of a known table (there: {there})"
    marks = ", ".join(f"{' or '.join(table.marks)} ({table.name})" for table in TABLES)
    fix = f"One of these must be among the headers: {marks}."
    return fatal(file, wrong, fix, row=cells.header_row, value=there)


def _header_problems(file: str, cells: Cells, headers: list[str], kind: str) -> list[Problem]:
    known = names_of(kind)
    table = TABLE[kind].name
    unknown = [header for header in headers if header and header not in known]
    found: list[Problem] = []

    def add(column: str, wrong: str, fix: str, severity: str = "error") -> None:
        found.append(Problem(file, cells.header_row, column, "", wrong, fix, severity))

    for header in sorted({h for h in headers if h and headers.count(h) > 1}):
        add(header, "two columns have this header", "Rename or delete one of them.")
    for position, header in enumerate(headers):
        if not header and any(v and v.strip() for v in cells.columns[position].to_pylist()):
            add("", f"column {position + 1} has cells and no header", "Give it a header.")
    for column in columns_of(kind):
        if column.needed and column.name not in headers:
            slip = next((u for u in unknown if nearest(u, known) == column.name), None)
            hint = f' Rename "{slip}" if that is it.' if slip else ""
            add(column.name, f"a {table} needs this column", f"Add it: {column.meaning}.{hint}")
    for header in dict.fromkeys(unknown):
        guess = nearest(header, [name for name in known if name not in headers])
        fix = (
            f'Did you mean "{guess}"? If not, there is nothing to do.'
            if guess
            else ("Nothing to do; it takes no part in any answer.")
        )
        add(header, f"a {table} has no such column; its cells are kept as they are", fix, "note")
    return found
