"""A sheet of prepared numbers as CSV, as a fragment of HTML and as a pocket card in PDF."""

from __future__ import annotations

import html
import json
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

import pandas as pd
import typst

from sgzone.errors import CallError
from sgzone.report.marks import SHEETS
from sgzone.report.paper.signs import fonts_at_hand, own_fonts_do
from sgzone.stats.verdict import EQUAL
from sgzone.words.cautions import RULES
from sgzone.words.number import played
from sgzone.words.say import Say
from sgzone.writing import NOTHING, Output, Reads

KINDS = (".csv", ".html", ".pdf")
NONE_NEAR = "no stock swing near"
_POCKET_ROWS = 2  # the best, and one that is equal here
_SIGNS = {"three-quarter": "¾", "half": "½"}
"""How a swing is written where a line is as wide as a pocket."""


def sheet_output(path: Path, reads: Reads = NOTHING) -> Output:
    """Return where a sheet goes, checked before it is made.

    Raises ``CallError`` for another ending, or over what the call reads; ``DataError`` where
    something else is there.
    """
    kind = path.suffix.lower()
    if kind not in KINDS:
        raise CallError(f"{path.name}: a sheet is written as {', '.join(KINDS)}; choose one")
    return Output(path, SHEETS[kind], reads, "The sheet").check()


def write_sheet(
    sheet: pd.DataFrame,
    path: Path,
    *,
    subtitle: str = "",
    units: str = "yards",
    reads: Reads = NOTHING,
) -> Path:
    """Write a sheet (``clubs.sheet.number_sheet``) to .csv, .html or .pdf and return the path.

    CSV holds every column, unrounded, in the units of its headings; ``units`` (yards or metric)
    and ``subtitle`` are for the other two. Raises as ``sheet_output``, and ``DataError`` where the
    file cannot be written.
    """
    output = sheet_output(path, reads)
    kind = path.suffix.lower()
    made: str | bytes
    if kind == ".csv":
        made = sheet_csv(sheet)
    elif kind == ".html":
        made = sheet_html(sheet, subtitle=subtitle, units=units)
    else:
        made = sheet_pdf(sheet, subtitle=subtitle, units=units)
    output.write(made)
    return path


def sheet_csv(sheet: pd.DataFrame) -> str:
    """Return the sheet as CSV; every row has the rules in its column ``prepare``."""
    return sheet.to_csv(index=False, lineterminator="\n")


def sheet_html(sheet: pd.DataFrame, *, subtitle: str = "", units: str = "yards") -> str:
    """Return the sheet as a fragment of HTML: a section with one table, no style of its own."""
    say = Say(units)
    heads = "".join(f'<th scope="col">{html.escape(head)}</th>' for head in _heads(say))
    body = []
    for row in _rows(sheet, say, per_number=None):
        first, *others = (html.escape(cell) for cell in row["cells"])
        tag = f'<th scope="row">{first}</th>'
        body.append(f"<tr>{tag}{''.join(f'<td>{cell}</td>' for cell in others)}</tr>")
    said = f"<p>{html.escape(subtitle)}</p>" if subtitle else ""
    rows = "\n".join(body)
    lines = [
        '<section class="number-sheet">',
        f"<h2>Numbers</h2>{said}",
        f"<table><thead><tr>{heads}</tr></thead>",
        f"<tbody>\n{rows}\n</tbody></table>",
        f"<p>{html.escape(RULES)}</p>",
        "</section>\n",
    ]
    return "\n".join(lines)


def sheet_pdf(sheet: pd.DataFrame, *, subtitle: str = "", units: str = "yards") -> bytes:
    """Return the sheet as a pocket card: per number the best swing and one that is equal here."""
    say = Say(units)
    marks: dict[str, str] = {}
    rows = _rows(sheet, say, per_number=_POCKET_ROWS, marks=marks)
    pale = f"Pale: {EQUAL} within 0.02 strokes. Strokes to hole out, on average."
    data = {
        "title": "Numbers",
        "subtitle": subtitle,
        "heads": [head.replace(", ", "\n") for head in _heads(say)],
        "rows": rows,
        "notes": [*(f"{mark} {note}." for note, mark in marks.items()), pale, RULES],
    }
    source = files("sgzone.report.paper").joinpath("number_card.typ").read_bytes()
    text = json.dumps(data, ensure_ascii=False)
    made: bytes = typst.compile(
        source,
        format="pdf",
        sys_inputs={"data": text},
        font_paths=fonts_at_hand(own=own_fonts_do(text)),
    )
    return made


def _heads(say: Say) -> list[str]:
    long, short = say.unit("yd"), say.unit("ft")
    return [f"number, {long}", "swing", f"land, {long}", f"aim, {short}", "strokes"]


def _rows(
    sheet: pd.DataFrame, say: Say, per_number: int | None, marks: dict[str, str] | None = None
) -> list[dict[str, Any]]:
    """Return the printed rows: cells, whether it is the best of its number and the last one.

    With ``per_number`` only so many of each number, and beside the best only what is equal to it.
    ``marks``: filled with the mark of each note, which then stands for it in the cells.
    """
    shown = sheet
    if per_number is not None:
        equal = (sheet["rank"] == 1) | (sheet["verdict"] == EQUAL)
        shown = sheet[equal & (sheet["rank"] <= per_number)]
    rows = []
    ranks = shown["rank"].tolist()
    for k, (_, row) in enumerate(shown.iterrows()):
        first = ranks[k] == 1
        last = k + 1 == len(ranks) or ranks[k + 1] == 1
        cells = _cells(row, say, first, marks)
        rows.append({"cells": cells, "first": first, "last": last})
    return rows


def _cells(
    row: pd.Series[Any], say: Say, first: bool, marks: dict[str, str] | None
) -> Sequence[str]:
    number = f"{row['number_yd'] * say.factor('yd'):.0f}" if first else ""
    if pd.isna(row["club"]):
        return [number, NONE_NEAR, "", "", ""]
    name = str(row["swing"])
    swing = f"{row['club']} {name if marks is None else _SIGNS.get(name, name)}".strip()
    if row["moved_yd"]:
        swing += f", {played(row['moved_yd'], say)}"
    note = row.get("note")
    if note:
        swing += f" ({note})" if marks is None else f" {_mark(note, marks)}"
    land, side = row["landing_yd"] * say.factor("yd"), row["side_aim_ft"]
    aim = f"{abs(side) * say.factor('ft'):.{say.places('ft')}f} {'R' if side > 0 else 'L'}"
    return [number, swing, f"{land:.0f}", aim if side else "hole", f"{row['expected_strokes']:.2f}"]


def _mark(note: str, marks: dict[str, str]) -> str:
    """Return the mark of a note: stars, one more for each note that is not there yet."""
    return marks.setdefault(note, "*" * (len(marks) + 1))
