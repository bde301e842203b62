"""Sentences about lie and distance."""

from __future__ import annotations

import pandas as pd

from sgzone.stats.verdict import CLEAR_GAIN, CLEAR_LOSS
from sgzone.terms import NOT_ENOUGH
from sgzone.words.digits import count, listed, number, rows
from sgzone.words.say import Say, Words

GRID_TITLE = "Strokes gained per shot, by lie and distance"


OFF_GREEN, ON_GREEN = "Off the green", "On the green"


HOVER_GRID = "Hover for the value as played, with its range."

READ_GRID = (
    "Best estimate of strokes gained a shot, deeper the farther from 0; n: number of shots.",
    "Outlined: not settled, or a range that reaches 0. Blank: too few shots for a value.",
    HOVER_GRID,
)

GRID_IS_NOISY = "Of so many cells one or two are luck: look for a row or a column, not one cell."

MANY_CELLS = 10

NO_GRID = "There are no strokes to set in a grid."


def grid_lead(grid: pd.DataFrame, say: Say) -> Words:
    """Return which cells stand out, and how many say nothing."""
    judged = grid[grid["verdict"] != NOT_ENOUGH]
    if judged.empty:
        return ("No cell has the shots for a verdict; the counts are shown.",)
    thin = len(grid) - len(judged)
    few = f" {thin} of {len(grid)} cells have too few shots to say anything." if thin else ""
    losses = judged[judged["verdict"] == CLEAR_LOSS].sort_values("shrunk_per_shot", kind="stable")
    gains = judged[judged["verdict"] == CLEAR_GAIN].sort_values(
        "shrunk_per_shot", ascending=False, kind="stable"
    )
    said = []
    if len(losses):
        said.append(f"A shot costs most from {_cells(losses, say)}.")
    if len(gains):
        said.append(f"A shot gains most from {_cells(gains, say)}.")
    return (" ".join(said or ["No cell is a clear loss or gain."]) + few,)


def _cells(cells: pd.DataFrame, say: Say) -> str:
    return listed(_said_cells(cells.head(3), say))


def _said_cells(cells: pd.DataFrame, say: Say) -> list[str]:
    return [
        f"{row.lie} {say.bands[row.band]} ({number(row.shrunk_per_shot, 2, signed=True)}, "
        f"n {row.shots})"
        for row in rows(cells)
    ]


def grid_notes(grid: pd.DataFrame) -> Words:
    """Return what to beware of where there are cells enough for some to stand out by luck."""
    judged = int((grid["verdict"] != NOT_ENOUGH).sum())
    return (GRID_IS_NOISY,) if judged >= MANY_CELLS else ()


def grid_alt(grid: pd.DataFrame, what: str, say: Say) -> str:
    """Return a grid in words. ``what``: what the cells are."""
    judged = grid[grid["shrunk_per_shot"].notna()]
    thin = len(grid) - len(judged)
    few = f" {count(thin, 'cell')} with too few shots." if thin else ""
    said = "; ".join(_said_cells(judged, say)) or "no cell has enough shots for a value"
    return f"Grid of strokes gained per shot, {what}: {said}.{few}"
