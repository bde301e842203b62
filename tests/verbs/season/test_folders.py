"""A folder instead of files: what is new loads, what is no card is told, a line for each file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sgzone.errors import CallError
from sgzone.verbs.season.folders import found_in
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, call, inside

CARD = (
    "player,date,hole,shot,lie,distance\nAda,2026-05-14,1,1,rough,40\nAda,2026-05-14,1,2,green,9\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    cards = tmp_path / "cards"
    (cards / "older").mkdir(parents=True)
    (cards / "a.csv").write_text(CARD)
    (cards / "b.CSV").write_text(CARD.replace("-14", "-15"))
    (cards / "older" / "c.csv").write_text(CARD.replace("-14", "-16"))
    for name in ("~$a.xlsx", ".~lock.a.csv#", ".hidden.csv", "_half.csv"):
        (cards / name).write_text("no card")
    for name in ("sgzone.duckdb", "sgzone.toml"):
        (cards / name).write_bytes(b"")  # ours, and no card
    (cards / "scan.jpg").write_bytes(b"\xff\xd8")
    return cards


def test_only_cards_are_found_in_their_order(folder: Path) -> None:
    found = found_in([folder, folder / "scan.jpg"])
    assert [file.name for file in found.files] == ["a.csv", "b.CSV", "scan.jpg"]
    assert {file.name for file in found.inside} == {"a.csv", "b.CSV"}
    assert found.passed == (
        "Not a card, passed over: scan.jpg.",
        "Folders inside are not looked into: older.",
    )


def test_the_mapping_of_a_card_is_no_card_and_no_news(folder: Path) -> None:
    (folder / "a.csv.map.toml").write_text("")
    (folder / "gone.csv.map.toml").write_text("")
    found = found_in([folder])
    assert [file.name for file in found.files] == ["a.csv", "b.CSV"]
    assert found.passed[0] == "Not a card, passed over: gone.csv.map.toml and scan.jpg."


def test_many_others_are_counted(folder: Path) -> None:
    for number in range(7):
        (folder / f"p{number}.png").write_bytes(b"")
    assert found_in([folder]).passed[0] == (
        "Not a card, passed over: p0.png, p1.png, p2.png, p3.png, p4.png and 3 more."
    )


def test_a_folder_without_a_card_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CallError, match="no card in this folder"):
        found_in([tmp_path])
    with inside(tmp_path):
        assert call("load", ".").code == CALL_AT_FAULT
        assert not Path("sgzone.duckdb").exists()


@pytest.mark.long
def test_what_is_new_loads_and_each_file_has_its_line(folder: Path) -> None:
    with inside(folder.parent):
        done = call("load", "cards")
        assert done.code == FINE
        assert done.err.splitlines()[-2:] == [
            "a.csv: shot card, 2 rows loaded",
            "b.CSV: shot card, 2 rows loaded",
        ]
        (folder / "c.csv").write_text(CARD.replace("-14", "-17"))
        (folder / "broken.csv").write_text(CARD.replace("rough", "trees"))
        done = call("load", "cards")
        assert done.code == DATA_AT_FAULT
        lines = [line for line in done.err.splitlines() if ".csv: " in line or ".CSV: " in line]
        assert [line.split(":")[0] for line in lines] == ["a.csv", "b.CSV", "broken.csv", "c.csv"]
        assert "are in the season file already" in lines[0]
        assert "nothing of this file was loaded" in lines[2]
        assert "2 rows loaded" in lines[3]
        assert "1 of 4 files not loaded" in done.err
        assert len(call("rounds", "--format", "json").json()) == 3


def test_check_of_a_folder(folder: Path) -> None:
    with inside(folder.parent):
        done = call("check", "cards")
        assert done.code == FINE
        assert done.err.splitlines() == [
            "Not a card, passed over: scan.jpg.",
            "Folders inside are not looked into: older.",
            "a.csv: 1 hole, 2 strokes, 1 putt on 14 May.",
            "b.CSV: 1 hole, 2 strokes, 1 putt on 15 May.",
            "2 files, no errors. Ready to load.",
        ]


def test_a_file_that_says_who_played_is_not_refused_for_the_answer(folder: Path) -> None:
    with inside(folder.parent):
        assert call("load", "cards/a.csv", "--as", "Bea").code == DATA_AT_FAULT
        assert call("load", "cards", "--as", "Bea").code == FINE
        players = {row["player"] for row in call("rounds", "--format", "json").json()}
        assert players == {"Ada"}


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every folder")
def test_a_folder_that_may_not_be_read(folder: Path) -> None:
    folder.chmod(0)
    try:
        done = call("load", folder)
    finally:
        folder.chmod(0o755)
    assert done.code == DATA_AT_FAULT
    assert "cannot be read" in done.err
