"""A text table to staged rows: typed, placed and ordered, with every rule applied."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from string import Formatter
from typing import Any

import duckdb
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.checks import RULES
from sgzone.cards.columns import KEYS, columns_of, names_of, nearest
from sgzone.cards.kinds import Rule, typed
from sgzone.cards.reader import EXTRA_PREFIX, TextTable
from sgzone.errors import MOST_OF_A_KIND, Problem, first_of_a_kind
from sgzone.season.steps import step_text
from sgzone.terms import LIE_ALIASES, LIES
from sgzone.units import FT_DECIMALS, FT_PER_YD, M_PER_FT, split_distance

BLANKS = " \t\r\n\u00a0\ufeff"
FINISH_SLACK_FT = 3.0  # common practice, no source: how far two honest paces may differ
FINISH_SLACK_SHARE = 0.2

_PLACE_VALUES = {
    "ft_per_yd": FT_PER_YD,
    "m_per_ft": M_PER_FT,
    "ft_decimals": FT_DECIMALS,
    "finish_slack_ft": FINISH_SLACK_FT,
    "finish_slack_share": FINISH_SLACK_SHARE,
}


def stage(connection: duckdb.DuckDBPyConnection, text: TextTable) -> None:
    """Make the temporary table ``staged``: one row per filled row of the file.

    Columns: ``source_row``, the text ``cell_<column>`` and the value of every column of the
    dictionary, ``extra`` (JSON), ``bad_key`` (the row's keys could not be read), ``prev_row``,
    and for a shot card its neighbours and its end.
    """
    table = _trimmed(text.table)
    inputs = {"text_table": table}
    steps = {"cells": _cells_query(text), "typed": _typed_query(text.kind)}
    values: dict[str, Any] = _extra_names(text)
    if text.kind == "shot":
        inputs |= {"aliases": _aliases(), "distances": _distances(table)}
        steps |= {"placed": step_text("place"), "ordered": step_text("order")}
        values |= _PLACE_VALUES
    else:
        steps["ordered"] = _keyed_query(text.kind)
    for name, table in inputs.items():
        connection.register(name, table)
    connection.execute(_one_table(steps, "staged"), values)
    for name in inputs:  # after an error the transaction is over, and they went with it
        connection.unregister(name)


def _one_table(steps: Mapping[str, str], name: str) -> str:
    """Return the statement that makes one table of steps, each of which reads those before it.

    The rows are wide: they are written once, not once per step.
    """
    named = ", ".join(f"{step} AS NOT MATERIALIZED (\n{sql}\n)" for step, sql in steps.items())
    return f"CREATE OR REPLACE TEMP TABLE {name} AS WITH {named} SELECT * FROM {list(steps)[-1]}"


def _trimmed(table: pa.Table) -> pa.Table:
    """Return the cells without blanks around them, null where nothing is left.

    Here and not in SQL, where it would be the longest part of a load.
    """
    nothing = pa.scalar(None, pa.string())
    columns = []
    for column in table.columns:
        if pa.types.is_string(column.type):
            plain = pc.utf8_trim(column, BLANKS)
            column = pc.if_else(pc.equal(plain, ""), nothing, plain)
        columns.append(column)
    return pa.table(columns, names=table.column_names)


def _cells_query(text: TextTable) -> str:
    there = set(text.table.column_names)
    cells = [
        f"{name if name in there else 'NULL::VARCHAR'} AS cell_{name}"
        for name in names_of(text.kind)
    ]
    filled = ", ".join(f"cell_{name}" for name in names_of(text.kind))
    pairs = ", ".join(f"$extra{i}, {EXTRA_PREFIX}{i}" for i in range(len(text.extra)))
    extra = f"nullif(json_merge_patch('{{}}', json_object({pairs}))::VARCHAR, '{{}}')"
    return (
        "SELECT * FROM (SELECT source_row, broken, "
        f"{', '.join(cells)}, {extra if text.extra else 'NULL::VARCHAR'} AS extra "
        f"FROM text_table) WHERE coalesce({filled}, extra) IS NOT NULL"
    )


def _extra_names(text: TextTable) -> dict[str, str]:
    return {f"extra{i}": name for i, name in enumerate(text.extra)}


def _typed_query(kind: str) -> str:
    values = ", ".join(f"{typed(column)} AS {column.name}" for column in columns_of(kind))
    return f"SELECT *, {values} FROM cells"


def _keyed_query(kind: str) -> str:
    keys = KEYS[kind]
    needed = [column.name for column in columns_of(kind) if column.name in keys and column.needed]
    bad = " OR ".join(f"{name} IS NULL" for name in needed)
    return (
        f"SELECT *, broken OR {bad} AS bad_key, lag(source_row) OVER "
        f"(PARTITION BY {', '.join(keys)} ORDER BY source_row) AS prev_row FROM typed"
    )


def _aliases() -> pa.Table:
    aliases = {lie: lie for lie in LIES} | LIE_ALIASES
    return pa.table({"word": list(aliases), "lie": list(aliases.values())})


def _distances(table: pa.Table) -> pa.Table:
    """Return the reading of each distinct distance cell; cells that are none are left out."""
    there = "distance" in table.column_names
    cells = pc.unique(table["distance"]).drop_null().to_pylist() if there else []
    read: dict[str, tuple[float, str | None]] = {}
    for cell in cells:
        with suppress(ValueError):  # the rules say what is wrong with it
            read[cell] = split_distance(cell)
    columns = {
        "cell": pa.array(list(read), pa.string()),
        "value": pa.array([value for value, _ in read.values()], pa.float64()),
        "unit": pa.array([unit for _, unit in read.values()], pa.string()),
    }
    return pa.table(columns)


def rule_problems(connection: duckdb.DuckDBPyConnection, text: TextTable) -> list[Problem]:
    """Return what the staged rows break, rule by rule, the first of each and a count of the rest.

    Where the file lacks a needed column, its cells and the order of its holes are not judged.
    """
    rules = _rules_for(text)
    counts = ", ".join(f"count(*) FILTER (WHERE {rule.condition})" for rule in rules)
    row = connection.execute(f"SELECT {counts} FROM staged").fetchone()
    assert row is not None
    broken = [rule for rule, count in zip(rules, row, strict=True) if count]
    return [problem for rule in broken for problem in _problems_of(connection, text.file, rule)]


def _rules_for(text: TextTable) -> list[Rule]:
    there = set(text.table.column_names)
    complete = all(c.name in there for c in columns_of(text.kind) if c.needed)
    return [
        rule
        for rule in RULES[text.kind]
        if (complete if rule.scope == "hole" else rule.column in there)
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
    cell = f"cell_{rule.column}"
    first = f" QUALIFY row_number() OVER (PARTITION BY {cell} ORDER BY source_row) = 1"
    faulty = (
        f"SELECT {', '.join(['source_row', cell, *named])} FROM staged "
        f"WHERE {rule.condition}{first if rule.once else ''}"
    )
    rows = connection.execute(f"{faulty} ORDER BY source_row LIMIT {MOST_OF_A_KIND + 1}").fetchall()
    total = len(rows)
    if total > MOST_OF_A_KIND:
        (total,) = connection.execute(f"SELECT count(*) FROM ({faulty})").fetchall()[0]
    found = (
        _problem(file, rule, row[0], row[1] or "", dict(zip(named, row[2:], strict=True)))
        for row in rows
    )
    return first_of_a_kind(found, total)


def _problem(file: str, rule: Rule, row: int, cell: str, named: dict[str, Any]) -> Problem:
    guess = nearest(cell, rule.words) if rule.words else None
    named["guess"] = f' Did you mean "{guess}"?' if guess else ""
    wrong, fix = rule.wrong.format(**named), rule.fix.format(**named)
    return Problem(file, row, rule.column, cell, wrong, fix, rule.severity)
