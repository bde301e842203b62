"""Any input file to its tables of text, each row with its number in a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from sgzone.cards.delimited import read_delimited
from sgzone.cards.given import NOTHING, Given
from sgzone.cards.grid import Cells, fatal
from sgzone.cards.grid import TextTable as TextTable
from sgzone.cards.limits import MAX_BYTES
from sgzone.cards.mapping.use import mapping_for, read_mapped, told
from sgzone.cards.parquet import read_parquet
from sgzone.cards.sheets.ods import read_ods
from sgzone.cards.sheets.xls import read_xls
from sgzone.cards.text.file import TEXT_ENDINGS, read_text_card
from sgzone.cards.tolerant.arranging import EXTRA_PREFIX as EXTRA_PREFIX
from sgzone.cards.tolerant.arranging import arrange
from sgzone.cards.workbook import read_workbook
from sgzone.errors import did_you_mean
from sgzone.inputs import UnreadError, file_name, opened

READERS: dict[str, Callable[[Path], Cells]] = {
    ".csv": read_delimited,
    ".tsv": read_delimited,
    ".parquet": read_parquet,
}
BOOKS: dict[str, Callable[[Path, Given], list[tuple[str, Cells]]]] = {
    ".xlsx": read_workbook,
    ".ods": read_ods,
    ".xls": read_xls,
}
"""Files that may hold several tables: each with what it is called."""


def read_tables(path: str | Path, given: Given = NOTHING) -> list[TextTable]:
    """Read every table of one file of any kind, as a person would read it.

    ``given``: what the caller says of it. With a mapping, given or beside it, it is one table.
    Raises ``DataError`` where the file cannot be read as a table at all; lesser problems are
    handed back with each table.
    """
    source = Path(path)
    name, ending = file_name(source), source.suffix.lower()
    try:
        _refuse_wrong_file(source)
        if mapping := mapping_for(source, given):
            cells, used = read_mapped(source, mapping, given)
            return [told(arrange(name, cells, given), mapping, used)]
        if ending in TEXT_ENDINGS:
            return [TextTable(name, "shot", *read_text_card(source, name, given))]
        if ending in BOOKS:
            tables = BOOKS[ending](source, given)
        else:
            tables = [(name, READERS[ending](source))]
    except UnreadError as wrong:
        raise fatal(name, wrong.wrong, wrong.fix, row=wrong.row, value=wrong.value) from wrong
    return [arrange(file, cells, given) for file, cells in tables]


def read_table(path: str | Path, given: Given = NOTHING) -> TextTable:
    """Read the first table of one file. Errors as ``read_tables``."""
    return read_tables(path, given)[0]


def _refuse_wrong_file(source: Path) -> None:
    ending = source.suffix.lower()
    with opened(source, MAX_BYTES.get(ending), f"a {ending} file"):
        if ending not in MAX_BYTES:
            raise fatal(
                file_name(source),
                f'files ending in "{source.suffix}" are not read',
                f"Save it as one of {', '.join(MAX_BYTES)}.{did_you_mean(ending, MAX_BYTES)}",
                value=source.suffix,
            )
