"""Workbooks of other programs that are damaged, endless or locked: one error, in time."""

from __future__ import annotations

import struct
import zipfile
from pathlib import Path
from time import monotonic

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.cards.limits import MAX_BYTES, MAX_TABLES
from sgzone.cards.reader import read_tables
from sgzone.cards.sheets.compound import followed
from sgzone.cards.sheets.records import Pieces, records
from sgzone.errors import DataError
from tests.cards.typed.books import Sheet, Value, content_of, write_book

CARDS = Path(__file__).parent.parent / "cards" / "typed" / "cards"
OLD = (CARDS / "old-workbook.xls").read_bytes()
LONG = (CARDS / "old-long-texts.xls").read_bytes()
HEADER: list[Value] = ["player", "date", "hole", "shot", "lie", "distance"]
SOON = 20  # seconds, on a machine with other things to do


def refused(path: Path) -> str:
    start = monotonic()
    with pytest.raises(DataError) as caught:
        read_tables(path)
    assert monotonic() - start < SOON
    (problem,) = caught.value.problems
    assert problem.fix
    return problem.wrong


def ods(path: Path, content: str) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("content.xml", content)
    return path


def one_sheet(more: str) -> str:
    return content_of([Sheet("card", rows=[HEADER])], more)


def rows(times: int, columns: int = 1) -> str:
    return (
        f'<table:table-row table:number-rows-repeated="{times}">'
        f'<table:table-cell table:number-columns-repeated="{columns}" '
        'office:value-type="string"><text:p>green</text:p></table:table-cell></table:table-row>'
    )


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (rows(1_000_000), "a row 1000000 times over"),
        (rows(1, 5000), "more than 1000 columns"),
        (rows(1, 99_999_999), "a count of"),
        ("<table:table-row>" * 200, "nested more than"),
        ("<!-- " + "x" * 5_000_000, "a tag without end"),
    ],
)
def test_an_ods_without_end(tmp_path: Path, more: str, words: str) -> None:
    assert words in refused(ods(tmp_path / "c.ods", one_sheet(more)))


@pytest.mark.long
def test_an_ods_that_unpacks_to_too_much(tmp_path: Path) -> None:
    content = one_sheet("") + " " * 40_000_000
    assert "when unpacked" in refused(ods(tmp_path / "c.ods", content))


def test_an_ods_of_many_cards(tmp_path: Path) -> None:
    sheets = [Sheet(f"s{n}", rows=[HEADER, ["Ned"]]) for n in range(MAX_TABLES + 1)]
    path = ods(tmp_path / "c.ods", content_of(sheets))
    assert f"{MAX_TABLES + 1} sheets with a table" in refused(path)


def test_what_is_no_ods(tmp_path: Path) -> None:
    for name, data in (("a.ods", b"nonsense"), ("b.ods", OLD), ("c.xls", b"nonsense")):
        (tmp_path / name).write_bytes(data)
        assert "cannot be read" in refused(tmp_path / name)
    book = write_book((CARDS / "merged-cells.book").read_text(), tmp_path / "d.xlsx")
    assert "no old workbook" in refused(book.rename(tmp_path / "d.xls"))


def test_an_old_workbook_too_large(tmp_path: Path) -> None:
    path = tmp_path / "c.xls"
    with path.open("wb") as file:
        file.truncate(MAX_BYTES[".xls"] + 1)
    assert "may have 16 MB" in refused(path)


def _stream_at(data: bytes) -> int:
    """Return where the records of a workbook begin in its file."""
    return data.index(struct.pack("<HHHH", 0x0809, 16, 0x0600, 5))


def test_an_old_workbook_with_a_password_or_of_an_older_kind(tmp_path: Path) -> None:
    start = _stream_at(OLD)
    second = start + 4 + 16
    locked, older = bytearray(OLD), bytearray(OLD)
    locked[second : second + 2] = struct.pack("<H", 0x002F)
    older[start + 4 : start + 6] = struct.pack("<H", 0x0500)
    for name, data, words in (("a", locked, "a password"), ("b", older, "older than 1997")):
        (tmp_path / f"{name}.xls").write_bytes(data)
        assert words in refused(tmp_path / f"{name}.xls")


def test_two_sheets_that_are_one(tmp_path: Path) -> None:
    data, start = bytearray(OLD), _stream_at(OLD)
    places = [start + record.place + 4 for record in records(OLD[start:]) if record.kind == 0x0085]
    data[places[1] : places[1] + 4] = data[places[0] : places[0] + 4]
    (tmp_path / "c.xls").write_bytes(data)
    assert "one and the same" in refused(tmp_path / "c.xls")


def test_a_chain_that_turns_back() -> None:
    assert list(followed([1, 2, 0xFFFFFFFE], 0)) == [0, 1, 2]
    for following in ([1, 0], [0], [7]):
        with pytest.raises(ValueError, match="no chain"):
            list(followed(following, 0))


def test_a_text_goes_on_in_the_next_record_with_letters_of_another_width() -> None:
    narrow = struct.pack("<HB", 6, 0) + b"abc"
    wide = b"\x01" + "dö–".encode("utf-16-le")
    assert Pieces([narrow, wide]).text() == "abcdö–"
    with pytest.raises(ValueError, match="cut short"):
        Pieces([narrow]).text()


@pytest.mark.repeats
@pytest.mark.parametrize("whole", [OLD, LONG], ids=["sheets", "texts"])
@given(data=st.data())
def test_a_damaged_old_workbook_is_read_or_refused(
    whole: bytes, data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    damaged = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 12))):
        place = data.draw(st.integers(0, len(whole) - 1))
        damaged[place] = data.draw(st.integers(0, 255))
    path = tmp_path_factory.mktemp("old") / "c.xls"
    path.write_bytes(damaged[: data.draw(st.integers(len(whole) // 2, len(whole)))])
    fixes = ["read"]
    try:
        read_tables(path)
    except DataError as wrong:
        fixes = [problem.fix for problem in wrong.problems]
    assert all(fixes)
