"""From a page to a PDF, set by Typst: vector charts, embedded fonts, page numbers; no browser.

The page's content reaches the typesetter as data, never as markup, so nothing a user wrote is read
as a command.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Sequence
from dataclasses import asdict, replace
from importlib.resources import files
from pathlib import Path
from textwrap import fill
from typing import Any

import typst

from sgzone.errors import CallError
from sgzone.report.charts.rows import read_rows
from sgzone.report.charts.theme import LIGHT, WIDE, config
from sgzone.report.fonts import to_svg
from sgzone.report.page import Figure, Page, Panel, Place, Section
from sgzone.report.paper.order import on_paper
from sgzone.report.paper.signs import FONTS, fonts_at_hand, own_fonts_do, printable
from sgzone.report.screen.still import slim
from sgzone.words.tables import Table
from sgzone.writing import unwritten

PAPERS = ("a4", "us-letter")
_LOWER = {"a4": 0.66, "us-letter": 0.61}
"""Height of a chart on paper to that on a screen, where fingers need room: the player's part
stays on one sheet."""
_SHEET = 725
"""Width of the printed area in the charts' pixels: their 12 px type comes out at 8 pt."""
_GAP = 15  # pixels between panels
_PAIR = (430, 275)  # pixels of two sections side by side; the rest is the gap between them
_AXES = 60  # pixels that axis and title take beside a plot of fixed size
_NARROW = {"titleAnchor": "end", "labelOverlap": "greedy", "labelSeparation": 6, "tickCount": 4}
"""How the axis below a narrow panel is kept legible."""
_HEADING = 20  # characters of a heading before it is folded
_MOST_A_ROW = 3
_MOST_TICKS = 2  # labels a narrow panel has room for
_COUNT = re.compile(rb"/Count (\d+)")


def to_pdf(page: Page, paper: str = "a4") -> bytes:
    """Return the page as PDF: the first sheet for the player, the rest for the coach.

    Type and margins are tighter where that saves a sheet, so that a word too many takes none.

    ``paper``: one of ``PAPERS``. The same page gives the same bytes. Raises ``CallError`` for
    another paper, ``DataError`` where the temporary folder has no room.
    """
    check_paper(paper)
    try:
        with tempfile.TemporaryDirectory() as folder:
            return _made(page, Path(folder), paper)
    except OSError as wrong:
        raise unwritten(Path(tempfile.gettempdir()), wrong, "What a PDF is made of") from wrong


def _made(page: Page, root: Path, paper: str) -> bytes:
    content = json.dumps(_content(page, root, paper), ensure_ascii=False)
    (root / "page.json").write_text(printable(content), encoding="utf-8")
    drawn = (file.read_text(encoding="utf-8") for file in root.glob("*.svg"))
    own = own_fonts_do("".join((content, *drawn)))
    template = files("sgzone.report.paper").joinpath("report.typ")
    (root / "report.typ").write_text(template.read_text(encoding="utf-8"), encoding="utf-8")
    return min((_set(root, paper, tight, own=own) for tight in ("no", "yes")), key=_sheets)


def _set(root: Path, paper: str, tight: str, *, own: bool) -> bytes:
    """Return the pages as set with usual or tight type and margins.

    ``own``: in the fonts that travel with the package alone, so that every machine sets the same.
    """
    inputs = {"paper": paper, "tight": tight}
    made = typst.compile(
        root / "report.typ",
        root=root,
        sys_inputs=inputs,
        font_paths=fonts_at_hand(own=own),
    )
    assert isinstance(made, bytes)
    return made


def _sheets(pdf: bytes) -> int:
    """Return how many sheets a PDF has: its page tree says so."""
    return max(int(number) for number in _COUNT.findall(pdf))


def check_paper(paper: str) -> None:
    """Raise ``CallError`` for a paper that is none of ``PAPERS``."""
    if paper not in PAPERS:
        raise CallError(f'no paper "{paper}"; choose from {", ".join(PAPERS)}')


def _content(page: Page, root: Path, paper: str) -> dict[str, Any]:
    """Return the page as plain data; charts are drawn into ``root`` and named."""
    printed = on_paper(page)
    return {
        "title": printed.title,
        "subtitle": printed.subtitle,
        "summary": printed.summary,
        "rows": [
            [_section(s, root, _LOWER[paper], w) for s, w in zip(row, widths(row), strict=True)]
            for row in in_rows(printed.sections)
        ],
        "colophon": printed.colophon,
        "player_sheet": any(s.place is Place.PLAYER for s in printed.sections),
        "one_sheet": printed.one_sheet,
        "colours": asdict(LIGHT),
        "fonts": FONTS,
    }


