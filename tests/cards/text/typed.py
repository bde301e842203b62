"""A typed line or card, and what is read of it, short enough to stand in a list."""

from __future__ import annotations

from collections.abc import Mapping

from sgzone.cards.given import NOTHING, Given
from sgzone.cards.text.table import table_of_card
from sgzone.errors import Problem

HEAD = "Ned Farrow, 14 May 2026, Home"


def rows_of(text: str, given: Given = NOTHING) -> list[dict[str, str]]:
    """Return the filled cells of every row of a card."""
    table, _, _ = table_of_card("round.txt", text, given)
    named = table.drop(["source_row", "broken"]).to_pylist()
    return [{k: v for k, v in row.items() if v is not None} for row in named]


def problems_of(text: str, given: Given = NOTHING) -> list[Problem]:
    """Return every question and note of a card."""
    return list(table_of_card("round.txt", text, given)[2])


def errors_of(text: str, given: Given = NOTHING) -> list[Problem]:
    """Return the questions of a card."""
    return [problem for problem in problems_of(text, given) if problem.severity == "error"]


def short(row: Mapping[str, str]) -> str:
    """Return a row as ``fairway 112 yd * /50 /half (-8,4) conceded``."""
    told = [row.get("lie", "?"), row.get("distance", "?"), "*" * int(row.get("penalty", "0"))]
    told += [f"/{row[name]}" for name in ("club", "swing") if name in row]
    if "depth_ft" in row or "side_ft" in row:
        told.append(f"({row.get('depth_ft', '')},{row.get('side_ft', '')})")
    return " ".join(filter(None, [*told, row.get("result", "")]))


def strokes(line: str, *, head: str = HEAD) -> str:
    """Return the places of one hole line; every question it raises makes it fail."""
    text = f"{head}\n{line}\n"
    assert [(p.value, p.wrong) for p in errors_of(text)] == []
    return "; ".join(map(short, rows_of(text)))


def question(line: str, *, head: str = HEAD) -> Problem:
    """Return the one question that a hole line raises; no row of it is read."""
    text = f"{head}\n{line}\n"
    assert rows_of(text) == []
    (problem,) = errors_of(text)
    assert problem.row == 2
    return problem
