"""Writing a report: ask, lay out, render, save."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from altair.utils.schemapi import debug_mode

from sgzone.benchmarks import Benchmark, files_of
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.inputs import refuse_no_name
from sgzone.report.asked import BLOCK, BLOCK_WEEKS, SEASON, Asked, of_player
from sgzone.report.export import check_export, check_folder, write_export
from sgzone.report.marks import REPORTS
from sgzone.report.paper.pdf import check_paper, to_pdf
from sgzone.report.player import Report, player_report
from sgzone.report.screen.html import to_html
from sgzone.report.squad import Squad, team_report
from sgzone.review.where.nearest import Nearest, nearest
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import AUTO, BENCHMARK_NAMES, DEFAULT_LEVEL
from sgzone.units import Units
from sgzone.words.say import Say
from sgzone.writing import NOTHING, Output, Reads, make_folder, refuse_twice

if TYPE_CHECKING:
    from sgzone.season.store import Store

KINDS = tuple(REPORTS)
TEAM = "team"
REPORT_KINDS = (SEASON, BLOCK, TEAM)


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
    the selection, by initials unless ``names``. ``benchmark``: ``auto`` is one for the whole
    report, from all rounds selected, and the page says which. ``against``: a second benchmark, or
    days as ``2025-04-01..2025-10-31``. ``hours`` a week and ``weeks``: of the plan; without hours,
    what the log's last weeks had. ``paper``: ``a4`` or ``us-letter``. ``export``: a folder for
    every table and chart; ``with_notes`` puts the card's notes there too.

    The same season file, benchmark and selection give the same bytes. Raises ``CallError`` for a
    kind of file that is none of ``KINDS``, for another kind or paper, where the file has several
    players and none is chosen, or where a path is read by the call or given twice; ``DataError``
    where a file cannot be written, or is there and is no report or of no earlier export.
    """
    targets = [Path(paths)] if isinstance(paths, str | Path) else [Path(path) for path in paths]
    for target in targets:
        check_kind(target)
    if export is not None:
        refuse_no_name(export)
    check_paper(paper)
    _check_asked(kind, benchmark, names=names, against=against)
    reads = Reads(store.path, files_of(benchmark, against))
    folder = None if export is None else Path(export)
    outputs = report_outputs(targets, folder, reads)
    chosen = _chosen(store, selection) if benchmark == AUTO else None
    curve = in_store(store, benchmark if chosen is None else chosen.name)
    given = (store, curve, selection, Say(units, level), hours, weeks)
    with debug_mode(False):  # Altair checks charts at every step; the tests do that once
        made = _made(
            Squad(*given, names=names) if kind == TEAM else Asked(*given, kind, against, chosen),
            with_notes=with_notes and folder is not None,
        )
    if folder is not None:
        check_export(made, folder, reads)
    for output in outputs:
        pdf = output.path.suffix.lower() == ".pdf"
        rendered = to_pdf(made.page, paper) if pdf else to_html(made.page).encode()
        make_folder(output.path.parent, output.what)
        output.write(rendered)
    return targets if folder is None else [*targets, *write_export(made, folder, reads)]


def report_outputs(
    paths: Iterable[Path], export: Path | None = None, reads: Reads = NOTHING
) -> list[Output]:
    """Return where a report goes, checked before it is made: what is there, what is read.

    Raises as ``write_report``.
    """
    found = [Output(path, REPORTS[path.suffix.lower()], reads, "The report") for path in paths]
    for output in found:
        output.check()
    refuse_twice(found)
    if export is not None:
        check_folder(export, reads)
    return found


def check_kind(path: Path) -> None:
    """Raise ``CallError`` where no report can be written as this kind of file."""
    refuse_no_name(path)
    if path.suffix.lower() not in KINDS:
        raise CallError(
            f"A report cannot be written to {path}: its name must end in {' or '.join(KINDS)}."
            f"{did_you_mean(path.suffix, KINDS)}"
        )


def _made(asked: Asked, *, with_notes: bool) -> Report:
    if not isinstance(asked, Squad):
        asked = of_player(asked)
    made = team_report(asked) if isinstance(asked, Squad) else player_report(asked)
    return replace(made, tables={**made.tables, "notes": asked.notes}) if with_notes else made


def _chosen(store: Store, selection: Selection) -> Nearest:
    """Return what ``auto`` is in a report: by all rounds selected, before a block's last weeks."""
    store.refuse_unknown(selection.player)
    return nearest(store, selection)


def _check_asked(
    kind: str, benchmark: str | Benchmark, *, names: bool, against: str | None
) -> None:
    """Raise ``CallError`` for a kind of report that there is not, or what it does not have."""
    if kind not in REPORT_KINDS:
        hint = did_you_mean(kind, REPORT_KINDS)
        raise CallError(
            f'no kind of report "{kind}".{hint} Choose from: {", ".join(REPORT_KINDS)}.'
        )
    if names and kind != TEAM:
        raise CallError("names are for a team's report; a player's own has the name anyway")
    if benchmark == AUTO and kind == TEAM:
        raise CallError(
            f"a team's report needs one benchmark, and {AUTO} is each player's own. Name one, "
            f"such as {BENCHMARK_NAMES[-2]}, or write each player's report."
        )
    if against is not None and kind == TEAM:
        raise CallError(
            "a team's report sets no two seasons or benchmarks side by side; ask for one player"
        )
