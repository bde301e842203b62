"""The named SQL steps of scoring, put together into one query.

The steps keep to what DuckDB and Spark both run unchanged: no ASOF, no QUALIFY, FLOOR before CAST,
bound values as ``$name``. Only a name in braces is filled in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib.resources import files

GAINED_COLUMNS = (
    *("player", "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band"),
    *("end_lie", "end_distance_yd", "penalty", "expected_before", "expected_after"),
    *("gained", "status"),
)
"""What every list of valued strokes holds; the select list of ``sql/listed.sql``."""


STORED_PLACES = {"start_here": "b.place = s.start_cell", "end_here": "e.place = s.end_cell"}
"""How strokes of the season file find their cells: by the number of the place, kept since load."""

WORDED_PLACES = {
    "start_here": "b.lie = s.lie AND b.cell = CAST(FLOOR(s.distance_ft) AS INTEGER)",
    "end_here": "e.lie = s.end_lie AND e.cell = CAST(FLOOR(s.end_distance_ft) AS INTEGER)",
}
"""How strokes of flat files find them, which carry no such number."""


def step(name: str) -> str:
    """Return the text of ``sql/<name>.sql``."""
    return files("sgzone.scoring").joinpath("sql", f"{name}.sql").read_text(encoding="utf-8")


def recipe(steps: Sequence[str], starts: str, places: Mapping[str, str] = STORED_PLACES) -> str:
    """Return the WITH clause of the steps in order; ``starts``: the step whose strokes are valued.

    ``places``: how a stroke finds its cells. ``{curve}`` is left for the caller: the table of
    cells that is joined.
    """
    filled = {"starts": starts, **places}
    return (
        "WITH "
        + ",\n".join(f"{name} AS (\n{_fill(step(name), filled)}\n)" for name in steps)
        + "\n"
    )


def _fill(text: str, words: Mapping[str, str]) -> str:
    for name, word in words.items():
        text = text.replace(f"{{{name}}}", word)
    return text
