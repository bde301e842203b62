"""A user's own benchmark, read from a CSV ``lie,distance,unit,strokes,source``.

A column ``status`` may say what each row rests on, as the file of a fitted curve does.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import numpy as np
import pandas as pd

from sgzone.benchmarks.model import Benchmark, assemble
from sgzone.benchmarks.tables import KNOT_COLUMNS
from sgzone.errors import DataError, Problem
from sgzone.harmless import named
from sgzone.inputs import MEGA, UnreadError, plain_utf8, read_bytes
from sgzone.terms import (
    EVERY_LIE,
    KNOT_STATUSES,
    LIE,
    LIE_ALIASES,
    LIES,
    MAX_OFF_GREEN_FT,
    MAX_PUTT_FT,
)
from sgzone.units import FT_PER, FT_PER_YD, to_ft
from sgzone.writing import Kind, headings

OWN_COLUMNS = ["lie", "distance", "unit", "strokes", "source"]
STATUS = "status"
CURVE = Kind("a curve", lambda held: set(OWN_COLUMNS) <= set(headings(held)))
MIN_STROKES, MAX_STROKES = 1.0, 15.0
MIN_KNOT_GAP_FT = 1.0
MAX_BYTES = 1 * MEGA  # as settings; a published curve has under 10 kB
MAX_ROWS = 20_000  # knots a foot apart from every lie are fewer
MAX_WIDTH = 50  # columns

_NUMBER = re.compile(r"\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\s*", re.ASCII)
_STROKES_FIX = "give the average number of strokes to hole out, the next one included"
_STATUS_FIX = f"use one of {', '.join(KNOT_STATUSES)}, or leave the column out"
_RANGE_FIX = (
    f"give more than 0, up to {MAX_PUTT_FT:g} ft on the green and "
    f"{MAX_OFF_GREEN_FT / FT_PER_YD:g} yd off it; is the unit right?"
)


def read_own(path: Path) -> Benchmark:
    """Return the benchmark of a CSV; its name is the file's name.

    Raises DataError with every problem of the file.
    """
    table = _cleaned(_read_table(path))
    problems = [*_cell_problems(table, path.name), *_knot_problems(table, path.name)]
    _refuse(path.name, sorted(problems, key=lambda problem: problem.row or 0))
    own = assemble(path.name, _knots(table), derive=False)
    _refuse(path.name, list(_curve_problems(own)))
    return own


def _refuse(file: str, problems: list[Problem]) -> None:
    if problems:
        count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
        raise DataError(
            f"{named(file)} has {count}, so it is not used as a benchmark; put the rows right and "
            "ask again.",
            problems,
        )


def _read_table(path: Path) -> pd.DataFrame:
    """Return the file's cells as text; the index is the row as a spreadsheet numbers it."""
    data = _read(path)
    try:
        with warnings.catch_warnings():
            # pandas only warns where every row has a cell too many (decimal commas).
            warnings.simplefilter("error", pd.errors.ParserWarning)
            table = pd.read_csv(
                BytesIO(data),
                dtype=str,
                keep_default_na=False,
                skip_blank_lines=False,
                index_col=False,
            )
    except (pd.errors.ParserWarning, pd.errors.ParserError) as error:
        if "EOF inside string" in str(error):
            raise _unreadable(path, "has quotes that never close", "close them") from error
        raise _unreadable(
            path, "has rows with more cells than the header", "write 2.75, not 2,75"
        ) from error
    except pd.errors.EmptyDataError as error:
        raise _unreadable(path, "is empty", "save it as CSV (UTF-8)") from error
    if len(table) > MAX_ROWS:
        wrong = f"has {len(table)} rows; a curve may have {MAX_ROWS}"
        raise _unreadable(path, wrong, "keep one row for each lie and distance")
    table.columns = pd.Index([str(name).strip().lower() for name in table.columns])
    missing = [name for name in OWN_COLUMNS if name not in table.columns]
    if missing:
        fix = f"give it the header {','.join(OWN_COLUMNS)}"
        raise _unreadable(path, f"has no column {', '.join(missing)}", fix)
    table.index = pd.RangeIndex(2, len(table) + 2)
    if STATUS not in table.columns:
        table[STATUS] = ""
    return table[[*OWN_COLUMNS, STATUS]]


def _read(path: Path) -> bytes:
    """Return a file in UTF-8; ``DataError`` where it is longer or wider than any curve is."""
    try:
        data = plain_utf8(path, read_bytes(path, MAX_BYTES, "a curve"))
    except UnreadError as error:
        raise _unreadable(path, f"cannot be read as text: {error.wrong}", error.fix) from error
    width = next((line for line in data.splitlines() if line.strip()), b"").count(b",") + 1
    if width > MAX_WIDTH:
        wrong = f"has {width} columns; a curve may have {MAX_WIDTH}"
        raise _unreadable(path, wrong, "leave out the columns that are not of the curve")
    return data


