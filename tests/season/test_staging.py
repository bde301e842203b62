"""Texts judged once and rows compared by arrays: what is found is what plain staging finds."""

from __future__ import annotations

import os
import tempfile
from functools import cache
from itertools import pairwise, product
from pathlib import Path
from random import Random
from typing import Any

import duckdb
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.cards.clock import today
from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.reader import TextTable, read_table
from sgzone.cards.tables import TABLE
from sgzone.errors import DataError, Problem
from sgzone.season import coding
from sgzone.season.coding import DISTANCES, coded, filled
from sgzone.season.opening import connect
from sgzone.season.staging import rule_problems, stage
from sgzone.season.store import open_store
from tests.hard.hostile import NEARLY, Table, plain_tables, spoiled_tables
from tests.season.cardfiles import HEADER, cells_text, write
from tests.season.plain_staging import NEIGHBOURS, plain_problems

CARDS = int(os.environ.get("SGZONE_FUZZ", "12"))

_read = (name for name in names_of("shot") if name not in ("distance", "to_distance", "result"))
_cells = (f"cell_{name}" for name in names_of("shot"))
ALWAYS = (
    *("source_row", "broken", "bad_key", "bad_before", "beside_bad", "extra"),
    *("distance_value", "distance_unit", "distance_ft", "to_value", "to_written_unit", "to_unit"),
    *_read,
    *_cells,
)


