"""A text table to staged rows: typed, placed and ordered, with every rule applied."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from string import Formatter
from typing import Any

import duckdb
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.columns import columns_of, names_of, nearest
from sgzone.cards.finish import FINISH
from sgzone.cards.reader import EXTRA_PREFIX, TextTable
from sgzone.cards.rules import MOST_ASKED, Rule, instead_of_a_value
from sgzone.cards.tables import TABLE
from sgzone.errors import MOST_OF_A_KIND, Problem, first_of_a_kind
from sgzone.season.coding import DISTANCE_VALUES, coded, filled, read_cells
from sgzone.season.neighbours import in_order_of_play
from sgzone.season.steps import step_text
from sgzone.terms import EVERY_LIE, FINISH_SLACK_FT, FINISH_SLACK_SHARE
from sgzone.units import FT_DECIMALS, FT_PER_YD, M_PER_FT

_PLACE_VALUES = {
    **{"ft_per_yd": FT_PER_YD, "m_per_ft": M_PER_FT, "ft_decimals": FT_DECIMALS},
    "feet_lies": [lie.name for lie in EVERY_LIE if lie.bare_unit == "ft"],
    "yard_lies": [lie.name for lie in EVERY_LIE if lie.bare_unit == "yd"],
}
_PLACED_FROM = (
    "position",
    "source_row",
    "broken",
    *TABLE["shot"].key,
    "hole",
    "shot",
    "lie",
    "to_lie",
    "cell_unit",
    "unit",
)
"""What ``sql/place.sql`` reads, beside the distances."""
_NO_FINISH = {"to_unit": pa.string(), "to_end": pa.string(), "to_ft": pa.float64()}
_FINISH_VALUES = {"finish_slack_ft": FINISH_SLACK_FT, "finish_slack_share": FINISH_SLACK_SHARE}


@dataclass(frozen=True, slots=True)
class Staged:
    """What was staged: how many rows, the players they name, the rules their texts may break.

    ``suspects``: those of the rules on single cells that some text of the file breaks; no row
    breaks another.
    """

    rows: int
    players: frozenset[str]
    suspects: frozenset[Rule]


def stage(connection: duckdb.DuckDBPyConnection, text: TextTable) -> Staged:
    """Make the view ``staged``: one row per filled row of the file.

    Columns: ``source_row``, the text ``cell_<column>`` and the value of every column of the
    dictionary, ``extra`` (JSON), ``bad_key`` (the row's keys could not be read), ``prev_row``,
    and for a shot card its neighbours and its end. A card's rows stand in the order of play.
    """
    batch, broken = _rows_read(connection, text)
    read = pa.table(batch)
    if text.kind == "shot":
        read = read.append_column("position", pa.array(range(len(read)), pa.int32()))
        read = read.select([*_PLACED_FROM, *DISTANCE_VALUES])
    connection.register("rows_read", read)
    if text.kind == "shot":
        for name, column in _placed(connection, len(batch), text).items():
            batch = batch.append_column(name, column)
        table, query = pa.table(in_order_of_play(batch)), _finish_query()
    else:
        table = connection.sql(_keyed_query(text.kind)).to_arrow_table()
        query = "SELECT * FROM rows_in_order"
    connection.unregister("rows_read")
    connection.register("rows_in_order", table)
    connection.execute(f"CREATE OR REPLACE TEMP VIEW staged AS {query}")
    players = batch["player"].dictionary.drop_null().to_pylist()
    return Staged(table.num_rows, frozenset(players), frozenset(broken))


def _placed(
    connection: duckdb.DuckDBPyConnection, rows: int, text: TextTable
) -> dict[str, pa.Array]:
    """Return what is worked out of each row alone; of finishes only where the file has any."""
    found: dict[str, pa.Array] = {}
    steps = ["place"]
    if FINISH & set(text.table.column_names):
        steps.append("place_finish")
    else:
        found |= {name: pa.nulls(rows, kind) for name, kind in _NO_FINISH.items()}
    for step in steps:
        placed = connection.sql(step_text(step), params=_PLACE_VALUES).to_arrow_table()
        found |= {name: placed[name].combine_chunks() for name in placed.column_names}
    return found


def unstage(connection: duckdb.DuckDBPyConnection) -> None:
    """Give the memory of the staged rows back."""
    connection.execute("DROP VIEW IF EXISTS fresh")
    connection.execute("DROP VIEW staged")
    connection.unregister("rows_in_order")


def _rows_read(
    connection: duckdb.DuckDBPyConnection, text: TextTable
) -> tuple[pa.RecordBatch, set[Rule]]:
    """Return the filled rows, every cell read, and the rules on single cells that are broken."""
    rows, there = text.table.num_rows, set(text.table.column_names)
    columns = {
        name: coded(text.table[name].combine_chunks() if name in there else None, rows)
        for name in names_of(text.kind)
    }
    alone = [rule for rule in _rules_for(text) if rule.alone]
    values, broken = read_cells(connection, text.kind, columns, alone)
    arrays = {name: text.table[name].combine_chunks() for name in ("source_row", "broken")}
    arrays |= {f"cell_{name}": column.spread(column.cells) for name, column in columns.items()}
    for name, value in values.items():
        arrays[name] = columns[DISTANCE_VALUES.get(name, name)].spread(value)
    arrays["extra"] = extra = _extra(connection, text)
    batch = pa.RecordBatch.from_pydict(arrays)
    if (mask := filled(list(columns.values()), rows)) is not None:
        batch = batch.filter(pc.or_(mask, extra.is_valid()))
    return batch, broken


def _extra(connection: duckdb.DuckDBPyConnection, text: TextTable) -> pa.Array:
    """Return the cells of unknown columns as one JSON object per row, null where all are blank."""
    rows = text.table.num_rows
    if not text.extra:
        return pa.nulls(rows, pa.string())
    names = [f"{EXTRA_PREFIX}{i}" for i in range(len(text.extra))]
    cells = [coded(text.table[name].combine_chunks(), rows) for name in names]
    table = pa.table([cell.spread(cell.cells) for cell in cells], names=names)
    connection.register(
        "extras", table.append_column("position", pa.array(range(rows), pa.int32()))
    )
    pairs = ", ".join(f"$extra{i}, {name}" for i, name in enumerate(names))
    found = connection.sql(
        f"SELECT nullif(json_merge_patch('{{}}', json_object({pairs}))::VARCHAR, '{{}}') AS extra "
        "FROM extras ORDER BY position",
        params={f"extra{i}": header for i, header in enumerate(text.extra)},
    ).to_arrow_table()
    connection.unregister("extras")
    return found["extra"].combine_chunks()


def _finish_query() -> str:
    """Return the query of the view of a card; a view has no bound values."""
    query = step_text("finish")
    for name, value in _FINISH_VALUES.items():
        query = query.replace(f"${name}", f"{value!r}::DOUBLE")
    return query


def _keyed_query(kind: str) -> str:
    keys = TABLE[kind].key
    needed = [column.name for column in columns_of(kind) if column.name in keys and column.needed]
    bad = " OR ".join(f"{name} IS NULL" for name in needed)
    return (
        f"SELECT *, broken OR {bad} AS bad_key, lag(source_row) OVER "
        f"(PARTITION BY {', '.join(keys)} ORDER BY source_row) AS prev_row FROM rows_read"
    )


def rule_problems(
    connection: duckdb.DuckDBPyConnection, text: TextTable, suspects: Set[Rule]
) -> list[Problem]:
    """Return what the staged rows break, rule by rule, the first of each and a count of the rest.

    Where the file lacks a needed column, its cells and the order of its holes are not judged.
    Of the rules on single cells only the ``suspects`` of ``stage`` can be broken.
    """
    rules = [rule for rule in _rules_for(text) if not rule.alone or rule in suspects]
    if not rules:
        return []
    counts = ", ".join(f"count(*) FILTER (WHERE {rule.condition})" for rule in rules)
    row = connection.execute(f"SELECT {counts} FROM staged").fetchone()
    assert row is not None
    broken = [rule for rule, count in zip(rules, row, strict=True) if count]
    return [problem for rule in broken for problem in _problems_of(connection, text.file, rule)]


def _rules_for(text: TextTable) -> list[Rule]:
    there = set(text.table.column_names)
    complete = all(c.name in there for c in columns_of(text.kind) if c.needed)
    unasked = set() if there & FINISH else FINISH  # no row can break what none says
    return [
        rule
        for rule in TABLE[text.kind].rules
        if (
            complete and rule.column not in unasked
            if rule.scope == "hole"
            else rule.column in there
        )
    ]


def _problems_of(connection: duckdb.DuckDBPyConnection, file: str, rule: Rule) -> list[Problem]:
    named = sorted(
        {
            name
            for part in (rule.wrong, rule.fix)
            for _, name, _, _ in Formatter().parse(part)
            if name and name != "guess"
        }
    )
    asked = [f"getvariable('{n}') AS {n}" if n == "today" else n for n in named]
    cell = f"cell_{rule.column}"
    first = f" QUALIFY row_number() OVER (PARTITION BY {cell} ORDER BY source_row) = 1"
    faulty = (
        f"SELECT {', '.join(['source_row', cell, *asked])} FROM staged "
        f"WHERE {rule.condition}{first if rule.once else ''}"
    )
    rows = connection.execute(f"{faulty} ORDER BY source_row LIMIT {MOST_OF_A_KIND + 1}").fetchall()
    total = len(rows)
    if total > MOST_OF_A_KIND:
        (total,) = connection.execute(f"SELECT count(*) FROM ({faulty})").fetchall()[0]
    if rule.together and total > MOST_ASKED:
        wrong = rule.together.format(total=total)
        return [Problem(file, rows[0][0], rule.column, "", wrong, rule.fix_together, rule.severity)]
    found = (
        _problem(file, rule, row[0], row[1] or "", dict(zip(named, row[2:], strict=True)))
        for row in rows
    )
    return first_of_a_kind(found, total)


def _problem(file: str, rule: Rule, row: int, cell: str, named: dict[str, Any]) -> Problem:
    guess = nearest(cell, rule.words) if rule.words else None
    named["guess"] = f' Did you mean "{guess}"?' if guess else ""
    said = instead_of_a_value(cell) if rule.severity == "error" else None
    wrong, fix = said or (rule.wrong.format(**named), rule.fix.format(**named))
    return Problem(file, row, rule.column, cell, wrong, fix, rule.severity)
