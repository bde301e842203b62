"""A report of a season, for player and coach."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.public.seasons import Day, Season, a_day, asking
from sgzone.report import write
from sgzone.report.asked import BLOCK_WEEKS
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.units import Units


@bounded
def write_report(
    paths: str | Path | Iterable[str | Path],
    season: Season,
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
    date: Day | None = None,
    round: int | None = None,  # noqa: A002
    each: str | Path | None = None,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> list[Path]:
    """Write a report to every path, as the path ends, and return the paths of all files.

    ``paths``: one or several that end in .html or .pdf. ``kind``: ``season``; ``block``, the last
    weeks with the plan first; ``round``, the last or that of ``date`` and ``round``; ``team``, all
    players, where ``since`` marks the last meeting. ``each``: a folder for each of them alone,
    without the others' data. ``against``: a second standard, or days as
    ``2025-04-01..2025-10-31``. ``hours`` a week and ``weeks`` are of the plan. ``export``: a folder
    for every table and chart.

    >>> import tempfile
    >>> from pathlib import Path
    >>> import sgzone as sg
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     path = Path(folder, "report.html")
    ...     written = sg.write_report(path, sg.simulate_season(rounds=2).card)
    ...     written == [path]
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        return write.write_report(
            *(paths, store, benchmark, asked, level, units),
            kind=kind,
            against=against,
            names=names,
            hours=hours,
            weeks=weeks,
            paper=paper,
            export=export,
            with_notes=with_notes,
            date=a_day("date", date),
            round=round,
            each=each,
        )
