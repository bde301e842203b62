"""The template loads as it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.cards.columns import names_of
from sgzone.cards.reader import read_table
from sgzone.cards.template import write_template
from sgzone.errors import CallError, DataError
from sgzone.season.reading import find_problems, read_card
from sgzone.season.store import open_store


@pytest.mark.parametrize("name", ["card.csv", "card.xlsx", "CARD.XLSX"])
def test_has_every_header_and_loads(name: str, tmp_path: Path) -> None:
    path = write_template(tmp_path / name)
    assert set(names_of("shot")) <= set(read_table(path).table.column_names)
    assert find_problems(path) == []
    card = read_card(path)
    assert card["distance_ft"].round(6).tolist() == [426.0, 42.0, 7.833333, 1.0]
    assert card["lie"].tolist() == ["tee", "sand", "green", "green"]
    with open_store() as store:
        assert store.load(path).rows == 4


def test_overwrites_nothing(tmp_path: Path) -> None:
    path = write_template(tmp_path / "card.csv")
    before = path.read_bytes()
    with pytest.raises(DataError, match="not overwritten"):
        write_template(path)
    assert path.read_bytes() == before


def test_other_endings_and_folders(tmp_path: Path) -> None:
    with pytest.raises(CallError, match="ends in"):
        write_template(tmp_path / "card.pdf")
    with pytest.raises(DataError, match="cannot be written"):
        write_template(tmp_path / "none" / "card.csv")
