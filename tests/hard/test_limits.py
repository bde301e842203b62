"""Inputs made to be too much: each is refused early, and the message names the limit."""

from __future__ import annotations

import os
import time
import zipfile
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.cards import limits, unpacking
from sgzone.season.reading import find_problems
from tests.cards.examples import give_example_a_player
from tests.hard import books
from tests.hard.calls import call, inside

HEADER = "player,date,hole,shot,lie,distance,result"
ROW = "Ada,2026-05-14,1,1,green,3,holed"
SHEET = "xl/worksheets/sheet1.xml"
END = b"</sheetData>"
SOON = 20  # seconds; what is not refused early takes minutes or all memory


@pytest.fixture
def home(tmp_path: Path) -> Path:
    with inside(tmp_path):
        assert call("template", "card.xlsx").code == 0
        give_example_a_player(Path("card.xlsx"))
    return tmp_path


def workbook(home: Path, edit: Callable[[bytes], bytes], **more: bytes) -> Path:
    """Return the template with its sheet edited, and with more entries."""
    path = home / "edited.xlsx"
    with (
        zipfile.ZipFile(home / "card.xlsx") as plain,
        zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as edited,
    ):
        for name in plain.namelist():
            content = plain.read(name)
            edited.writestr(name, edit(content) if name == SHEET else content)
        for name, content in more.items():
            edited.writestr(name, content)
    return path


def refused(path: Path) -> str:
    """Return why a file is refused; assert that it is, soon and with one problem."""
    begin = time.monotonic()
    (problem,) = find_problems(path)
    assert time.monotonic() - begin < SOON
    assert problem.severity == "error"
    return problem.wrong


@pytest.mark.parametrize(
    ("cell", "limit"),
    [
        ('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>', "1000 columns"),
        ('<row r="1048576"><c r="AZ1048576"><v>1</v></c></row>', "20 million cells"),
        ('<row r="9"><c><v>1</v></c>' + "<c><v>1</v></c>" * 1001 + "</row>", "1000 columns"),
        ('<x:row xmlns:x="u" r="9"><x:c r="ALM9"><x:v>1</x:v></x:c></x:row>', "1000 columns"),
    ],
)
def test_a_cell_in_the_last_corner(home: Path, cell: str, limit: str) -> None:
    path = workbook(home, lambda sheet: sheet.replace(END, cell.encode() + END))
    assert limit in refused(path)


def test_an_empty_formatted_corner_is_no_fault(home: Path) -> None:
    corner = b'<row r="1048576"><c r="XFD1048576" s="1"/></row>'
    path = workbook(home, lambda sheet: sheet.replace(END, corner + END))
    assert not [p for p in find_problems(path) if p.severity == "error"]


def test_a_workbook_that_unpacks_without_end(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unpacking, "MAX_UNPACKED", 5_000_000)
    path = workbook(home, lambda sheet: sheet.replace(END, b" " * 6_000_000 + END))
    assert path.stat().st_size < 50_000
    assert "more than 5 MB when unpacked" in refused(path)


def test_what_is_not_read_is_not_unpacked(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unpacking, "MAX_UNPACKED", 5_000_000)
    path = workbook(home, lambda sheet: sheet, **{"xl/media/a.bin": bytes(6_000_000)})
    assert not [p for p in find_problems(path) if p.severity == "error"]


def test_a_size_that_is_a_lie(home: Path) -> None:
    """The archive says its sheet has ten bytes: no more of it is unpacked."""
    path = workbook(home, lambda sheet: sheet.replace(END, b" " * 6_000_000 + END))
    with zipfile.ZipFile(path) as archive:
        true = archive.getinfo(SHEET).file_size.to_bytes(4, "little")
    data = path.read_bytes()
    assert data.count(true) == 2
    path.write_bytes(data.replace(true, (10).to_bytes(4, "little")))
    assert "cannot be read" in refused(path)


def test_one_long_text_in_every_cell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unpacking, "MAX_UNPACKED", 5_000_000)
    rows = books.card_of([{"luck": books.of_type("s", "0")}] * 400)
    made = books.parts({"card": rows}, texts=["x" * 30_000])
    assert "cells whose text is more than 5 MB" in refused(books.pack(tmp_path / "a.xlsx", made))