def text_of(written: str) -> TextTable | None:
    """Read a card as a file; None where it cannot be read as a table at all."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            return read_table(write(Path(folder), written))
        except DataError:
            return None


def staged(connection: duckdb.DuckDBPyConnection) -> list[tuple[Any, ...]]:
    """Every row that a step after the staging may read, in file order."""
    beside = (f"CASE WHEN NOT bad_key THEN {name} END AS {name}" for name in NEIGHBOURS)
    query = f"SELECT {', '.join((*ALWAYS, *beside))} FROM staged ORDER BY source_row"
    return connection.execute(query).fetchall()


@cache
def memory(way: str) -> duckdb.DuckDBPyConnection:
    """Return the season file in memory of one way: what it stages replaces what stood there."""
    connection = connect(None, read_only=False, create=True)
    connection.execute(f"SET VARIABLE today = DATE '{today()}'")
    return connection


def both(text: TextTable) -> list[tuple[list[Problem], list[tuple[Any, ...]]]]:
    quick, plain = memory("quick"), memory("plain")
    found = [(rule_problems(quick, text, stage(quick, text).suspects), staged(quick))]
    return [*found, (plain_problems(plain, text), staged(plain))]


def agree(written: str) -> list[Problem]:
    text = text_of(written)
    if text is None or text.kind != "shot":
        return []
    quick, plain = both(text)
    assert quick[0] == plain[0]
    for one, other in zip(quick[1], plain[1], strict=True):
        assert one == other
    return plain[0]


@settings(max_examples=CARDS // 4)
@given(table=plain_tables(), newline=st.sampled_from(["\n", "\r\n"]))
def test_valid_cards(table: Table, newline: str) -> None:
    assert not [found for found in agree(table.csv(newline=newline)) if found.severity == "error"]


@pytest.mark.long
@settings(max_examples=CARDS)
@given(table=spoiled_tables(), delimiter=st.sampled_from([",", ";", "\t"]))
def test_spoiled_cards(table: Table, delimiter: str) -> None:
    agree(table.csv(delimiter))


@pytest.mark.long
@settings(max_examples=CARDS)
@given(table=plain_tables(), chance=st.randoms(use_true_random=False))
def test_cards_with_every_column_in_any_order(table: Table, chance: Random) -> None:
    """Every optional column has cells; some are good, some nearly, some are blank."""
    header, *rows = (row for row in table.rows if row)
    more = [name for name in names_of("shot") if name not in header]
    cells = ("", "", "", "", *NEARLY, "full", "into", "52", "4", "two words")
    pool = Random(chance.getrandbits(32))
    whole = [(*row, *pool.choices(cells, k=len(more))) for row in pool.sample(rows, len(rows))]
    agree(Table(((*header, *more), *whole)).csv())


def test_a_card_that_breaks_many_rules() -> None:
    """So that agreement is not that of two who find nothing."""
    rows = (
        *("Ada,2026-05-14,1,1,fairway,100,0,", "Ada,2026-05-14,1,3,green,250,9,holed"),
        *("Ada,14/05/2026,2,1,trees,87,,", "Ada,2026-05-14,2,2,gren,7'13\",x,"),
        *("Ada,2026-05-14,3,2,green,40 ft,,", ",2026-05-14,3,3,rough,-4,0,hold"),
    )
    found = agree("\n".join([HEADER, *rows]) + "\n")
    assert len({problem.wrong for problem in found}) > 9


def test_columns_of_many_texts_are_read_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(coding, "_FEW", 2)
    rows = [f"Ada,2026-05-14,{hole},1,green,{hole}.5 ft,{hole % 5},holed" for hole in range(1, 30)]
    found = agree("\n".join([HEADER, *rows]) + "\n")
    assert {problem.column for problem in found} == {"penalty"}


@pytest.mark.parametrize("number", [5, 200, 40_000])
def test_codes_are_as_narrow_as_the_texts_allow(number: int) -> None:
    texts = [f" {i}" if i % 3 else f"{i}\t" for i in range(number)]
    column = coded(pa.array([*texts, "", None, "0"]), number + 3)
    assert column.spread(column.cells).to_pylist() == [*map(str, range(number)), None, None, "0"]
    assert column.codes.type.bit_width == {5: 8, 200: 16, 40_000: 32}[number]
    assert len(column.cells) == number + 1


def test_rows_without_any_text() -> None:
    one = coded(pa.array(["a", " ", None]), 3)
    other = coded(pa.array([None, " ", "b"]), 3)
    assert filled([one], 3).to_pylist() == [True, False, False]
    assert filled([one, other], 3).to_pylist() == [True, False, True]
    assert filled([coded(pa.array(["a", "b", "b"]), 3), one], 3) is None


@pytest.mark.parametrize("kind", TABLE)
def test_a_rule_that_stands_alone_looks_at_its_own_column_only(kind: str) -> None:
    """Texts of many columns are judged side by side: another column's would be a wrong one."""
    alone = [rule for rule in TABLE[kind].rules if rule.alone]
    assert len(alone) > 9
    types = {"integer": "INTEGER", "number": "DOUBLE", "date": "DATE"}
    kinds = {column.name: types.get(column.kind, "VARCHAR") for column in columns_of(kind)}
    with duckdb.connect() as connection:
        for rule in alone:
            name = rule.column
            own = f"NULL::VARCHAR AS cell_{name}, NULL::{kinds[name]} AS {name}"
            for value in DISTANCES.get(name, ()):
                own += f", NULL::{'VARCHAR' if 'unit' in value else 'DOUBLE'} AS {value}"
            connection.execute(f"SELECT count(*) FROM (SELECT {own}) WHERE {rule.where}")


ENDS = {1: "", 2: "holed"}


def test_a_shuffled_file_is_stored_in_the_order_of_play(tmp_path: Path) -> None:
    places = product((2, 1), (11, 2), (9, 10), enumerate(("Zoë", "Ada", "ben")))
    rows = [
        {
            **{"player": player, "date": f"2026-05-{day:02}", "hole": f"{hole}", "shot": f"{shot}"},
            **{"lie": "green", "distance": f"{9 - shot}.{i} ft", "result": ENDS[shot]},
        }
        for shot, hole, day, (i, player) in places
    ]
    with open_store() as store:
        store.load(write(tmp_path, cells_text(rows)))
        stored = store.frame(
            "SELECT player, date, hole, shot, round_key, hole_key FROM strokes ORDER BY rowid"
        )
    order = ["player", "date", "hole", "shot"]
    assert stored[order].equals(stored[order].sort_values(order, ignore_index=True))
    keys = list(zip(stored["round_key"], stored["hole_key"], strict=True))
    assert all(here <= there for here, there in pairwise(keys))
    assert (len({r for r, _ in keys}), len({h for _, h in keys})) == (6, 12)
