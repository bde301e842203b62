"""Workbooks written to take the computer down: each ends soon, in little memory, in a sentence."""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from sgzone.season.reading import find_problems
from tests.hard import books

ROOM = 2_000_000_000  # bytes of addresses: what is not bounded asks for more and is refused it
MORE = 250_000  # KB over a sound workbook's
SOON = 20  # seconds

SOUND = books.card()
END = "</sheetData>"
ASKS = """
import json, resource, sys, time
from sgzone.cards import unpacking
from sgzone.cards.reader import read_table
from sgzone.errors import DataError
unpacking.SMALL_BOOK = 8_000_000  # a fourth of the true limit: what takes long takes less
for path in sys.argv[1:]:
    begin = time.process_time()
    try:
        problems = read_table(path).problems
    except DataError as wrong:
        problems = wrong.problems
    told = [p.wrong for p in problems if p.severity == "error"]
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(json.dumps([told, time.process_time() - begin, most]), flush=True)
"""


def below(xml: str) -> str:
    """Return a sound sheet with more cells under its own."""
    return SOUND.replace(END, xml + END)


def ill_formed_texts(start: str, count: int = 60, length: int = 500_000) -> dict[str, bytes]:
    """Return shared texts that only some readers can read, and a sheet that is full of them."""
    cells = "".join(
        f'<row r="{n}">'
        + "".join(books.cell(f"{books.column(k)}{n}", 't="s"><v>0</v>') for k in range(200))
        + "</row>"
        for n in range(3, 3 + count)
    )
    text = f"{books.HEAD}{start}<si><t>{'x' * length}</t></si></sst>"
    return {
        "xl/sharedStrings.xml": text.encode(),
        "xl/worksheets/sheet1.xml": below(cells).encode(),
    }


def sixty_names_of_one_part() -> dict[str, bytes]:
    made = books.parts({f"s{n}": SOUND for n in range(60)})
    links = made["xl/_rels/workbook.xml.rels"]
    for n in range(2, 61):
        links = links.replace(f"sheet{n}.xml".encode(), b"sheet1.xml")
    rows = "".join(f'<row r="{n}"><c r="SF{n}"><v>1</v></c></row>' for n in range(3, 30_000))
    return {"xl/_rels/workbook.xml.rels": links, "xl/workbook.xml": made["xl/workbook.xml"]} | {
        "xl/worksheets/sheet1.xml": below(rows).encode()
    }


def cell_named(reference: str, row: str = "9") -> dict[str, bytes]:
    return one_sheet(below(f'<row r="{row}">{books.cell(reference, books.number(1))}</row>'))


def one_sheet(xml: str | bytes) -> dict[str, bytes]:
    content = xml.encode() if isinstance(xml, str) else xml
    return {"xl/worksheets/sheet1.xml": content}


def said_to_be(encoding: str) -> dict[str, bytes]:
    return one_sheet(SOUND.replace('encoding="UTF-8"', f'encoding="{encoding}"'))


def texts_said(count: str) -> dict[str, bytes]:
    texts = books.strings(["a"])
    return {"xl/sharedStrings.xml": texts.replace('ount="1"', f'ount="{count}"').encode()}