def test_entities_that_multiply(home: Path) -> None:
    names = "abcdefghij"
    rules = '<!ENTITY a "aaaaaaaaaa">' + "".join(
        f'<!ENTITY {new} "{f"&{old};" * 10}">' for old, new in pairwise(names)
    )
    start = f"<!DOCTYPE x [{rules}]><worksheet".encode()
    cell = b'<row r="9"><c r="A9" t="str"><v>&j;</v></c></row>'
    path = workbook(
        home, lambda sheet: sheet.replace(b"<worksheet", start, 1).replace(END, cell + END)
    )
    assert "cannot be read" in refused(path)


def test_too_many_columns(tmp_path: Path) -> None:
    more = ",".join(f"c{n}" for n in range(200_000))
    (tmp_path / "wide.csv").write_text(f"{HEADER},{more}\n{ROW}\n")
    assert "up to 1000 are read" in refused(tmp_path / "wide.csv")
    names = [*HEADER.split(","), *(f"c{n}" for n in range(1000))]
    pq.write_table(pa.table({name: ["1"] for name in names}), tmp_path / "wide.parquet")
    assert "up to 1000 are read" in refused(tmp_path / "wide.parquet")


@pytest.mark.long
def test_too_many_rows_in_few_bytes(tmp_path: Path) -> None:
    path = tmp_path / "long.parquet"
    ones = pa.DictionaryArray.from_arrays(pa.array(bytes(1_000_000), pa.int8()), ["1"])
    table = pa.table({"hole": ones})
    with pq.ParquetWriter(path, table.schema) as writer:
        for _ in range(101):
            writer.write_table(table)
    assert path.stat().st_size < 1_000_000
    assert "up to 100000000 are read" in refused(path)


@pytest.mark.parametrize(
    ("name", "most"), [("a.csv", "8 GB"), ("a.tsv", "8 GB"), ("a.xlsx", "64 MB")]
)
def test_too_many_bytes(tmp_path: Path, name: str, most: str) -> None:
    with (tmp_path / name).open("wb") as file:
        file.truncate(limits.MAX_BYTES[Path(name).suffix] + 1)  # a hole: it takes no room
    assert f"may have {most}" in refused(tmp_path / name)


def test_a_cell_that_is_a_book(tmp_path: Path) -> None:
    path = tmp_path / "book.csv"
    path.write_text(f'{HEADER},shoes\n{ROW},"a\n{"x" * 200_000}"\n')
    assert "more than 131072 characters" in refused(path)
    path.write_text(f"{HEADER},note\n{ROW},{'x' * 200_000}\n")
    assert "longer than" in refused(path)
    with inside(tmp_path):
        assert len(call("check", "book.csv").out) < 5000


def test_settings_without_end(tmp_path: Path) -> None:
    with inside(tmp_path):
        Path("card.csv").write_text(f"{HEADER}\n{ROW}\n")
        assert call("load", "card.csv").code == 0
        for text in ("a = " + "[" * 400_000, "recoverable = " + "9" * 5000, " " * 1_000_001):
            Path("own.toml").write_text(text)
            done = call("practice", "--hours", "5", "--weeks", "6", "--settings", "own.toml")
            assert (done.code, done.err.count("\n")) == (1, 1)


@pytest.mark.long
def test_pipes_devices_and_endless_names(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    assert "pipe" in refused(tmp_path / "pipe.csv")
    with inside(tmp_path):
        Path("card.csv").write_text(f"{HEADER}\n{ROW}\n")
        for db in ("pipe.csv", "/dev/zero", "x" * 300, os.fsdecode(b"\xff.duckdb")):
            assert call("load", "card.csv", "--db", db).code == 1
        assert call("load", "x" * 300 + ".csv", "--db", "s.duckdb").code == 1
        stray = os.fsdecode(b"card\xff.csv")
        Path("card.csv").replace(stray)
        assert call("load", stray, "--db", "s.duckdb").code == 0
        assert call("rounds", "--db", "s.duckdb", "--format", "json").json()[0]["file"].isascii()
        assert call("gained", "--player", stray, "--db", "s.duckdb").code == 2  # a stranger
        assert call("rounds", "--rename", "Ada", stray, "--db", "s.duckdb").code == 2