def _unreadable(path: Path, wrong: str, fix: str) -> DataError:
    problem = Problem(path.name, None, "", "", wrong, fix)
    fix = fix.removesuffix(".")
    return DataError(
        f"{named(path.name)} {wrong}, so it is not used as a benchmark; {fix}.", [problem]
    )


def _cleaned(table: pd.DataFrame) -> pd.DataFrame:
    """Return the rows that say something, trimmed, with numbers and feet beside the text."""
    table = table.apply(lambda column: column.str.strip())
    table = table[(table[OWN_COLUMNS] != "").any(axis=1)]
    table = table.assign(
        lie=table["lie"].str.lower().replace(LIE_ALIASES),
        unit=table["unit"].str.lower(),
        status=table[STATUS].str.lower().replace("", KNOT_STATUSES[0]),
        d=_numbers(table["distance"]),
        e=_numbers(table["strokes"]),
    )
    return table.assign(
        feet=[
            to_ft(d, unit) if unit in FT_PER else np.nan
            for d, unit in zip(table["d"], table["unit"], strict=True)
        ]
    )


def _numbers(text: pd.Series) -> pd.Series:
    """Return each cell's number, NaN where it is none.

    By Python itself, which reads back the very number that was written; pandas does from one
    version to another.
    """
    number = np.array([float(cell) if _NUMBER.fullmatch(cell) else np.nan for cell in text])
    return pd.Series(number, index=text.index).where(np.isfinite(number))


def _knots(table: pd.DataFrame) -> pd.DataFrame:
    knots = table.assign(distance=table["d"], strokes=table["e"])
    return knots[KNOT_COLUMNS].reset_index(drop=True)


def _cell_problems(table: pd.DataFrame, file: str) -> Iterator[Problem]:
    """Yield what is wrong in single cells, rule by rule."""
    d, e, feet = table["d"], table["e"], table["feet"]
    limit = table["lie"].map({lie.name: lie.farthest_ft for lie in EVERY_LIE}).astype(float)
    out_of_range = (d <= 0) | (feet > limit)
    out_of_strokes = e.notna() & ~e.between(MIN_STROKES, MAX_STROKES)
    bounds = f"is not between {MIN_STROKES:g} and {MAX_STROKES:g} strokes"
    rules: list[tuple[str, pd.Series, str, str]] = [
        ("lie", ~table["lie"].isin(LIES), "is not a lie", f"use one of {', '.join(LIES)}"),
        ("distance", d.isna(), "is not a number", "write it as 87.5"),
        ("distance", out_of_range, "is out of range", _RANGE_FIX),
        ("unit", ~table["unit"].isin(list(FT_PER)), "is not a unit", "use yd, ft or m"),
        ("strokes", e.isna(), "is not a number", "write it as 2.75"),
        ("strokes", out_of_strokes, bounds, _STROKES_FIX),
        (STATUS, ~table[STATUS].isin(KNOT_STATUSES), "is not a status", _STATUS_FIX),
        ("source", table["source"] == "", "is blank", "say where the value comes from"),
    ]
    for column, bad, wrong, fix in rules:
        yield from _at(table[bad], file, column, wrong, fix)


def _knot_problems(table: pd.DataFrame, file: str) -> Iterator[Problem]:
    """Yield what shows only between rows: knots too close, lies with one knot, none at all."""
    if table.empty:
        yield Problem(file, None, "lie", "", "has no knots", "give two rows or more for each lie")
    placed = table[table["lie"].isin(LIES) & table["feet"].notna()].sort_values("feet")
    for lie, rows in placed.groupby("lie"):
        near = rows["feet"].diff() < MIN_KNOT_GAP_FT
        wrong = f"lies less than {MIN_KNOT_GAP_FT:g} ft from another {lie} knot"
        yield from _at(rows[near], file, "distance", wrong, "keep one of the two")
        if len(rows) == 1 and (table["lie"] == lie).sum() == 1:
            fix = f"give a second {lie} row, or leave the lie out"
            yield from _at(rows, file, "lie", "has one knot only", fix)


def _curve_problems(own: Benchmark) -> Iterator[Problem]:
    """Yield lies whose curve falls under one stroke where the rules extend it."""
    feet = np.arange(MAX_OFF_GREEN_FT + 1)
    for lie in own.lies:
        reach = feet[feet <= LIE[lie].farthest_ft]
        low = reach[own.expected(lie, reach) < MIN_STROKES]
        if low.size:
            wrong = f"the curve falls under {MIN_STROKES:g} stroke at {low[0]:g} ft"
            fix = f"give a {lie} row near there, or putts from farther out"
            yield Problem(own.name, None, "strokes", lie, wrong, fix)


def _at(rows: pd.DataFrame, file: str, column: str, wrong: str, fix: str) -> Iterator[Problem]:
    for row, value in rows[column].items():
        yield Problem(file, int(str(row)), column, str(value), wrong, fix)
