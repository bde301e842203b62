"""An empty card with every header and one example hole."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from sgzone.cards.columns import names_of
from sgzone.errors import CallError, DataError
from sgzone.inputs import refuse_no_name
from sgzone.writing import unwritten, write_whole

ENDINGS = (".csv", ".xlsx")

_EXAMPLE = (
    {
        "shot": "1",
        "lie": "tee",
        "distance": "142",
        "club": "8 iron",
        "swing": "full",
        "measured": "laser",
        "effective_yd": "147",
        "wind": "into",
        "wind_mph": "8",
        "note": "delete this example hole",
    },
    {"shot": "2", "lie": "sand", "distance": "14 yd", "club": "56", "measured": "paced"},
    {"shot": "3", "lie": "green", "distance": "7'10\"", "club": "putter", "measured": "paced"},
    {"shot": "4", "lie": "green", "distance": "1", "result": "holed", "club": "putter"},
)
_EVERY_ROW = {
    "player": "Example Player",
    "date": "2026-05-14",
    "round": "1",
    "hole": "3",
    "format": "stroke",
    "course": "Example Course",
    "event": "practice",
    "par": "3",
}
_WHOLE_NUMBERS = ("round", "hole", "shot", "par")


def write_template(path: str | Path) -> Path:
    """Write a card (.csv or .xlsx) that loads as it stands; return its path.

    Raises ``CallError`` for another ending, ``DataError`` where the file exists or cannot be
    written.
    """
    refuse_no_name(path)
    target = Path(path)
    if target.suffix.lower() not in ENDINGS:
        raise CallError(
            f'A template ends in {" or ".join(ENDINGS)}, not "{target.suffix}": name it card.csv '
            "or card.xlsx."
        )
    names = names_of("shot")
    rows = [[{**_EVERY_ROW, **row}.get(name, "") for name in names] for row in _EXAMPLE]
    made = _csv if target.suffix.lower() == ".csv" else _workbook
    try:
        write_whole(target, made(names, rows), new=True)
    except FileExistsError as wrong:
        raise DataError(f"{target} exists already and is not overwritten.") from wrong
    except OSError as wrong:
        raise unwritten(target, wrong) from wrong
    return target


def _csv(names: tuple[str, ...], rows: list[list[str]]) -> bytes:
    text = StringIO()
    csv.writer(text, lineterminator="\n").writerows([list(names), *rows])
    return text.getvalue().encode()


def _workbook(names: tuple[str, ...], rows: list[list[str]]) -> bytes:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "card"
    sheet.append(list(names))
    for row in rows:
        sheet.append(
            [
                int(cell) if name in _WHOLE_NUMBERS else cell or None
                for name, cell in zip(names, row, strict=True)
            ]
        )
    for place, name in enumerate(names, 1):
        sheet.cell(1, place).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(place)].width = max(10, len(name) + 2)
    sheet.freeze_panes = "A2"
    packed = BytesIO()
    book.save(packed)
    return packed.getvalue()
