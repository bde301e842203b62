"""The named SQL steps of scoring, put together into one query.

The steps keep to what DuckDB and Spark both run unchanged: no ASOF, no QUALIFY, FLOOR before CAST,
bound values as ``$name``. Only a name in braces is filled in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from sgzone.resources import sql
from sgzone.scoring.places import WORDS

GAINED_COLUMNS = (
    *("player", "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band"),
    *("end_lie", "end_distance_yd", "penalty", "expected_before", "expected_after"),
    *("gained", "status"),
)
"""What every list of valued strokes holds; the select list of ``sql/listed.sql``."""


step = partial(sql, "scoring")
"""Return the text of ``sql/<name>.sql``."""

MONTH = "SUBSTRING(CAST(date AS STRING), 1, 7) AS month"
"""The month of a stroke, such as 2026-05."""

STORED_PLACES = {"start_here": "b.place = s.start_cell", "end_here": "e.place = s.end_cell"}
"""How strokes of the season file find their cells: by the number of the place, kept since load."""

WORDED_PLACES = {
    "start_here": "b.lie = s.lie AND b.cell = CAST(FLOOR(s.distance_ft) AS INTEGER)",
    "end_here": "e.lie = s.end_lie AND e.cell = CAST(FLOOR(s.end_distance_ft) AS INTEGER)",
}
"""How strokes of Parquet files find them, which carry no such number."""


def sums_step(keys: Sequence[str], exact_sum: str, of_lies: Sequence[str] = ()) -> str:
    """Return the step that adds up per ``keys``, all columns of the steps before it.

    ``exact_sum``: the engine's best aggregate for a sum of doubles. ``of_lies``: lies, each of
    which gets a column of its own: how many of the scored strokes start there.
    """
    more = "".join(
        f",\n    COUNT(CASE WHEN lie_code = {WORDS['lie'].index(lie)} THEN gained END) AS {lie}"
        for lie in of_lies
    )
    text = _fill(step("round_sums"), {"keys": ", ".join(keys), "month": MONTH})
    return text.replace("{sum}", exact_sum).replace("\n    {more}", more)


def recipe(
    steps: Sequence[str],
    starts: str,
    places: Mapping[str, str] = STORED_PLACES,
    rounds: str = "chosen_rounds",
) -> str:
    """Return the WITH clause of the steps in order; ``starts``: the step whose strokes are valued.

    ``places``: how a stroke finds its cells. ``rounds``: the step that holds the rounds.
    ``{curve}`` is left for the caller: the table of cells that is joined.
    """
    filled = {"starts": starts, "rounds": rounds, **places}
    return (
        "WITH "
        + ",\n".join(f"{name} AS (\n{_fill(step(name), filled)}\n)" for name in steps)
        + "\n"
    )


def _fill(text: str, words: Mapping[str, str]) -> str:
    for name, word in words.items():
        text = text.replace(f"{{{name}}}", word)
    return text
