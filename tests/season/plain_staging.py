"""Staging said plainly, to hold the quick one to: one wide table, each cell read where it stands.

Every row is typed by itself, every rule looks at every row, and the neighbours come from windows.
"""

from __future__ import annotations

from contextlib import suppress

import duckdb
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.reader import TextTable
from sgzone.cards.rules import typed
from sgzone.cards.shot_rules import SHOT_RULES
from sgzone.errors import Problem
from sgzone.season.coding import BLANKS
from sgzone.season.staging import rule_problems
from sgzone.terms import FINISH_SLACK_FT, FINISH_SLACK_SHARE, LIE_ALIASES, LIES
from sgzone.units import FT_DECIMALS, FT_PER_YD, M_PER_FT, split_distance

NEIGHBOURS = (
    *("prev_row", "prev_shot", "prev_lie", "prev_penalty", "prev_bad_before"),
    *("next_row", "next_shot", "next_lie", "next_distance_ft"),
    *("prev_par", "prev_event", "prev_course", "to_end", "to_ft"),
    *("result", "played", "end_lie", "end_ft", "finish_ft", "finish_gap_ft", "finish_slack_ft"),
)
"""What no one asks of a row whose keys could not be read."""

_ORDERED = r"""
WITH placed AS (
    SELECT *, broken OR player IS NULL OR date IS NULL OR round IS NULL OR hole IS NULL
            OR shot IS NULL AS bad_key,
        round(CASE distance_unit
            WHEN 'ft' THEN distance_value
            WHEN 'yd' THEN distance_value * $ft_per_yd
            WHEN 'm' THEN distance_value / $m_per_ft
        END, $ft_decimals) AS distance_ft,
        CASE WHEN to_value = 0 THEN 'holed' ELSE to_lie END AS to_end,
        CASE WHEN to_value = 0 OR (to_value IS NULL AND to_lie = 'holed') THEN 0
            WHEN to_unit = 'ft' THEN round(to_value, $ft_decimals)
            WHEN to_unit = 'yd' THEN round(to_value * $ft_per_yd, $ft_decimals)
            WHEN to_unit = 'm' THEN round(to_value / $m_per_ft, $ft_decimals)
        END AS to_ft
    FROM (
        SELECT typed.* EXCLUDE (lie, distance, to_lie, to_distance), aliases.lie,
            distances.value AS distance_value,
            coalesce(of_end.lie, CASE WHEN lower(cell_to_lie) = 'holed' THEN 'holed' END) AS to_lie,
            tos.value AS to_value, tos.unit AS to_written_unit,
            CASE
                WHEN tos.unit IS NOT NULL THEN tos.unit
                WHEN of_end.lie = 'green' THEN 'ft'
                WHEN of_end.lie <> 'fringe' THEN 'yd'
                WHEN cell_unit IS NOT NULL THEN typed.unit
            END AS to_unit,
            CASE
                WHEN distances.unit IS NOT NULL THEN distances.unit
                WHEN cell_unit IS NOT NULL THEN typed.unit
                WHEN aliases.lie = 'green' THEN 'ft'
                WHEN aliases.lie <> 'fringe' THEN 'yd'
            END AS distance_unit
        FROM typed
        LEFT JOIN aliases ON aliases.word = regexp_replace(lower(cell_lie), '[\s_]+', ' ', 'g')
        LEFT JOIN distances ON distances.cell = cell_distance
        LEFT JOIN distances AS tos ON tos.cell = cell_to_distance
        LEFT JOIN aliases AS of_end
            ON of_end.word = regexp_replace(lower(cell_to_lie), '[\s_]+', ' ', 'g')
    )
),
in_file AS (
    SELECT *, (sum(bad_key::INTEGER) OVER file_rows)::INTEGER AS bad_before,
        coalesce(lag(bad_key) OVER file_rows, FALSE)
            OR coalesce(lead(bad_key) OVER file_rows, FALSE) AS beside_bad
    FROM placed
    WINDOW file_rows AS (ORDER BY source_row)
),
ordered AS (
    SELECT *,
        lag(source_row) OVER hole_rows AS prev_row,
        lag(shot) OVER hole_rows AS prev_shot,
        lag(lie) OVER hole_rows AS prev_lie,
        lag(penalty) OVER hole_rows AS prev_penalty,
        lag(bad_before) OVER hole_rows AS prev_bad_before,
        lead(source_row) OVER hole_rows AS next_row,
        lead(shot) OVER hole_rows AS next_shot,
        lead(lie) OVER hole_rows AS next_lie,
        lead(distance_ft) OVER hole_rows AS next_distance_ft,
        lag(par IGNORE NULLS) OVER hole_rows AS prev_par,
        lag(event IGNORE NULLS) OVER round_rows AS prev_event,
        lag(course IGNORE NULLS) OVER round_rows AS prev_course
    FROM in_file
    WINDOW
        hole_rows AS (PARTITION BY bad_key, player, date, round, hole ORDER BY shot, source_row),
        round_rows AS (PARTITION BY bad_key, player, date, round ORDER BY hole, shot, source_row)
),
ended AS (
    SELECT * EXCLUDE (result),
        CASE
            WHEN next_row IS NULL AND cell_result IS NULL AND (to_end = 'holed'
                OR (cell_to_lie IS NULL AND cell_to_distance IS NULL)) THEN 'holed'
            ELSE result
        END AS result
    FROM ordered
),
finished AS (
    SELECT *,
        result IS NULL OR result = 'holed' AS played,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 'holed'
            WHEN next_row IS NULL AND result IS NULL THEN to_end
            WHEN next_distance_ft IS NOT NULL THEN next_lie
        END AS end_lie,
        CASE
            WHEN next_row IS NULL AND result = 'holed' THEN 0
            WHEN next_row IS NULL AND result IS NULL THEN to_ft
            WHEN next_lie IS NOT NULL THEN next_distance_ft
        END AS end_ft,
        CASE
            WHEN depth_ft IS NOT NULL AND side_ft IS NOT NULL THEN sqrt(depth_ft ^ 2 + side_ft ^ 2)
            ELSE greatest(abs(depth_ft), abs(side_ft))
        END AS finish_ft
    FROM ended
)
SELECT *,
    CASE
        WHEN depth_ft IS NOT NULL AND side_ft IS NOT NULL THEN abs(finish_ft - end_ft)
        ELSE finish_ft - end_ft
    END AS finish_gap_ft,
    greatest($slack_ft, $slack_share * greatest(finish_ft, end_ft)) AS finish_slack_ft
FROM finished
"""


