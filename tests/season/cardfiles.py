"""Small card files for tests."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from pathlib import Path

from tests.strategies import Row

HEADER = "player,date,hole,shot,lie,distance,penalty,result"


def card_text(*rows: str, header: str = HEADER) -> str:
    """Return a card whose rows leave out player and date: ``1,1,fairway,100``."""
    width = header.count(",") + 1
    lines = [f"Ada,2026-05-14,{row}" for row in rows]
    return (
        "\n".join([header, *(line + "," * (width - 1 - line.count(",")) for line in lines)]) + "\n"
    )


def write(folder: Path, text: str, name: str = "card.csv") -> Path:
    """Write a text file and return its path."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def cells_text(rows: Iterable[Mapping[str, str]]) -> str:
    """Return rows of cells as CSV."""
    rows = list(rows)
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def rows_text(rows: Iterable[Row], unit: str = "ft") -> str:
    """Return drawn rows as CSV, their distances written in one unit."""
    return cells_text(row.cells(unit) for row in rows)
