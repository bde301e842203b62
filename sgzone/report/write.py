"""Writing a report: ask, lay out, render, save."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from altair.utils.schemapi import debug_mode

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.report.charts_proximity import Units
from sgzone.report.export import card_notes, write_export
from sgzone.report.gather import BLOCK_WEEKS
from sgzone.report.html import to_html
from sgzone.report.kinds import Report, check_report_kind, last_weeks, player_report
from sgzone.report.pdf import check_paper, to_pdf
from sgzone.report.team import labels_of, team_report
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.writing import unwritten, write_whole

if TYPE_CHECKING:
    from sgzone.season.store import Store

KINDS = (".html", ".pdf")


@bounded
def write_report(
    paths: str | Path | Iterable[str | Path],
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    units: Units = "yards",
    *,
    kind: str = "season",
    against: str | None = None,
    names: bool = False,
    hours: float | None = None,
    weeks: float = BLOCK_WEEKS,
    paper: str = "a4",
    export: str | Path | None = None,
    with_notes: bool = False,
) -> list[Path]:
    """Write a report to every path, as the path ends, and return the paths of all files.

    ``kind``: ``season``; ``block``, the last weeks with the plan first; ``team``, all players of
    the selection, by initials unless ``names``. ``against``: a second benchmark, or days as
    ``2025-04-01..2025-10-31``. ``hours`` a week and ``weeks``: of the plan; without hours, what
    the log's last weeks had. ``paper``: ``a4`` or ``us-letter``. ``export``: a folder for every
    table and chart; ``with_notes`` puts the card's notes there too.

    The same season file, benchmark and selection give the same bytes. Raises ``CallError`` for a
    kind of file that is none of ``KINDS``, for another kind or paper, or where the file has
    several players and none is chosen; ``DataError`` where a file cannot be written.
    """
    targets = [Path(paths)] if isinstance(paths, str | Path) else [Path(path) for path in paths]
    for target in targets:
        check_kind(target)
    check_paper(paper)
    check_report_kind(kind)
    with debug_mode(False):  # Altair checks charts at every step; the tests do that once
        made = _report(
            (store, benchmark, selection, level, units), kind, against, names, (hours, weeks)
        )
    for target in targets:
        if target.suffix.lower() == ".pdf":
            _save(target, to_pdf(made.page, paper))
        else:
            _save(target, to_html(made.page).encode())
    if export is None:
        return targets
    if with_notes:
        made = _with_notes(made, store, selection, kind, names)
    return [*targets, *write_export(made, Path(export))]


def check_kind(path: Path) -> None:
    """Raise ``CallError`` where no report can be written as this kind of file."""
    if path.suffix.lower() not in KINDS:
        raise CallError(
            f"A report cannot be written to {path}: its name must end in {' or '.join(KINDS)}."
        )


def _report(
    asked: tuple[Store, str | Benchmark, Selection, float, Units],
    kind: str,
    against: str | None,
    names: bool,
    time: tuple[float | None, float],
) -> Report:
    hours, weeks = time
    if kind != "team":
        if names:
            raise CallError("names are for a team's report; a player's own has the name anyway")
        return player_report(*asked, kind=kind, against=against, hours=hours, weeks=weeks)
    if against is not None:
        raise CallError(
            "a team's report sets no two seasons or benchmarks side by side; ask for one player"
        )
    return team_report(*asked, names=names, hours=hours, weeks=weeks)


def _with_notes(made: Report, store: Store, selection: Selection, kind: str, names: bool) -> Report:
    """Return the report with the card's notes among its tables, players named as in the rest."""
    chosen = last_weeks(store, selection) if kind == "block" else selection
    notes = card_notes(store, chosen)
    if kind == "team":
        labels = labels_of(notes["player"].unique(), names)
        notes = notes.assign(player=notes["player"].map(labels))
    return replace(made, tables={**made.tables, "notes": notes})


def _save(path: Path, made: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, made)
    except OSError as wrong:
        raise unwritten(path, wrong, "The report") from wrong