def plain_problems(connection: duckdb.DuckDBPyConnection, text: TextTable) -> list[Problem]:
    """Stage a card the plain way, as ``staged``, and return what its rows break."""
    _stage(connection, text)
    return rule_problems(connection, text, set(SHOT_RULES))


def _stage(connection: duckdb.DuckDBPyConnection, text: TextTable) -> None:
    aliases = {lie: lie for lie in LIES} | LIE_ALIASES
    inputs = {
        "cells": _cells(connection, text),
        "aliases": pa.table({"word": list(aliases), "lie": list(aliases.values())}),
    }
    inputs["distances"] = _distances(inputs["cells"])
    for name, table in inputs.items():
        connection.register(name, table)
    values = ", ".join(f"{typed(column)} AS {column.name}" for column in columns_of("shot"))
    connection.execute(f"CREATE OR REPLACE TEMP TABLE typed AS SELECT *, {values} FROM cells")
    connection.execute(
        f"CREATE OR REPLACE TEMP TABLE staged AS {_ORDERED}",
        {
            "ft_per_yd": FT_PER_YD,
            "m_per_ft": M_PER_FT,
            "ft_decimals": FT_DECIMALS,
            "slack_ft": FINISH_SLACK_FT,
            "slack_share": FINISH_SLACK_SHARE,
        },
    )


def _cells(connection: duckdb.DuckDBPyConnection, text: TextTable) -> pa.Table:
    """Return the trimmed cells of the filled rows, as plain text."""
    columns = {}
    for name in text.table.column_names:
        column = text.table[name]
        if name not in ("source_row", "broken"):
            column = pc.utf8_trim(column.cast(pa.string()), BLANKS)
            column = pc.if_else(pc.equal(column, ""), pa.scalar(None, pa.string()), column)
        columns[name] = column
    connection.register("text_table", pa.table(columns))
    names = names_of("shot")
    cells = [f"{name if name in columns else 'NULL::VARCHAR'} AS cell_{name}" for name in names]
    pairs = ", ".join(f"$extra{i}, x{i}" for i in range(len(text.extra)))
    extra = f"nullif(json_merge_patch('{{}}', json_object({pairs}))::VARCHAR, '{{}}')"
    return connection.sql(
        f"FROM (SELECT source_row, broken, {', '.join(cells)}, "
        f"{extra if text.extra else 'NULL::VARCHAR'} AS extra FROM text_table) "
        f"WHERE coalesce({', '.join(f'cell_{name}' for name in names)}, extra) IS NOT NULL",
        params={f"extra{i}": header for i, header in enumerate(text.extra)},
    ).to_arrow_table()


def _distances(cells: pa.Table) -> pa.Table:
    read: dict[str, tuple[float, str | None]] = {}
    texts = pa.chunked_array([*cells["cell_distance"].chunks, *cells["cell_to_distance"].chunks])
    for cell in pc.unique(texts).drop_null().to_pylist():
        with suppress(ValueError):
            read[cell] = split_distance(cell)
    return pa.table(
        {
            "cell": pa.array(list(read), pa.string()),
            "value": pa.array([value for value, _ in read.values()], pa.float64()),
            "unit": pa.array([unit for _, unit in read.values()], pa.string()),
        }
    )
