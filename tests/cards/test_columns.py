"""The data dictionary and the season file's schema name the same columns."""

from __future__ import annotations

import pytest

from sgzone.cards.columns import columns_of, names_of, nearest
from sgzone.cards.rules import quoted
from sgzone.cards.tables import TABLE, kind_of
from sgzone.season.store import open_store
from sgzone.terms import HOLED, LIES, PART_NAMES


@pytest.mark.parametrize("kind", TABLE)
def test_every_column_is_stored(kind: str) -> None:
    with open_store() as store:
        stored = set(store.frame(f"SELECT * FROM {TABLE[kind].stored_in}").columns)
    names = set(names_of(kind))
    if kind == "shot":
        ends = {"distance_ft", "end_lie", "end_distance_ft"}
        names = names - {"distance", "unit", "to_lie", "to_distance"} | ends
    assert names <= stored
    assert set(TABLE[kind].key) <= names


def test_the_dictionary_is_whole() -> None:
    for kind in TABLE:
        for column in columns_of(kind):
            assert column.meaning
            assert bool(column.words) == (column.kind in ("word", "words"))
            if column.kind in ("integer", "number"):
                assert column.low is not None
                assert column.high is not None
                assert column.low < column.high


def test_a_card_knows_every_lie_and_part() -> None:
    words = {(table, c.name): c.words for table in ("shot", "log") for c in columns_of(table)}
    assert words["shot", "lie"] == LIES
    assert words["shot", "to_lie"] == (*LIES, HOLED)
    assert words["log", "part"] == PART_NAMES


def test_kind_and_nearest() -> None:
    assert kind_of(["player", "minutes"]) == "log"
    assert kind_of(["player"]) is None
    assert nearest("distence", names_of("shot")) == "distance"
    assert nearest("mood", names_of("shot")) is None
    assert quoted("it's") == "'it''s'"
