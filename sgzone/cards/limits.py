"""How large an input may be. Wide limits: what is over them is a mistake or an attack."""

from __future__ import annotations

from sgzone.cards.grid import fatal
from sgzone.inputs import GIGA as GIGA
from sgzone.inputs import MEGA as MEGA
from sgzone.inputs import size as size

MAX_BYTES = {
    **{".csv": 8 * GIGA, ".tsv": 8 * GIGA, ".parquet": 8 * GIGA},
    **{".xlsx": 64 * MEGA, ".ods": 64 * MEGA, ".xls": 16 * MEGA},
    **{".txt": 8 * MEGA, ".eml": 8 * MEGA},  # a text card has 300 bytes a round
}
MAX_MAPPING_BYTES = 256_000  # some hundred headers and words; TOML takes its time
MAX_COLUMNS = 1000
MAX_LINES = 50_000  # of a text card; a season has some 700
MAX_ROWS = 100 * MEGA
MAX_CELLS = 20 * MEGA  # of a sheet, blank ones between others included: all of them take memory
MAX_UNPACKED = 1 * GIGA  # bytes of what is read of a workbook, or of the text of its cells
SMALL_BOOK = 32 * MEGA  # bytes any workbook may unpack to
MAX_BOOK_RATIO = 50  # to one, of larger ones: cells are packed 10 to 20 to one
MAX_PARTS = 10_000  # of a workbook: files in its archive
MAX_TABLES = 200  # of one workbook: sheets with the header of one
MAX_STYLES = 100_000  # of a workbook; Excel's limit is 65,490
MAX_MERGES = 100_000  # merged cells of a sheet that are looked at
SHEET_ROWS, SHEET_COLUMNS = 1_048_576, 16_384  # of any sheet, by the format's own rules
MOST_PACKED = 50  # to one: a Parquet file over MAX_UNPACKED of text; seasons are packed 20 to one


def refuse_wide(file: str, columns: int) -> None:
    """Raise ``DataError`` where a table has more columns than any card has."""
    if columns > MAX_COLUMNS:
        raise fatal(
            file,
            f"the table has {columns} columns; up to {MAX_COLUMNS} are read",
            "Leave out the columns that are not of the card.",
        )


def refuse_many_lines(file: str, lines: int) -> None:
    """Raise ``DataError`` where a text card has more lines than any has."""
    if lines > MAX_LINES:
        raise fatal(
            file,
            f"the file has {lines} lines; of a text card up to {MAX_LINES} are read",
            "Split it into several files.",
        )


def refuse_long(file: str, rows: int) -> None:
    """Raise ``DataError`` where a table has more rows than any card has."""
    if rows > MAX_ROWS:
        raise fatal(
            file,
            f"the table has {rows} rows; up to {MAX_ROWS} are read",
            "Split it into several files.",
        )
