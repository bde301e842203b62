"""Workbooks written by hand, part by part, so that they can hold what no spreadsheet writes."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKED = "http://schemas.openxmlformats.org/package/2006"
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
HEADERS = ("player", "date", "hole", "shot", "lie", "distance", "penalty", "result", "club", "luck")
ROW = ("Ada", "2026-05-14", 1, 1, "green", 3, "", "holed", "putter", "")
FIRST = date(2026, 5, 14)
FORMATS = (
    *("General", "yyyy-mm-dd", "h:mm", "[h]:mm:ss", "0%", '0.0" yd"', "@", "d-mmm"),
    *("[$-409]d/m/yy\\ h:mm;@", "0.00E+00", '"50%" 0'),
)
GENERAL, DAY, CLOCK, ELAPSED, SHARE, YARDS, TEXT = range(7)
"""Places of the first formats: the style of a cell."""

Value = str | int | float


def number(written: object, style: int = GENERAL) -> str:
    """Return the inside and the attributes of a number's cell, as it stands."""
    return f's="{style}"><v>{written}</v>'


def of_type(kind: str, written: str, style: int = GENERAL) -> str:
    """Return those of a cell of a named type."""
    return f's="{style}" t="{kind}"><v>{escape(written)}</v>'


def inline(text: str) -> str:
    """Return those of a text that stands in the cell itself."""
    return f't="inlineStr"><is><t xml:space="preserve">{escape(text)}</t></is>'


def formula(result: str | None = None, kind: str = "n") -> str:
    """Return those of a formula; None: it was never worked out."""
    stored = "" if result is None else f"<v>{escape(result)}</v>"
    return f't="{kind}"><f>B2+1</f>{stored}'


def raw(value: Value | None) -> str:
    """Return those of a plain value."""
    if isinstance(value, str):
        return inline(value)
    return ">" if value is None else number(value)


def column(place: int) -> str:
    """Return the letters of a column, the first 0.

    >>> column(0), column(26)
    ('A', 'AA')
    """
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def cell(reference: str, inside: str) -> str:
    """Return a cell."""
    return f"<c r={quoteattr(reference)} {inside}</c>"


def sheet(rows: Sequence[Sequence[str]], after: str = "") -> str:
    """Return a sheet of cells given by their insides; row 1 is the first, ``after`` below."""
    lines = (
        f'<row r="{n}">' + "".join(cell(f"{column(k)}{n}", c) for k, c in enumerate(row)) + "</row>"
        for n, row in enumerate(rows, 1)
    )
    cells = f"<sheetData>{''.join(lines)}{after}</sheetData>"
    return f'{HEAD}<worksheet xmlns="{MAIN}">{cells}</worksheet>'


def card(**changed: str) -> str:
    """Return the sheet of a sound card of one stroke, some of its cells another inside."""
    return card_of([changed])


def card_of(rows: Sequence[Mapping[str, str]]) -> str:
    """Return the sheet of a card with a round of one stroke for each of ``rows``.

    These are the insides of cells that differ from the sound one.
    """
    lines = [
        dict(zip(HEADERS, map(raw, ROW), strict=True))
        | {"date": raw(str(FIRST + timedelta(days=n)))}
        | changed
        for n, changed in enumerate(rows)
    ]
    return sheet([[raw(name) for name in HEADERS], *(list(line.values()) for line in lines)])


def strings(texts: Sequence[str]) -> str:
    """Return the part of the shared texts."""
    items = "".join(f'<si><t xml:space="preserve">{escape(text)}</t></si>' for text in texts)
    return (
        f'{HEAD}<sst xmlns="{MAIN}" count="{len(texts)}" uniqueCount="{len(texts)}">{items}</sst>'
    )


def styles(formats: Sequence[str] = FORMATS) -> str:
    """Return the part of the styles: one per format of numbers."""
    codes = "".join(
        f'<numFmt numFmtId="{200 + n}" formatCode={quoteattr(code)}/>'
        for n, code in enumerate(formats)
    )
    places = "".join(f'<xf numFmtId="{200 + n}"/>' for n in range(len(formats)))
    return (
        f'{HEAD}<styleSheet xmlns="{MAIN}"><numFmts>{codes}</numFmts>'
        f'<cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs>{places}</cellXfs></styleSheet>'
    )


def parts(
    sheets: Mapping[str, str],
    *,
    hidden: Mapping[str, str] | None = None,
    texts: Sequence[str] = (),
    book: str = "",
) -> dict[str, bytes]:
    """Return the parts of a workbook by name: its sheets in order, those hidden with their state.

    ``book``: what stands before the list of sheets, such as ``<workbookPr date1904="1"/>``.
    """
    states = {name: f" state={quoteattr(state)}" for name, state in (hidden or {}).items()}
    listed = "".join(
        f'<sheet name={quoteattr(name)}{states.get(name, "")} sheetId="{n}" r:id="rId{n}"/>'
        for n, name in enumerate(sheets, 1)
    )
    linked = "".join(
        f'<Relationship Id="rId{n}" Type="{LINKS}/worksheet" Target="worksheets/sheet{n}.xml"/>'
        for n in range(1, len(sheets) + 1)
    )
    linked += f'<Relationship Id="a" Type="{LINKS}/styles" Target="styles.xml"/>'
    linked += f'<Relationship Id="b" Type="{LINKS}/sharedStrings" Target="/xl/sharedStrings.xml"/>'
    made = {
        "[Content_Types].xml": f'{HEAD}<Types xmlns="{PACKED}/content-types"/>',
        "_rels/.rels": f'{HEAD}<Relationships xmlns="{PACKED}/relationships"><Relationship Id="r" '
        f'Type="{LINKS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{LINKS}">{book}'
        f"<sheets>{listed}</sheets></workbook>",
        "xl/_rels/workbook.xml.rels": f'{HEAD}<Relationships xmlns="{PACKED}/relationships">'
        f"{linked}</Relationships>",
        "xl/styles.xml": styles(),
        "xl/sharedStrings.xml": strings(texts),
    }
    for n, content in enumerate(sheets.values(), 1):
        made[f"xl/worksheets/sheet{n}.xml"] = content
    return {name: content.encode() for name, content in made.items()}


def pack(path: Path, made: Mapping[str, bytes]) -> Path:
    """Write parts as a workbook."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in made.items():
            archive.writestr(name, content)
    return path


def write(path: Path, sheet: str, **more: bytes) -> Path:
    """Write a workbook of one sheet, other parts in place of its own or beside them."""
    return pack(path, parts({"card": sheet}) | more)
