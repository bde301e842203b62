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

from sgzone.clubs.number import EQUAL, played_words
from sgzone.clubs.sheet import RULES
from sgzone.errors import CallError
from sgzone.inputs import refuse_no_name
from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.writing import unwritten, write_whole

KINDS = (".csv", ".html", ".pdf")
NONE_NEAR = "no stock swing near"
_POCKET_ROWS = 2  # the best, and one that is equal here


def write_sheet(
    sheet: pd.DataFrame, path: Path, *, subtitle: str = "", units: str = "yards"
) -> Path:
    """Write a sheet (``clubs.sheet.number_sheet``) to .csv, .html or .pdf and return the path.

    CSV holds every column, unrounded, in the units of its headings; ``units`` (yards or metric)
    and ``subtitle`` are for the other two. Raises ``CallError`` for another ending, ``DataError``
    where the file cannot be written.
    """
    refuse_no_name(path)
    kind = path.suffix.lower()
    if kind not in KINDS:
        raise CallError(f"{path.name}: a sheet is written as {', '.join(KINDS)}; choose one")
    made: str | bytes
    if kind == ".csv":
        made = sheet_csv(sheet)
    elif kind == ".html":
        made = sheet_html(sheet, subtitle=subtitle, units=units)
    else:
        made = sheet_pdf(sheet, subtitle=subtitle, units=units)
    try:
        write_whole(path, made)
    except OSError as wrong:
        raise unwritten(path, wrong, "The sheet") from wrong
    return path


def sheet_csv(sheet: pd.DataFrame) -> str:
    """Return the sheet as CSV; every row has the rules in its column ``prepare``."""
    return sheet.to_csv(index=False, lineterminator="\n")


def sheet_html(sheet: pd.DataFrame, *, subtitle: str = "", units: str = "yards") -> str:
    """Return the sheet as a fragment of HTML: a section with one table, no style of its own."""
    heads = "".join(f'<th scope="col">{html.escape(head)}</th>' for head in _heads(units))
    body = []
    for row in _rows(sheet, units, per_number=None):
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
    data = {
        "title": "Numbers",
        "subtitle": subtitle,
        "heads": _heads(units),
        "rows": _rows(sheet, units, per_number=_POCKET_ROWS),
        "notes": [f"Pale: {EQUAL} within 0.02 strokes. Strokes to hole out, on average.", RULES],
    }
    source = files("sgzone.report").joinpath("templates", "number_card.typ").read_bytes()
    made: bytes = typst.compile(source, format="pdf", sys_inputs={"data": json.dumps(data)})
    return made


def _heads(units: str) -> list[str]:
    long, short = ("m", "m") if units == "metric" else ("yd", "ft")
    return [f"number, {long}", "swing", f"land, {long}", f"aim, {short}", "strokes"]


def _rows(sheet: pd.DataFrame, units: str, per_number: int | None) -> list[dict[str, Any]]:
    """Return the printed rows: cells, whether it is the best of its number and the last one.

    With ``per_number`` only so many of each number, and beside the best only what is equal to it.
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
        rows.append({"cells": _cells(row, units, first), "first": first, "last": last})
    return rows


def _cells(row: pd.Series[Any], units: str, first: bool) -> Sequence[str]:
    yd, ft = (M_PER_YD, M_PER_FT) if units == "metric" else (1.0, 1.0)
    number = f"{row['number_yd'] * yd:.0f}" if first else ""
    if pd.isna(row["club"]):
        return [number, NONE_NEAR, "", "", ""]
    swing = f"{row['club']} {row['swing']}".strip()
    if row["moved_yd"]:
        swing += f", {played_words([row['moved_yd']], units)[0]}"
    side = row["side_aim_ft"]
    word = "hole" if not side else f"{abs(side) * ft:.{int(ft != 1)}f} {'R' if side > 0 else 'L'}"
    return [number, swing, f"{row['landing_yd'] * yd:.0f}", word, f"{row['expected_strokes']:.2f}"]
