"""Writing a report: ask, lay out, render, save."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from altair.utils.schemapi import debug_mode

from sgzone.benchmarks import Benchmark, files_of
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.inputs import refuse_no_name
from sgzone.report.asked import BLOCK, BLOCK_WEEKS, ROUND, SEASON, Asked, of_player
from sgzone.report.export import check_export, check_folder, write_export
from sgzone.report.marks import REPORTS
from sgzone.report.one_round import round_report
from sgzone.report.page import Page
from sgzone.report.paper.pdf import check_paper, to_pdf
from sgzone.report.player import Report, player_report
from sgzone.report.screen.html import to_html
from sgzone.report.sections import notes
from sgzone.report.squad import Squad, file_stems, own_pages, team_report
from sgzone.review.where.nearest import Nearest, is_auto, nearest
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import AUTO, BENCHMARK_NAMES, DEFAULT_LEVEL
from sgzone.units import Units
from sgzone.words.say import Say
from sgzone.writing import NOTHING, Output, Reads, make_folder, refuse_twice

if TYPE_CHECKING:
    from sgzone.season.store import Store

KINDS = tuple(REPORTS)
TEAM = "team"
REPORT_KINDS = (SEASON, BLOCK, ROUND, TEAM)


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
    date: date | None = None,
    round: int | None = None,  # noqa: A002
    each: str | Path | None = None,
) -> list[Path]:
    """Write a report to every path, as the path ends, and return the paths of all files.

    ``kind``: ``season``; ``block``, the last weeks with the plan first; ``round``, the last or that
    of ``date`` and ``round``, beside the others of the selection; ``team``, all players of the
    selection, by initials unless ``names``. For a team the selection's ``since`` marks the day
    of the last meeting (None: the last agreement's) and leaves no round out; ``each`` is a folder
    for a page of every player, without the others' data, of the kinds of ``paths`` (without one:
    .html). ``benchmark``: ``auto`` is one for the whole report, from all rounds selected, and the
    page says which. ``against``: a second benchmark, or days as ``2025-04-01..2025-10-31``.
    ``hours`` a week and ``weeks``: of the plan; without hours, what the log's last weeks had.
    ``paper``: ``a4`` or ``us-letter``. ``export``: a folder for every table and chart;
    ``with_notes`` puts the card's notes there too, and on the page, but a team's.

    The same season file, benchmark and selection give the same bytes. Raises ``CallError`` for a
    kind of file that is none of ``KINDS``, for another kind or paper, where the file has several
    players and none is chosen, or where a path is read by the call or given twice; ``DataError``
    where a file cannot be written, or is there and is no report or of no earlier export.
    """
    targets = [Path(paths)] if isinstance(paths, str | Path) else [Path(path) for path in paths]
    for target in targets:
        check_kind(target)
    for folder in (export, each):
        if folder is not None:
            refuse_no_name(folder)
    check_paper(paper)
    _check_asked(kind, benchmark, names=names, against=against, each=each is not None)
    _check_round(kind, date, round, against=against, hours=hours)
    reads = Reads(store.path, files_of(benchmark, against))
    exported = None if export is None else Path(export)
    outputs = report_outputs(targets, exported, reads)
    endings = tuple(dict.fromkeys(t.suffix.lower() for t in targets)) or KINDS[:1]
    own = {} if each is None else _own_outputs(store, selection, Path(each), endings, reads)
    refuse_twice([*outputs, *(output for kinds in own.values() for output in kinds)])
    chosen = _chosen(store, selection) if is_auto(benchmark) else None
    curve = in_store(store, benchmark if chosen is None else chosen.name)
    how = (Say(units, level), hours, weeks, kind, against, chosen)
    asked = Asked(store, curve, selection, *how, with_notes)
    if kind == TEAM:
        asked = _squad(asked, names=names)
    with debug_mode(False):  # Altair checks charts at every step; the tests do that once
        if kind == ROUND:
            made = round_report(of_player(asked), date, round, with_notes=with_notes)
        else:
            made = _made(asked, with_notes=with_notes)
        if exported is not None:
            check_export(made, exported, reads)
        store.release()  # what draws the charts takes as much memory as all answers did
        for output in outputs:
            _write(made.page, output, paper)
        for player, page in own_pages(asked) if own and isinstance(asked, Squad) else ():
            for output in own[player]:
                _write(page, output, paper)
                targets.append(output.path)
    return targets if exported is None else [*targets, *write_export(made, exported, reads)]


def _write(page: Page, output: Output, paper: str) -> None:
    """Render a page as the ending of its file says, and write it."""
    pdf = output.path.suffix.lower() == ".pdf"
    rendered = to_pdf(page, paper) if pdf else to_html(page).encode()
    make_folder(output.path.parent, output.what)
    output.write(rendered)


def _own_outputs(
    store: Store, selection: Selection, folder: Path, endings: Sequence[str], reads: Reads
) -> dict[str, list[Output]]:
    """Return where each player's own page goes, checked before long work; as ``report_outputs``."""
    players = store.players() if selection.player is None else [selection.player]
    return {
        player: report_outputs([folder / f"{stem}{ending}" for ending in endings], reads=reads)
        for player, stem in file_stems(players).items()
    }


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


