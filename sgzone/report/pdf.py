"""From a page to a PDF, set by Typst: vector charts, embedded fonts, page numbers; no browser.

The page's content reaches the typesetter as data, never as markup, so nothing a user wrote is read
as a command.
"""

from __future__ import annotations

import json
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst
import vl_convert

from sgzone.errors import CallError
from sgzone.report.html import spec
from sgzone.report.parts import Figure, Page, Section, Table
from sgzone.report.theme import WIDE, config

PAPERS = ("a4", "us-letter")
_CHART_WIDTH = 560
_PANEL_WIDTH = 270
_PLAYER_SECTIONS = ("agree", "where")
"""What stands on the first page, under the summary."""


def to_pdf(page: Page, paper: str = "a4") -> bytes:
    """Return the page as PDF: the first sheet for the player, the rest for the coach.

    ``paper``: one of ``PAPERS``. The same page gives the same bytes. Raises ``CallError`` for
    another paper.
    """
    if paper not in PAPERS:
        raise CallError(f'no paper "{paper}"; choose of {", ".join(PAPERS)}')
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "page.json").write_text(json.dumps(_content(page, root)), encoding="utf-8")
        template = files("sgzone.report").joinpath("templates", "report.typ")
        (root / "report.typ").write_text(template.read_text(encoding="utf-8"), encoding="utf-8")
        made = typst.compile(root / "report.typ", root=root, sys_inputs={"paper": paper})
    assert isinstance(made, bytes)
    return made


def _content(page: Page, root: Path) -> dict[str, Any]:
    """Return the page as plain data; charts are drawn into ``root`` and named."""
    first = [s for s in page.sections if s.id in _PLAYER_SECTIONS]
    rest = [s for s in page.sections if s.id not in _PLAYER_SECTIONS]
    return {
        "title": page.title,
        "subtitle": page.subtitle,
        "summary": list(page.summary),
        "player": [_section(s, root) for s in first],
        "coach": [_section(s, root) for s in rest],
        "colophon": list(page.colophon),
    }


def _section(section: Section, root: Path) -> dict[str, Any]:
    return {
        "title": section.title,
        "lead": list(section.lead),
        "figures": [_figure(figure, root) for figure in section.figures],
        "tables": [_table(table) for table in section.tables],
        "notes": list(section.notes),
        "write": section.id == "agree",
    }


def _figure(figure: Figure, root: Path) -> dict[str, Any]:
    return {
        "panels": [
            {
                "title": panel.title,
                "alt": panel.alt,
                "file": _draw(spec(panel), figure.columns, root, panel.id),
            }
            for panel in figure.panels
        ],
        "columns": figure.columns,
        "caption": list(figure.caption),
        "keys": [{"mark": key.mark, "words": key.words} for key in figure.keys],
    }


def _draw(chart: dict[str, Any], columns: int, root: Path, name: str) -> str:
    """Draw a chart as a PDF of its own: its fonts are embedded, whatever this machine has."""
    drawn = {**chart, "config": config()}
    if drawn.get("width") == WIDE:
        drawn["width"] = _CHART_WIDTH if columns == 1 else _PANEL_WIDTH
    file = root / f"{name}.pdf"
    file.write_bytes(vl_convert.vegalite_to_pdf(drawn))
    return file.name


def _table(table: Table) -> dict[str, Any]:
    return {
        "caption": table.caption,
        "headings": list(table.headings),
        "rows": [list(row) for row in table.rows],
        "kinds": list(table.kinds),
    }
