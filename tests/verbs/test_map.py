"""The verb map on the real command line, and check and load with what it wrote."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from openpyxl import Workbook

from sgzone.cards.mapping.raw import beside
from sgzone.season.store import open_store
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, call, call_apart, inside

ROWS = (
    *("Player,Date,Hole,Shot,Lie,Distance,Result,Weather",),
    *("Ned Farrow,14/05/2026,1,2,fairway,112,,dry", "Ned Farrow,14/05/2026,1,3,green,9,,dry"),
    "Ned Farrow,14/05/2026,1,4,green,2,holed,wet",
)


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "round.csv"
    path.write_text("\n".join(ROWS) + "\n", encoding="utf-8")
    return path


def test_it_writes_beside_says_what_and_loads_nothing(table: Path) -> None:
    done = call_apart("map", "round.csv", cwd=table.parent)
    assert done.code == FINE
    assert done.out == ""
    assert done.err.splitlines() == [
        "Wrote round.csv.map.toml: 7 columns found.",
        "Not mapped: Weather.",
        "Read it through, then: sgzone check round.csv",
    ]
    assert {path.name for path in table.parent.iterdir()} == {"round.csv", "round.csv.map.toml"}


@pytest.mark.long
def test_what_it_wrote_is_used_named_and_kept_with_the_load(table: Path) -> None:
    season = table.parent / "x.duckdb"
    with inside(table.parent):
        assert call("map", "round.csv").code == FINE
        checked = call("check", "round.csv", "--format", "json")
        assert checked.code == FINE
        assert checked.json()[0]["wrong"] == "read with the mapping round.csv.map.toml"
        assert call("load", "round.csv", "--db", season).code == FINE
        again = call("load", "round.csv", "--map", "round.csv.map.toml", "--db", season)
        assert "all 3 rows are in the season file already" in again.err
    with open_store(season) as store:
        [how] = store.frame("SELECT read_as FROM loads")["read_as"]
    digest = hashlib.sha256(beside(table).read_bytes()).hexdigest()
    assert json.loads(how) == {"mapping": digest}


def test_it_never_writes_over_a_mapping_unless_told(table: Path) -> None:
    beside(table).write_text('[columns]\nlie = "Lage"\n', encoding="utf-8")
    refused = call("map", table)
    assert refused.code == DATA_AT_FAULT
    assert "is there already" in refused.err
    assert "--replace" in refused.err
    assert "Lage" in beside(table).read_text(encoding="utf-8")
    assert call("map", table, "--replace").code == FINE
    assert "Lage" not in beside(table).read_text(encoding="utf-8")
    assert call("map", table, "--replace").code == FINE


@pytest.mark.parametrize("held", ["my notes of May", "[tool]\nx = 1\n", "lie" * 100_000])
def test_it_never_writes_over_what_is_no_mapping(table: Path, held: str) -> None:
    beside(table).write_text(held, encoding="utf-8")
    refused = call("map", table, "--replace")
    assert refused.code == DATA_AT_FAULT
    assert "is not a mapping" in refused.err
    assert beside(table).read_text(encoding="utf-8") == held


@pytest.mark.parametrize(
    ("name", "held", "said"),
    [
        ("none.csv", None, "there is no such file"),
        ("empty.csv", b"", "no row looks like a header"),
        ("numbers.csv", b"1,2\n3,4\n", "no row looks like a header"),
        ("words.csv", b"Player,Lie\n", "no row looks like a header"),
        ("book.csv", b"PK\x03\x04", "a workbook or an archive"),
        ("card.txt", b"x", "a mapping is for tables"),
    ],
)
def test_what_has_no_mapping(tmp_path: Path, name: str, held: bytes | None, said: str) -> None:
    if held is not None:
        (tmp_path / name).write_bytes(held)
    refused = call("map", tmp_path / name)
    assert refused.code == DATA_AT_FAULT
    assert said in refused.err
    assert not beside(tmp_path / name).exists()


def test_a_mistake_in_a_mapping_is_told_by_check_and_load_alike(table: Path) -> None:
    beside(table).write_text('[columns]\nlie = "Lies"\n', encoding="utf-8")
    with inside(table.parent):
        checked = call("check", table.name)
        loaded = call("load", table.name, "--db", "x.duckdb")
    assert checked.code == loaded.code == DATA_AT_FAULT
    assert "Did you mean Lie?" in checked.out
    assert "Did you mean Lie?" in loaded.err
    assert "1 error in round.csv.map.toml" in checked.err
    assert not (table.parent / "x.duckdb").exists()


def test_the_sheet_of_a_workbook(tmp_path: Path) -> None:
    book = Workbook()
    first = book.active
    assert first is not None
    first.append(["Partner", "Phone"])
    first.append(["Ada Low", "none"])
    for row in ROWS:
        book_sheet = book["May"] if "May" in book.sheetnames else book.create_sheet("May")
        book_sheet.append(row.split(","))
    path = tmp_path / "book.xlsx"
    book.save(path)
    assert call("map", path, "--sheet", "May").code == FINE
    assert 'lie = "Lie"' in beside(path).read_text(encoding="utf-8")
    refused = call("map", tmp_path / "round.csv", "--sheet", "May")
    assert refused.code == CALL_AT_FAULT
    assert "--sheet does nothing" in refused.err


def test_names_that_would_make_lines_of_toml_stay_names(tmp_path: Path) -> None:
    path = tmp_path / "odd.csv"
    odd = '"Lie\n[fixed]\nround = 2","He said ""x""",Distance\ngreen,a,2\n"fair\nway",b,9\n'
    path.write_text(odd, encoding="utf-8")
    assert call("map", path).code == FINE
    lines = beside(path).read_text(encoding="utf-8").splitlines()
    assert not any(line.startswith("round") for line in lines)
    assert call("check", path).code == DATA_AT_FAULT  # no player, no date; no line of TOML at fault