def _squad(asked: Asked, *, names: bool) -> Squad:
    """Return what is asked of a squad: ``since`` is the meeting, and the season is all rounds."""
    season, meeting = replace(asked.selection, since=None), asked.selection.since
    how = (asked.say, asked.hours, asked.weeks)
    return Squad(asked.store, asked.curve, season, *how, names=names, meeting=meeting)


def _made(asked: Asked, *, with_notes: bool) -> Report:
    if not isinstance(asked, Squad):
        asked = of_player(asked)
    made = team_report(asked) if isinstance(asked, Squad) else player_report(asked)
    if not with_notes:
        return made
    page = made.page
    if not isinstance(asked, Squad):  # a squad's page is for more eyes than one player's
        page = replace(page, sections=(*page.sections, notes.section(asked)))
    return Report(page, {**made.tables, notes.ID: asked.notes})


def _chosen(store: Store, selection: Selection) -> Nearest:
    """Return what ``auto`` is in a report: by all rounds selected, before a block's last weeks."""
    store.refuse_unknown(selection.player)
    return nearest(store, selection)


def _check_round(
    kind: str, day: object, number: object, *, against: str | None, hours: float | None
) -> None:
    """Raise ``CallError`` for what only a round has, or what a round's report does not have."""
    if kind != ROUND and (day is not None or number is not None):
        raise CallError(f'date and round choose a round: they are for kind="{ROUND}"')
    if kind == ROUND and (against is not None or hours is not None):
        raise CallError("a round's report has no plan and nothing beside it but other rounds")


def _check_asked(
    kind: str, benchmark: str | Benchmark, *, names: bool, against: str | None, each: bool
) -> None:
    """Raise ``CallError`` for a kind of report that there is not, or what it does not have."""
    if kind not in REPORT_KINDS:
        hint = did_you_mean(kind, REPORT_KINDS)
        raise CallError(
            f'no kind of report "{kind}".{hint} Choose from: {", ".join(REPORT_KINDS)}.'
        )
    if names and kind != TEAM:
        raise CallError("names are for a team's report; a player's own has the name anyway")
    if each and kind != TEAM:
        raise CallError(
            "each player's own page comes with a team's report: add --kind team (each=... goes "
            'with kind="team")'
        )
    if is_auto(benchmark) and kind == TEAM:
        raise CallError(
            f"a team's report needs one benchmark, and {AUTO} is each player's own. Name one, "
            f"such as {BENCHMARK_NAMES[-2]}, or write each player's report."
        )
    if against is not None and kind == TEAM:
        raise CallError(
            "a team's report sets no two seasons or benchmarks side by side; ask for one player"
        )
