"""The page on mappings: its table is guessed as it shows, and with its lines the table loads."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from sgzone.cards.mapping.reading import KEYS
from sgzone.cards.mapping.write import write_mapping
from sgzone.season.reading import find_problems, read_card
from tests.docs.pages import ROOT, fences

PAGE = (ROOT / "docs" / "mapping.md").read_text(encoding="utf-8")
[TABLE] = fences(PAGE, "csv")
GUESS, LINES, POSITIONS = fences(PAGE, "toml")


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "runde.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def test_the_guess_is_the_one_on_the_page(table: Path) -> None:
    target, _ = write_mapping(table)
    assert target.read_text(encoding="utf-8") == GUESS


def test_with_the_lines_of_the_page_the_table_is_a_card(table: Path) -> None:
    target, _ = write_mapping(table)
    result, lie, *rest = (line for line in LINES.splitlines() if line)
    text = GUESS.replace('# ? = "Ende"', result.split("#")[0])
    kept = [line for line in text.splitlines() if "kurzes Gras" not in line]
    at = kept.index("[words.lie]") + 1
    kept[at:at] = [lie.split("#")[0]]
    whole = "\n".join([*kept[: kept.index("[fixed]")], *rest])
    target.write_text(whole, encoding="utf-8")
    assert [p for p in find_problems(table) if p.severity == "error"] == []
    card = read_card(table)
    assert card["lie"].tolist()[:4] == ["fairway", "green", "green", "tee"]
    assert card["distance_ft"].round(2).tolist()[:2] == [336.29, 18.04]  # 102.5 m, 5.5 m
    assert set(card["player"]) == {"Ned Farrow"}
    assert card["result"].tolist()[2] == "holed"


def test_the_table_of_keys_names_every_key() -> None:
    for key in KEYS:
        assert f"| `{key}` |" in PAGE or f"| `[{key}]` |" in PAGE or f"| `[{key}.lie]` |" in PAGE


def test_the_positions_of_the_page_are_toml() -> None:
    assert set(tomllib.loads(POSITIONS)) <= set(KEYS)
