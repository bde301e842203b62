"""Cards as people type them: each is read as its ``.read`` file says, value by value, or asked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest

from sgzone.cards.clock import VARIABLE
from sgzone.season.opening import connect
from tests.cards.typed.books import write_book
from tests.cards.typed.reading import as_read, given_of

CARDS = Path(__file__).parent / "cards"
TYPED = sorted(path for path in CARDS.iterdir() if path.suffix != ".read")
BOOKS = (".xlsx", ".ods")
"""A ``.book`` is written as a workbook of each kind, and is read the same from each."""
EACH = [
    (card, ending)
    for card in TYPED
    for ending in (BOOKS if card.suffix == ".book" else (card.suffix,))
]
TODAY = "2026-07-01"
OPTIONS = "given: "


@pytest.fixture(scope="module")
def connection() -> Iterator[duckdb.DuckDBPyConnection]:
    made = connect(None, read_only=False, create=True)
    yield made
    made.close()


def expected(card: Path) -> tuple[str, str]:
    """Return the options with which a card is read, and what is read."""
    text = card.with_name(card.name + ".read").read_text(encoding="utf-8")
    first, _, rest = text.partition("\n")
    return (first.removeprefix(OPTIONS), rest) if first.startswith(OPTIONS) else ("", text)


@pytest.mark.repeats
@pytest.mark.parametrize(("card", "ending"), EACH, ids=lambda it: getattr(it, "name", it))
def test_read_as_meant(
    card: Path,
    ending: str,
    tmp_path: Path,
    connection: duckdb.DuckDBPyConnection,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv(VARIABLE, TODAY)
    options, read = expected(card)
    if card.suffix == ".book":
        path = write_book(card.read_text(encoding="utf-8"), tmp_path / (card.stem + ending))
    else:
        path = tmp_path / card.name
        path.write_bytes(card.read_bytes())
    assert as_read(connection, path, given_of(options)) == read


def test_there_are_many_ways_to_write_a_card() -> None:
    asked = [card for card in TYPED if "\nask" in f"\n{expected(card)[1]}"]
    assert len(TYPED) >= 60
    assert len(asked) >= 20
    assert len({expected(card)[1].split("\n")[0].split(",")[0] for card in TYPED}) >= 4