DAMAGED = "cannot be read"
MUCH = "no card has as much"
CASES: dict[str, tuple[Callable[[], dict[str, bytes]], str | None]] = {
    "sixty names of one part": (sixty_names_of_one_part, "one and the same"),
    "an attribute twice": (lambda: ill_formed_texts('<sst a="1" a="2">'), DAMAGED),
    "a prefix bound to nothing": (lambda: ill_formed_texts("<sst u:v='1'>"), MUCH),
    "text before the root": (lambda: ill_formed_texts("text <sst>"), DAMAGED),
    "a row beyond 32 bits": (lambda: cell_named("A4294967295", "4294967295"), DAMAGED),
    "a row one too many": (lambda: cell_named("A1048577", "1048577"), DAMAGED),
    "row 0": (lambda: cell_named("A0", "0"), DAMAGED),
    "row -1": (lambda: cell_named("A9", "-1"), DAMAGED),
    "row of other digits": (lambda: cell_named("A٩", "٩"), DAMAGED),
    "a row without its number of digits": (lambda: cell_named("A9", "9" * 50_000), DAMAGED),
    "a column one too many": (lambda: cell_named("XFE9"), DAMAGED),
    "a column without end": (lambda: cell_named("A" * 100_000 + "9"), DAMAGED),
    "a cell without letters": (lambda: cell_named("99"), DAMAGED),
    "small letters": (lambda: cell_named("a9"), DAMAGED),
    "a cell of another row": (lambda: cell_named("A8"), DAMAGED),
    "the last cell of all": (lambda: cell_named("XFD1048576", "1048576"), MUCH),
    "a cell without a row": (lambda: one_sheet(below(books.cell("A9", books.number(1)))), DAMAGED),
    "a cell twice": (lambda: cell_named("B2", "2"), "two cells are in the same place"),
    "a text that is not there": (
        lambda: one_sheet(books.card(club=books.of_type("s", "4294967295"))),
        "names a text that is not there",
    ),
    "texts said to be 4294967295": (lambda: texts_said("4294967295"), None),
    "texts said to be -1": (lambda: texts_said("-1"), None),
    "a sheet said to be full": (
        lambda: one_sheet(
            SOUND.replace("<sheetData>", '<dimension ref="A1:XFD1048576"/><sheetData>')
        ),
        None,
    ),
    "cells merged over the whole sheet": (
        lambda: one_sheet(
            SOUND.replace(END, END + '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>')
        ),
        None,
    ),
    "an encoding nobody knows": (lambda: said_to_be("bogus"), DAMAGED),
    "an encoding of no text": (lambda: said_to_be("hex"), DAMAGED),
    "an encoding that fails": (lambda: said_to_be("undefined"), DAMAGED),
    "an encoding of several bytes": (lambda: said_to_be("shift_jis"), DAMAGED),
    "latin-1": (lambda: said_to_be("latin-1"), None),
    "half a character": (lambda: one_sheet(SOUND.encode().replace(b"Ada", b"Ad\xc3")), DAMAGED),
    "a half surrogate": (lambda: one_sheet(SOUND.replace("Ada", "&#xD800;")), DAMAGED),
    "no character": (lambda: one_sheet(SOUND.replace("Ada", "A&#0;da")), DAMAGED),
    "elements without end within each other": (
        lambda: one_sheet(below("<a>" * 500_000)),
        DAMAGED,
    ),
    "a tag without end": (lambda: one_sheet(below('<a b="' + "x" * 6_000_000)), DAMAGED),
    "a comment without end": (lambda: one_sheet(below("<!-- " + "x" * 6_000_000)), DAMAGED),
    "names without number": (
        lambda: one_sheet(below("".join(f"<a{n:x}/>" for n in range(200_000)))),
        DAMAGED,
    ),
    "attributes without number": (
        lambda: one_sheet(below("<a " + "".join(f"b{n}='' " for n in range(200_000)) + "/>")),
        DAMAGED,
    ),
    "blank cells without number": (lambda: one_sheet(below("<c/>" * 3_000_000)), MUCH),
    "texts without number": (
        lambda: {"xl/sharedStrings.xml": f"<sst>{'<si/>' * 2_000_000}</sst>".encode()},
        MUCH,
    ),
    "styles without number": (
        lambda: {"xl/styles.xml": f"<a><cellXfs>{'<xf/>' * 150_000}</cellXfs></a>".encode()},
        DAMAGED,
    ),
    "a format without end": (
        lambda: {"xl/styles.xml": books.styles(["[" * 2_000_000]).encode()},
        None,
    ),
    "sheets without number": (
        lambda: {"xl/workbook.xml": b"<a>" + b'<sheet name="a" id="rId1"/>' * 150_000 + b"</a>"},
        DAMAGED,
    ),
    "a part outside of the workbook": (
        lambda: {
            "xl/_rels/workbook.xml.rels": books.parts({"card": SOUND})[
                "xl/_rels/workbook.xml.rels"
            ].replace(b"worksheets/sheet1.xml", b"../../../../../etc/passwd")
        },
        "is missing",
    ),
    "a sheet that is linked to nothing": (
        lambda: {"xl/_rels/workbook.xml.rels": b"<Relationships/>"},
        "is missing",
    ),
    "no sheet": (lambda: {"xl/workbook.xml": b"<workbook/>"}, "is empty"),
    "no workbook": (lambda: {"xl/workbook.xml": b""}, DAMAGED),
    "parts without number": (
        lambda: {f"x/{n}": b"" for n in range(20_000)},
        "more than 10000 parts",
    ),
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[list[str], float, int]]:
    """What a process of little memory says to each workbook, its seconds, its memory in KB."""
    folder = tmp_path_factory.mktemp("books")
    paths = [books.write(folder / "sound.xlsx", SOUND)]
    for number, (made, _) in enumerate(CASES.values()):
        paths.append(books.write(folder / f"{number}.xlsx", SOUND, **made()))
    assert max(path.stat().st_size for path in paths) < 20_000_000
    done = subprocess.run(
        [sys.executable, "-c", ASKS, *map(str, paths)],
        stdout=subprocess.PIPE,
        timeout=300,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM)),
    )
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.returncode == 0, f"ended at {['sound', *CASES][len(lines)]}"
    return dict(zip(["sound", *CASES], map(tuple, lines), strict=True))


@pytest.mark.parametrize("name", CASES)
def test_each_ends_soon_in_little_memory(
    answers: dict[str, tuple[list[str], float, int]], name: str
) -> None:
    told, seconds, memory = answers[name]
    expected = CASES[name][1]
    assert (expected in told[0] and len(told) == 1) if expected else told == [], told
    assert seconds < SOON
    assert memory < answers["sound"][2] + MORE


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_part_that_is_there_twice(tmp_path: Path) -> None:
    """Which of the two is meant depends on who reads."""
    path = books.write(tmp_path / "twice.xlsx", SOUND)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/worksheets/SHEET1.xml", books.card(player=books.raw("Bo")))
    (problem,) = find_problems(path)
    assert "is there twice" in problem.wrong
