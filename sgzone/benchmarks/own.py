"""A user's own benchmark, read from a CSV ``lie,distance,unit,strokes,source``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pandas as pd

from sgzone.benchmarks.model import Benchmark, assemble
from sgzone.benchmarks.tables import KNOT_COLUMNS
from sgzone.errors import DataError, Problem
from sgzone.terms import LIE_ALIASES, LIES, MAX_OFF_GREEN_FT, MAX_PUTT_FT
from sgzone.units import FT_PER, to_ft

OWN_COLUMNS = ["lie", "distance", "unit", "strokes", "source"]
MIN_STROKES, MAX_STROKES = 1.0, 15.0
MIN_KNOT_GAP_FT = 1.0


def read_own(path: Path) -> Benchmark:
    """Return the benchmark of a CSV; its name is the file's name.

    Raises DataError with every problem of the file.
    """
    table = _cleaned(_read_table(path))
    problems = list(_problems(table, path.name))
    if problems:
        rows = "row" if len(problems) == 1 else "rows"
        raise DataError(
            f"{path.name} is not used as a benchmark: {len(problems)} {rows} to put right.",
            problems,
        )
    knots = table.assign(status="published")[KNOT_COLUMNS].reset_index(drop=True)
    knots["distance"] = knots["distance"].astype(float)
    knots["strokes"] = knots["strokes"].astype(float)
    return assemble(path.name, knots, derive_fringe=False)


def _read_table(path: Path) -> pd.DataFrame:
    """Return the file's cells as text; the index is the row as a spreadsheet numbers it."""
    try:
        table = pd.read_csv(
            path,
            dtype=str,
            keep_default_na=False,
            skip_blank_lines=False,
            encoding="utf-8-sig",
            index_col=False,
        )
    except (pd.errors.ParserError, pd.errors.EmptyDataError, UnicodeError, OSError) as error:
        wrong = f"cannot be read as a CSV in UTF-8 ({error})"
        raise _whole_file(path.name, wrong, "save it as CSV (UTF-8)") from error
    table.columns = pd.Index([str(name).strip().lower() for name in table.columns])
    missing = [name for name in OWN_COLUMNS if name not in table.columns]
    if missing:
        raise _whole_file(
            path.name,
            f"lacks the column(s) {', '.join(missing)}",
            f"give it the header {','.join(OWN_COLUMNS)}",
        )
    table.index = pd.RangeIndex(2, len(table) + 2)
    return table[OWN_COLUMNS]


def _whole_file(file: str, wrong: str, fix: str) -> DataError:
    problem = Problem(file, None, "", "", wrong, fix)
    return DataError(f"{file} {wrong}, so it is not used as a benchmark: {fix}.", [problem])


def _cleaned(table: pd.DataFrame) -> pd.DataFrame:
    table = table.apply(lambda column: column.str.strip())
    table = table[(table != "").any(axis=1)]
    lies = table["lie"].str.lower()
    return table.assign(lie=lies.replace(LIE_ALIASES), unit=table["unit"].str.lower())


def _problems(table: pd.DataFrame, file: str) -> Iterator[Problem]:
    """Yield the problems of the rows, then those that only show between rows."""
    distance, strokes = (
        pd.to_numeric(table[name], errors="coerce").where(lambda value: np.isfinite(value))
        for name in ("distance", "strokes")
    )
    bad_lie, bad_unit = ~table["lie"].isin(LIES), ~table["unit"].isin(list(FT_PER))
    yield from _at(table, file, "lie", bad_lie, "is not a lie", f"use {', '.join(LIES)}")
    yield from _at(table, file, "distance", distance.isna(), "is not a number", "write 87.5")
    yield from _at(table, file, "unit", bad_unit, "is not a unit", "use yd, ft or m")
    yield from _at(table, file, "strokes", strokes.isna(), "is not a number", "write 2.75")
    outside = strokes.notna() & ~strokes.between(MIN_STROKES, MAX_STROKES)
    yield from _at(
        table,
        file,
        "strokes",
        outside,
        f"is not between {MIN_STROKES:g} and {MAX_STROKES:g} strokes",
        "give the average number of strokes to hole out, this one included",
    )
    yield from _at(
        table, file, "source", table["source"] == "", "is blank", "say where the value comes from"
    )
    placed = table[~bad_lie & ~bad_unit & distance.notna()]
    feet = pd.Series(
        [to_ft(d, u) for d, u in zip(distance[placed.index], placed["unit"], strict=True)],
        index=placed.index,
        dtype=float,
    )
    farthest = placed["lie"].map(lambda lie: MAX_PUTT_FT if lie == "green" else MAX_OFF_GREEN_FT)
    out = (feet <= 0) | (feet > farthest)
    yield from _at(
        placed,
        file,
        "distance",
        out,
        "is out of range",
        f"give more than 0, up to {MAX_PUTT_FT:g} ft on the green and "
        f"{MAX_OFF_GREEN_FT / 3:g} yd off it; is the unit right?",
    )
    yield from _between_rows(placed, feet, file)


def _at(
    table: pd.DataFrame, file: str, column: str, bad: pd.Series, wrong: str, fix: str
) -> Iterator[Problem]:
    for row, value in table.loc[bad, column].items():
        yield Problem(file, int(str(row)), column, value, wrong, fix)


def _between_rows(placed: pd.DataFrame, feet: pd.Series, file: str) -> Iterator[Problem]:
    if placed.empty:
        yield Problem(file, None, "lie", "", "no knots", "give two rows or more for each lie")
    for lie, own in feet.groupby(placed["lie"]):
        ordered = own.sort_values(kind="stable")
        close = ordered.diff() < MIN_KNOT_GAP_FT
        yield from _at(
            placed.loc[ordered.index],
            file,
            "distance",
            close,
            f"lies less than {MIN_KNOT_GAP_FT:g} ft from another {lie} knot",
            "keep one of the two",
        )
        if len(ordered) < 2:
            yield from _at(
                placed.loc[ordered.index],
                file,
                "lie",
                ~close,
                "has one knot only",
                f"give a second row for {lie}, or leave it out",
            )