def in_rows(sections: Sequence[Section]) -> list[list[Section]]:
    """Return the sections in rows: two of a single chart each share one, for the coach."""
    rows: list[list[Section]] = []
    for section in sections:
        last = rows[-1] if rows else []
        if len(last) == 1 and _slim(last[0]) and _slim(section) and not section.fresh:
            last.append(section)
        else:
            rows.append([section])
    return rows


def widths(row: Sequence[Section]) -> tuple[int, ...]:
    """Return the pixels that each section of a row has."""
    if len(row) == 1:
        return (_SHEET,)
    return _PAIR


def _slim(section: Section) -> bool:
    panels = [panel for figure in section.figures for panel in figure.panels]
    return len(panels) == 1 and not section.tables and section.place is not Place.PLAYER


def _section(section: Section, root: Path, lower: float, width: int) -> dict[str, Any]:
    return {
        "title": section.title,
        "width": width,
        "fresh": section.fresh,
        "large": section.stays,
        "fine": section.place in (Place.FINE, Place.CLOSING),
        "items": section.items,
        "lead": section.lead,
        "figures": [_figure(figure, root, lower, width) for figure in section.figures],
        "tables": [_table(table) for table in section.tables],
        "notes": section.notes,
        "lines": section.lines,
        "cards": [asdict(card) for card in section.cards],
    }


def _figure(figure: Figure, root: Path, lower: float, width: int) -> dict[str, Any]:
    return {
        "panels": [
            {
                "title": panel.title,
                "alt": panel.alt,
                "file": _draw(panel, room(figure, width), lower, root),
            }
            for panel in figure.panels
        ],
        "columns": panels_a_row(figure),
        "caption": figure.caption,
        "keys": [asdict(key) for key in figure.keys],
    }


def panels_a_row(figure: Figure) -> int:
    """Return how many panels of a figure stand side by side on paper."""
    if figure.columns == 1:
        return 1
    return min(len(figure.panels), _MOST_A_ROW)


def room(figure: Figure, width: int) -> int:
    """Return the pixels that each panel of a figure has where its section has ``width``."""
    columns = panels_a_row(figure)
    return (width - (columns - 1) * _GAP) // columns


def _draw(panel: Panel, wide: int, lower: float, root: Path) -> str:
    """Draw a chart into a file and return its name; the page's setter embeds its font."""
    file, chart = root / f"{panel.id}.svg", read_rows(panel.chart)
    file.write_text(slim(to_svg(fitted(chart, wide, lower))), encoding="utf-8")
    return file.name


def fitted(chart: dict[str, Any], wide: int, lower: float) -> dict[str, Any]:
    """Return a chart that is ``wide`` pixels wide with its axes, and lower than on a screen."""
    narrow = wide < _SHEET / 2
    drawn = {**chart, "config": {**config(), "axisX": _NARROW if narrow else {}}}
    if narrow and "layer" in chart:
        drawn["layer"] = [_thinned(layer) for layer in chart["layer"]]
    if drawn.get("width") != WIDE:  # a map, whose two axes have one scale
        return {**drawn, "width": wide - _AXES, "height": wide - _AXES}
    height = drawn["height"]
    lowered = {"step": height["step"] * lower} if isinstance(height, dict) else height * lower
    fit = {"type": "fit-x", "contains": "padding"}
    return {**drawn, "width": wide, "height": lowered, "autosize": fit}


def _thinned(layer: dict[str, Any]) -> dict[str, Any]:
    """Return a layer that names every second of the ticks it has chosen itself, 0 among them.

    Where that would leave 0 alone, 0 and its neighbour stay.
    """
    x = layer.get("encoding", {}).get("x", {})
    ticks = (x.get("axis") or {}).get("values", [])
    if len(ticks) <= _MOST_TICKS:
        return layer
    step = ticks[1] - ticks[0]
    kept = [tick for tick in ticks if round(tick / step) % 2 == 0]
    axis = {**x["axis"], "values": kept if len(kept) > 1 else ticks[-2:]}
    return {**layer, "encoding": {**layer["encoding"], "x": {**x, "axis": axis}}}


def _table(table: Table) -> dict[str, Any]:
    """Return a table, its long headings folded so that they widen no column."""
    folded = [fill(h, _HEADING, break_long_words=False) for h in table.headings]
    return {**asdict(replace(table.typeset(), data=None)), "headings": folded}
