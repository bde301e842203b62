"""Hypothesis strategies of workbooks made part by part: sound in many ways, and hostile."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from xml.sax.saxutils import escape

from hypothesis import strategies as st

from sgzone.cards.rules import SHEET_ERRORS
from tests.hard import books
from tests.hard.hostile import HOSTILE, NEARLY, Table, anything, mutated, plain_tables

EPOCHS = {False: date(1899, 12, 30), True: date(1904, 1, 1)}
NUMBERS = (
    *("NaN", "inf", "-1e308", "1e308", "1e10", "-1", "0", "0.5", "46156", "46156.5", "2958466"),
    *("9" * 5000, "", " ", "1_0", "٣", "0x1F", "7,5", "87.499999999999986", "+3", "1e-400"),
)
TYPES = ("n", "s", "str", "b", "e", "d", "inlineStr", "z", "")
PLACES = (
    "A0",
    "XFE1",
    "AAAAAAAA1",
    "1",
    "a1",
    "A4294967295",
    "A1:B2",
    "",
    "A-1",
    "$A$1",
    "A1048577",
)
ROWS = ("0", "-1", "1048577", "4294967295", "", "1e3", "٩", " 3")
STYLES = st.integers(-1, len(books.FORMATS))
STATES = ("hidden", "veryHidden", "visible", "", "bogus")
ENCODINGS = ("bogus", "utf-16", "latin-1", "hex", "undefined", "shift_jis", "utf-7", "cp1252", "")
TARGETS = ("../../etc/passwd", "/xl/workbook.xml", "", "http://example.invalid/", "sheet1.xml")


@dataclass(frozen=True)
class Drawn:
    """A workbook by its parts; ``faulty``: a cell of its only card shows an error or no result."""

    parts: dict[str, bytes]
    faulty: bool = False


Rows = list[list[str]]
Texts = list[str]


def _written(draw: st.DrawFn, text: str, texts: Texts, epoch: date) -> str:
    """Draw one of the ways a spreadsheet may store what a cell of a CSV says."""
    ways = [books.inline(text), books.of_type("str", text), _runs(text), _shared(text, texts)]
    if not text:
        return draw(st.sampled_from([">", "/>", books.formula("", "str"), *ways]))
    if text.isdecimal() and text[0] != "0":
        ways += [books.number(text), books.number(f"{text}.0"), books.formula(text)]
    if len(text) == len("2026-05-14") and text[4] == "-":
        days = (date.fromisoformat(text) - epoch).days
        ways += [books.number(days, books.DAY), books.of_type("d", f"{text}T00:00:00")]
    return draw(st.sampled_from(ways))


def _shared(text: str, texts: Texts) -> str:
    texts.append(text)
    return books.of_type("s", str(len(texts) - 1))


def _runs(text: str) -> str:
    """Return a text in two runs, with how it is pronounced beside it."""
    half = len(text) // 2
    runs = "".join(f"<r><rPr/><t>{escape(part)}</t></r>" for part in (text[:half], text[half:]))
    return f't="inlineStr"><is>{runs}<rPh sb="0" eb="1"><t>said</t></rPh></is>'


def _cell(reference: str, inside: str) -> str:
    return f'<c r="{reference}"/>' if inside == "/>" else books.cell(reference, inside)


def _sheet(rows: Rows, *, named: bool = True) -> str:
    """Return a sheet; unless ``named`` its rows and cells do not say where they stand."""
    lines = []
    for n, row in enumerate(rows, 1):
        cells = [_cell(f"{books.column(k)}{n}", inside) for k, inside in enumerate(row)]
        if not named:
            cells = [one.replace(f' r="{books.column(k)}{n}"', "") for k, one in enumerate(cells)]
        place = f' r="{n}"' if named else ""
        lines.append(f"<row{place}>{''.join(cells)}</row>")
    return books.sheet([], "".join(lines))


@st.composite
def sound_books(draw: st.DrawFn) -> tuple[Table, Drawn]:
    """Draw a valid card and a workbook that holds it, in whatever way it may be stored."""
    table = draw(plain_tables())
    late = draw(st.booleans())
    texts: Texts = draw(st.lists(anything.filter(str.isprintable), max_size=2))
    rows = [[_written(draw, text, texts, EPOCHS[late]) for text in row or ()] for row in table.rows]
    named = draw(st.booleans())
    sheets = {"card": _sheet(rows, named=named)}
    hidden = {}
    if draw(st.booleans()):
        sheets = {"lists": books.sheet([[books.raw("Nobody")]]), **sheets}
        hidden["lists"] = draw(st.sampled_from(STATES[:2]))
    made = books.parts(
        sheets, hidden=hidden, texts=texts, book=f'<workbookPr date1904="{int(late)}"/>'
    )
    return table, Drawn(made)


@st.composite
def hostile_books(draw: st.DrawFn) -> Drawn:
    """Draw a workbook and spoil it: cells, places, sheets, texts, styles, whole parts."""
    table = draw(plain_tables())
    texts: Texts = [*draw(st.lists(st.sampled_from(HOSTILE), max_size=2)), "green"]
    texts = [text for text in texts if text.isprintable()]
    rows = [
        [_written(draw, text, texts, EPOCHS[False]) for text in row or ()] for row in table.rows
    ]
    faulty = _spoil_cells(draw, rows, len(texts))
    sheet = _sheet(rows, named=draw(st.booleans()))
    names = draw(st.lists(st.sampled_from((*HOSTILE[:20], "card")), max_size=3, unique=True))
    others = {escape(name): books.card() for name in names if name.isprintable()}
    hidden = {name: draw(st.sampled_from(STATES)) for name in others if draw(st.booleans())}
    made = books.parts({"first": sheet, **others}, hidden=hidden, texts=texts)
    spoils = draw(st.lists(st.sampled_from(SPOILS), max_size=2))
    for spoil in spoils:
        spoil(draw, made)
    return Drawn(made, faulty and not spoils)


def _spoil_cells(draw: st.DrawFn, rows: Rows, texts: int) -> bool:
    """Put odd insides into cells; return whether an error or no result is among them."""
    header = [*rows[0]]
    faulty: set[tuple[int, int]] = set()
    for _ in range(draw(st.integers(0, 3))):
        row = draw(st.integers(0, len(rows) - 1))
        column = draw(st.integers(0, len(header) - 1))
        wrong = draw(st.booleans())
        rows[row][column] = draw(_errors if wrong else _odd(texts))
        (faulty.add if wrong and row else faulty.discard)((row, column))
    return bool(faulty) and rows[0] == header


_errors = st.one_of(
    st.sampled_from([books.of_type("e", shown) for shown in (*SHEET_ERRORS, "#BOGUS")]),
    st.sampled_from([books.formula(), books.formula(""), books.formula(kind="b")]),
)


def _odd(texts: int) -> st.SearchStrategy[str]:
    text = st.one_of(st.sampled_from(NEARLY), st.sampled_from(HOSTILE), anything)
    plain = text.filter(lambda t: all(c.isprintable() or c in "\t\n" for c in t)).map(escape)
    return st.one_of(
        st.builds(books.number, st.sampled_from(NUMBERS), STYLES),
        st.builds(books.of_type, st.sampled_from(TYPES), st.sampled_from(NUMBERS), STYLES),
        st.builds(books.of_type, st.just("s"), st.integers(-1, texts).map(str)),
        plain.map(books.inline),
        plain.map(lambda t: f't="str"><v>{t}_x000D__x0000__xD800_</v>'),
        plain.map(lambda t: f"><![CDATA[{t}]]><v><x>{t}</x>7</v><v>8</v>"),
    )


Spoil = Callable[[st.DrawFn, dict[str, bytes]], None]


def _swap(draw: st.DrawFn, made: dict[str, bytes], old: str, new: Sequence[str]) -> None:
    """Put one of ``new`` in place of a text, in one part that has it."""
    having = [name for name, content in made.items() if old.encode() in content]
    if having:
        name = draw(st.sampled_from(having))
        times = draw(st.sampled_from((1, -1)))
        made[name] = made[name].replace(old.encode(), draw(st.sampled_from(new)).encode(), times)


def _places(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, 'c r="A2"', [f'c r="{place}"' for place in PLACES])


def _rows(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, 'row r="2"', [f'row r="{row}"' for row in ROWS])


def _encoding(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, 'encoding="UTF-8"', [f'encoding="{name}"' for name in ENCODINGS])


def _targets(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, 'Target="worksheets/sheet1.xml"', [f'Target="{to}"' for to in TARGETS])


def _counts(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, 'ount="1"', [f'ount="{n}"' for n in ("0", "-1", "4294967295", "x")])


def _extras(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    merged = '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    more = '</sheetData><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>'
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    comments = "<!-- --><?x y?><![CDATA[]]></sheetData>"
    _swap(draw, made, "</sheetData>", (merged, more, far, comments, "</sheetdata>", "<c>"))


def _prefixes(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    name = draw(st.sampled_from(sorted(made)))
    element = draw(st.sampled_from((b"row", b"sheet", b"si", b"xf", b"c", b"v")))
    content = made[name].replace(b"<" + element + b" ", b"<x:" + element + b" ")
    made[name] = content.replace(b"</" + element + b">", b"</x:" + element + b">")


def _doctype(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    _swap(draw, made, books.HEAD, (f'{books.HEAD}<!DOCTYPE x [<!ENTITY a "b">]>', "", "text"))


def _date1904(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    said = [f'<workbookPr date1904="{x}"/><sheets>' for x in ("1", "true", "2", "")]
    _swap(draw, made, "<sheets>", said)


def _missing(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    del made[draw(st.sampled_from(sorted(made)))]


def _renamed(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    name = draw(st.sampled_from(sorted(made)))
    made[draw(st.sampled_from((name.upper(), name.replace("/", "\\"), f"/{name}", "x")))] = made[
        name
    ]


def _bytes(draw: st.DrawFn, made: dict[str, bytes]) -> None:
    name = draw(st.sampled_from(sorted(made)))
    made[name] = draw(mutated(made[name]))


SPOILS: tuple[Spoil, ...] = (
    *(_places, _rows, _encoding, _targets, _counts, _extras, _prefixes, _doctype),
    *(_date1904, _missing, _renamed, _bytes),
)
