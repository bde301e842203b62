"""Writing a report: ask, lay out, render, save."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from sgzone.benchmarks import Benchmark
from sgzone.errors import CallError, DataError
from sgzone.report.charts_proximity import Units
from sgzone.report.gather import gather
from sgzone.report.html import to_html
from sgzone.report.pages import build
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL

if TYPE_CHECKING:
    from sgzone.season.store import Store

KINDS = (".html",)


def write_report(
    paths: str | Path | Iterable[str | Path],
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    units: Units = "yards",
) -> list[Path]:
    """Write the report of one player to every path and return the paths.

    The same season file, benchmark and selection give the same bytes. Raises ``CallError`` for a
    kind of file that is none of ``KINDS``, or where the file has several players and none is
    chosen; ``DataError`` where a file cannot be written.
    """
    targets = [Path(paths)] if isinstance(paths, str | Path) else [Path(path) for path in paths]
    for target in targets:
        check_kind(target)
    text = to_html(build(gather(store, benchmark, selection, level, units)))
    for target in targets:
        _save(target, text)
    return targets


def check_kind(path: Path) -> None:
    """Raise ``CallError`` where no report can be written as this kind of file."""
    if path.suffix.lower() not in KINDS:
        raise CallError(
            f"A report cannot be written to {path}: its name must end in {' or '.join(KINDS)}."
        )


def _save(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    except OSError as wrong:
        raise DataError(
            f"The report cannot be written to {path} ({wrong.strerror}); choose another place."
        ) from wrong
