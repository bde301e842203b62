"""Expected strokes: published, derived, or the user's own."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from sgzone.benchmarks.lookup import at
from sgzone.benchmarks.model import Benchmark, assemble, break_even_proximity
from sgzone.benchmarks.own import read_own
from sgzone.benchmarks.ready import ready_cubics
from sgzone.benchmarks.tables import named_knots
from sgzone.benchmarks.women import women_knots
from sgzone.errors import CallError, did_you_mean
from sgzone.terms import AUTO, BENCHMARK_NAMES, WOMEN_NAMES

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "Benchmark",
    "at",
    "benchmark",
    "break_even_proximity",
    "files_of",
    "name_of",
    "published_knots",
]

NO_CURVE = (
    f"The benchmark {AUTO} is no curve: it picks the standard nearest to one player's season. "
    f"Name a curve here, such as {BENCHMARK_NAMES[-2]}; a file of that name is ./{AUTO}."
)
"""What is said wherever ``auto`` cannot be looked up."""


def name_of(given: object) -> str:
    """Return a benchmark's name or path as a text; ``CallError`` for what is neither."""
    if isinstance(given, str | os.PathLike):
        return str(given)
    shown = repr(given) if isinstance(given, int | float | None) else f"a {type(given).__name__}"
    raise CallError(
        f'{shown} is no benchmark; give a name, such as "tour", the path of a CSV, or an object of '
        "sg.benchmark."
    )


def benchmark(name: str | Path) -> Benchmark:
    """Return a benchmark by one of ``BENCHMARK_NAMES`` or ``WOMEN_NAMES``, or by a CSV's path.

    Fitted ones are kept in a season file: ``saved.in_store``. Raises CallError for a name that is
    neither, and for ``auto``, which no place but ``review.where.nearest`` turns into a name;
    DataError with every problem of a file.
    """
    name_of(name)
    if name in (*BENCHMARK_NAMES, *WOMEN_NAMES):
        return _named(str(name))
    if name == AUTO:
        raise CallError(NO_CURVE)
    path = Path(name)
    # PTH110: a name that no file can have is none, not an error
    if str(name) and os.path.exists(path):  # noqa: PTH110
        return read_own(path)
    names = (*BENCHMARK_NAMES, *WOMEN_NAMES)
    raise CallError(
        f"No benchmark is called {str(name)!r} and no file is there."
        f"{did_you_mean(str(name), names)} Name one of {', '.join(names)}. Or give the path of a "
        "CSV: lie, distance, unit, strokes, source. `sgzone fit` makes one of the loaded strokes."
    )


def files_of(*names: object) -> tuple[Path, ...]:
    """Return the files among what names benchmarks: a file that is read is not written over."""
    published = (AUTO, *BENCHMARK_NAMES, *WOMEN_NAMES)
    paths = [Path(name) for name in names if isinstance(name, str | Path) and name not in published]
    return tuple(path for path in paths if os.path.isfile(path))  # noqa: PTH113 (no error for an odd name)


def published_knots(name: str) -> pd.DataFrame:
    """Return the knots of one of ``BENCHMARK_NAMES`` or ``WOMEN_NAMES``, without their curves."""
    return women_knots(name) if name in WOMEN_NAMES else named_knots(name)


@cache
def _named(name: str) -> Benchmark:
    return assemble(name, published_knots(name), derive=True, cubics=ready_cubics(name))
