"""Every table of a report as CSV and Parquet, every chart as SVG, PNG and Vega-Lite JSON.

File names come from the ids of the report's sections, never from what a card says.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd
import vl_convert

from sgzone.harmless import csv_text
from sgzone.report.charts.theme import LIGHT, WIDE, config
from sgzone.report.page import Page, Panel
from sgzone.report.player import Report
from sgzone.report.screen.html import spec
from sgzone.season.selection import Selection
from sgzone.writing import unwritten, whole, write_whole

if TYPE_CHECKING:
    from sgzone.season.store import Store

CONTENTS = "contents"
_WIDTH, _PANEL_WIDTH = 640, 360
_PNG_SCALE = 2.0
_NOTES = """
SELECT s.player, s.date, s.round, s.hole, s.shot, s.lie, s.distance_ft / 3 AS distance_yd, s.note
FROM strokes AS s
WHERE s.note IS NOT NULL
  AND ($player IS NULL OR s.player = $player)
  AND ($since IS NULL OR s.date >= $since)
  AND ($until IS NULL OR s.date <= $until)
  AND ($event IS NULL OR s.event = $event)
ORDER BY s.player, s.date, s.round, s.hole, s.shot
"""


def card_notes(store: Store, selection: Selection) -> pd.DataFrame:
    """Return what was written in the card's column ``note``, with its stroke, in yards."""
    return store.frame(_NOTES, selection.parameters())


def write_export(report: Report, folder: Path) -> list[Path]:
    """Write a report's tables and charts into a folder and return the paths.

    ``contents.csv`` says what each file is. Numbers are unrounded, in the units of their column
    names; text a spreadsheet would run is made harmless in CSV and left alone in Parquet. The same
    report gives the same bytes. Each file is whole, ``contents.csv`` the last, and gone while the
    others are written over: a folder that holds it holds what it says. Raises ``DataError`` where
    the folder cannot be written.
    """
    contents_file = folder / f"{CONTENTS}.csv"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        contents_file.unlink(missing_ok=True)
        listed = [*_write_tables(report, folder), *_write_charts(report.page, folder)]
        contents = pd.DataFrame(listed, columns=["file", "section", "holds"])
        write_whole(contents_file, csv_text(contents))
    except OSError as wrong:
        raise unwritten(folder, wrong, "The tables and charts") from wrong
    return [folder / name for name, _, _ in listed] + [contents_file]


def _write_tables(report: Report, folder: Path) -> Iterator[tuple[str, str, str]]:
    titles = {section.id: section.title for section in report.page.sections}
    for name, table in report.tables.items():
        rows = table.reset_index(drop=True)
        write_whole(folder / f"{name}.csv", csv_text(rows))
        with whole(folder / f"{name}.parquet") as half:
            rows.to_parquet(half, index=False)
        for kind in ("csv", "parquet"):
            title = titles.get(name, titles.get(name.split("-")[0], ""))
            yield f"{name}.{kind}", title, f"{len(rows)} rows"


def _write_charts(page: Page, folder: Path) -> Iterator[tuple[str, str, str]]:
    for section in page.sections:
        panels = [(panel, f.columns) for f in section.figures for panel in f.panels]
        for number, (panel, columns) in enumerate(panels, start=1):
            name = f"{section.id}-chart-{number}"
            drawn = _sized(panel, columns)
            write_whole(folder / f"{name}.svg", vl_convert.vegalite_to_svg(drawn))
            picture = vl_convert.vegalite_to_png(drawn, scale=_PNG_SCALE)
            write_whole(folder / f"{name}.png", picture)
            text = json.dumps(drawn, ensure_ascii=False, indent=1, allow_nan=False)
            write_whole(folder / f"{name}.vl.json", text + "\n")
            for kind in ("svg", "png", "vl.json"):
                yield f"{name}.{kind}", section.title, panel.alt


def _sized(panel: Panel, columns: int) -> dict[str, Any]:
    """Return a chart that stands alone: its own size, look and paper."""
    drawn = {**spec(panel), "config": {**config(), "background": LIGHT.paper}}
    if drawn.get("width") == WIDE:
        drawn["width"] = _WIDTH if columns == 1 else _PANEL_WIDTH
    return drawn
