"""The named SQL steps of scoring, put together into one query.

The steps keep to what DuckDB and Spark both run unchanged: no ASOF, no QUALIFY, FLOOR before CAST,
bound values as ``$name``. Only a name in braces is filled in.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files

GAINED_COLUMNS = (
    *("player", "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band"),
    *("end_lie", "end_distance_yd", "penalty", "expected_before", "expected_after"),
    *("gained", "status"),
)
"""What every list of valued strokes holds; the select list of ``sql/listed.sql``."""


def step(name: str) -> str:
    """Return the text of ``sql/<name>.sql``."""
    return files("sgzone.scoring").joinpath("sql", f"{name}.sql").read_text(encoding="utf-8")


def recipe(steps: Sequence[str], starts: str) -> str:
    """Return the WITH clause of the steps in order; ``starts``: the step whose strokes are valued.

    ``{curve}`` is left for the caller: the table of cells that is joined.
    """
    parts = [f"{name} AS (\n{step(name).replace('{starts}', starts)}\n)" for name in steps]
    return "WITH " + ",\n".join(parts) + "\n"
