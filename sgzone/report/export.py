"""Every table of a report as CSV and Parquet, every chart as SVG, PNG and Vega-Lite JSON.

File names come from the ids of the report's sections, never from what a card says.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pandas as pd

from sgzone.harmless import csv_text
from sgzone.inputs import MEGA, read_bytes
from sgzone.report.charts.theme import LIGHT, WIDE, config
from sgzone.report.fonts import to_png, to_svg
from sgzone.report.marks import CONTENTS, EXPORTED, LISTING
from sgzone.report.page import Page, Panel, Section
from sgzone.report.player import Report
from sgzone.report.screen.html import spec
from sgzone.writing import NOTHING, Output, Reads, make_folder

LIST = "contents.csv"
UNFINISHED = "contents-unfinished.csv"
"""The list while an export goes on: what the next one may write over if this one is stopped."""

_WHAT = "The tables and charts"
_WIDTH, _PANEL_WIDTH = 640, 360
_PNG_SCALE = 2.0


def check_folder(folder: Path, reads: Reads = NOTHING) -> None:
    """Raise as ``Output.check`` where a folder has a ``contents.csv`` that no export wrote."""
    for name in (LIST, UNFINISHED):
        _listing(folder, name, reads).check()


def check_export(report: Report, folder: Path, reads: Reads = NOTHING) -> None:
    """Raise as ``Output.check`` where a file of the export would go over another one's.

    That is any file that no earlier export into this folder lists.
    """
    check_folder(folder, reads)
    _outputs(folder, [name for name, _, _ in _contents(report)], reads)


def write_export(report: Report, folder: Path, reads: Reads = NOTHING) -> list[Path]:
    """Write a report's tables and charts into a folder and return the paths.

    ``contents.csv`` says what each file is. Numbers are unrounded, in the units of their column
    names; text a spreadsheet would run is made harmless in CSV and left alone in Parquet. The same
    report gives the same bytes. Each file is whole, ``contents.csv`` the last, and gone while the
    others are written over: a folder that holds it holds what it says. Raises as ``check_export``,
    and ``DataError`` where the folder cannot be written.
    """
    check_folder(folder, reads)
    listed = list(_contents(report))
    outputs = _outputs(folder, [name for name, _, _ in listed], reads)
    make_folder(folder, _WHAT)
    made, under_way = _listing(folder, LIST, reads), _listing(folder, UNFINISHED, reads)
    earlier = [(name, "", "of an earlier export") for name in sorted(_earlier(folder))]
    under_way.write(_csv([*listed, *(row for row in earlier if row[0] not in outputs)]))
    made.remove()
    _write_tables(report, outputs)
    _write_charts(report.page, outputs)
    made.write(_csv(listed))
    under_way.remove()
    return [output.path for output in (*outputs.values(), made)]


def _listing(folder: Path, name: str, reads: Reads) -> Output:
    return Output(folder / name, LISTING, reads, _WHAT)


def _csv(rows: Sequence[tuple[str, str, str]]) -> str:
    return csv_text(pd.DataFrame(rows, columns=list(CONTENTS)))


def _earlier(folder: Path) -> set[str]:
    """Return the names of the files that an earlier export lists, ended or stopped."""
    found = set()
    for path in (folder / LIST, folder / UNFINISHED):
        if path.is_file():
            text = read_bytes(path, MEGA).decode(errors="replace")
            found |= {row[0] for row in csv.reader(io.StringIO(text)) if row}
    return found - {CONTENTS[0]}


def _outputs(folder: Path, names: Sequence[str], reads: Reads) -> dict[str, Output]:
    """Return where each file goes, checked; over another one only where that is listed."""
    earlier = _earlier(folder)
    kinds = {name: EXPORTED[name.split(".", 1)[1]] if name in earlier else None for name in names}
    return {name: Output(folder / name, kind, reads, _WHAT).check() for name, kind in kinds.items()}


def _contents(report: Report) -> Iterator[tuple[str, str, str]]:
    """Yield name, section and content of every file of the export."""
    titles = {section.id: section.title for section in report.page.sections}
    for name, rows in report.tables.items():
        title = titles.get(name, titles.get(name.split("-")[0], ""))
        for kind in ("csv", "parquet"):
            yield f"{name}.{kind}", title, f"{len(rows)} rows"
    for section, name, panel, _ in _panels(report.page):
        for kind in ("svg", "png", "vl.json"):
            yield f"{name}.{kind}", section.title, panel.alt


def _write_tables(report: Report, outputs: dict[str, Output]) -> None:
    for name, table in report.tables.items():
        rows = table.reset_index(drop=True)
        outputs[f"{name}.csv"].write(csv_text(rows))
        with outputs[f"{name}.parquet"].file() as file:
            rows.to_parquet(file, index=False)


def _write_charts(page: Page, outputs: dict[str, Output]) -> None:
    for _, name, panel, columns in _panels(page):
        drawn = _sized(panel, columns)
        outputs[f"{name}.svg"].write(to_svg(drawn))
        outputs[f"{name}.png"].write(to_png(drawn, _PNG_SCALE))
        text = json.dumps(drawn, ensure_ascii=False, indent=1, allow_nan=False)
        outputs[f"{name}.vl.json"].write(text + "\n")


def _panels(page: Page) -> Iterator[tuple[Section, str, Panel, int]]:
    """Yield every chart: its section, the name of its files, itself and the columns it is in."""
    for section in page.sections:
        panels = [(panel, f.columns) for f in section.figures for panel in f.panels]
        for number, (panel, columns) in enumerate(panels, start=1):
            yield section, f"{section.id}-chart-{number}", panel, columns


def _sized(panel: Panel, columns: int) -> dict[str, Any]:
    """Return a chart that stands alone: its own size, look and paper."""
    drawn = {**spec(panel), "config": {**config(), "background": LIGHT.paper}}
    if drawn.get("width") == WIDE:
        drawn["width"] = _WIDTH if columns == 1 else _PANEL_WIDTH
    return drawn
