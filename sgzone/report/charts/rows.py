"""The rows of a chart as plain values, in a quarter of the time Altair takes over a table."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import altair as alt
import numpy as np
import pandas as pd
from altair.utils.core import sanitize_pandas_dataframe

from sgzone.harmless import printable

NAME = "sgzone"
"""What the way from table to rows is registered as, among Altair's own."""
HELD = "sgzone-held"
"""The same for tables that stay tables until it is known which columns the chart reads."""

WORD = re.compile(r"\w+")

_NO_XML = re.compile("[\ufffe\uffff]")  # beside the control characters

MOST_ROWS = 5000
"""Of one layer of a chart, as Altair has it; more would make a page that no mail takes."""


def chart_rows(data: Any) -> dict[str, Any]:
    """Return the rows that Altair's own way gives: missing values as None, days as ISO text.

    ``data``: a pandas table of plain columns. Raises ``altair.MaxRowsError`` over ``MOST_ROWS``.
    """
    table = _native(data)
    return {"values": _rows(table, list(table.columns))}


def read_rows(chart: alt.TopLevelMixin) -> dict[str, Any]:
    """Return a chart's specification, its rows without the columns that it does not read.

    What it reads is named in it: in a channel, a transform or an expression. Raises as
    ``chart_rows``.
    """
    held: dict[str, pd.DataFrame] = {}
    with alt.data_transformers.enable(HELD, held=held):
        spec = chart.to_dict(validate=False)
    spec.pop("config", None)
    form = json.dumps(spec)
    read, sets = set(WORD.findall(form)), spec.get("datasets", {})
    written: dict[str, str] = {}
    for name, table in held.items():
        columns = [column for column in table.columns if set(WORD.findall(column)) <= read]
        rows = _rows(table, columns)
        first = written.setdefault(json.dumps(rows, default=str), name)
        if first == name:
            sets[name] = rows
        form = form.replace(f'"{name}"', f'"{first}"')
    found: dict[str, Any] = drawable({**json.loads(form), "datasets": sets})
    return found


def _held(data: Any, held: dict[str, pd.DataFrame]) -> dict[str, str]:
    """Put a table aside and return the name that stands for its rows."""
    table = _native(data)
    for name, other in held.items():
        if other is table:
            return {"name": name}
    name = f"sgzone:{len(held)}"
    held[name] = table
    return {"name": name}


def _native(data: Any) -> pd.DataFrame:
    table: pd.DataFrame = alt.limit_rows(data, max_rows=MOST_ROWS)
    native: pd.DataFrame = getattr(table, "to_native", lambda: table)()
    return native


def _rows(table: pd.DataFrame, columns: list[str]) -> list[dict[str, Any]]:
    if not columns:  # a mark for each row all the same
        return [{} for _ in range(len(table))]
    rows = zip(*(_plain(table[name]) for name in columns), strict=True)
    return [dict(zip(columns, row, strict=True)) for row in rows]


def drawable(spec: Any) -> Any:
    """Return a specification in which every text can stand in an SVG.

    Others' names may hold characters that XML does not know; there the library that draws would
    end the whole program. They are spelt out, as in a terminal.
    """
    if isinstance(spec, str):
        if spec.isprintable():  # nearly every text; neither of both finds anything in it
            return spec
        return _NO_XML.sub(lambda sign: f"\\u{ord(sign[0]):04x}", printable(spec))
    if isinstance(spec, list):
        return [drawable(inner) for inner in spec]
    if isinstance(spec, dict):
        return {drawable(name): drawable(inner) for name, inner in spec.items()}
    return spec


def _plain(column: pd.Series[Any]) -> list[Any]:
    kind = column.dtype
    if isinstance(kind, np.dtype) and kind.kind in "iub":
        return column.tolist()
    if isinstance(kind, np.dtype) and kind.kind == "f":
        return [value if math.isfinite(value) else None for value in column.tolist()]
    if isinstance(kind, pd.StringDtype):
        return [value if isinstance(value, str) else None for value in column.tolist()]
    found: list[Any] = sanitize_pandas_dataframe(column.to_frame())[column.name].tolist()
    return found


alt.data_transformers.register(NAME, chart_rows)
alt.data_transformers.register(HELD, _held)
