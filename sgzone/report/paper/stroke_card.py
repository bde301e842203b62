"""Cards for a pocket, to write strokes on during a round: front nine before, back nine behind."""

from __future__ import annotations

import json
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst

from sgzone.errors import CallError
from sgzone.report.paper.signs import fonts_at_hand
from sgzone.words import paper as words
from sgzone.words.cautions import NO_HOLD_UP, NOT_THE_SCORE_CARD, RULES_LIMIT
from sgzone.writing import Output

SHEETS = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
"""Paper -> width and height in mm, lying: two cards side by side need that width."""
CARD = (130.0, 90.0)
"""Width and height in mm of a folded card: for a back pocket."""
BOXES = 6
FRONT_NINE, BACK_NINE = range(1, 10), range(10, 19)


def write_stroke_cards(path: Path, paper: str = "a4") -> Path:
    """Write a sheet of two cards as PDF, and return the path.

    Raises ``CallError`` for a paper that is none of ``SHEETS``, ``DataError`` where the file exists
    or cannot be written.
    """
    output = Output(path, None, what="The cards").check()
    output.write(stroke_cards(paper))
    return path


def stroke_cards(paper: str = "a4") -> bytes:
    """Return the sheet; the same paper gives the same bytes."""
    if paper not in SHEETS:
        raise CallError(f'no paper "{paper}"; choose from {", ".join(SHEETS)}')
    source = files("sgzone.report.paper").joinpath("stroke_card.typ").read_bytes()
    data = json.dumps(_content(paper))
    made: bytes = typst.compile(
        source, format="pdf", sys_inputs={"data": data}, font_paths=fonts_at_hand(own=True)
    )
    return made


def _content(paper: str) -> dict[str, Any]:
    places = (entry.split(" ", 1) for entry in words.PLACES.split("; "))
    cautions = (f"{RULES_LIMIT} {NO_HOLD_UP}", NOT_THE_SCORE_CARD)
    return {
        "sheet": SHEETS[paper],
        "card": CARD,
        "boxes": BOXES,
        "hole": words.HOLE_HEAD,
        "legend": [[*places, *words.ENDS], words.SIGNS],
        "to_print": words.TO_PRINT,
        "faces": [
            _face(words.FRONT_LABELS, FRONT_NINE, [("", said) for said in cautions]),
            _face(words.BACK_LABELS, BACK_NINE, [("", words.DISTANCES), words.WORKED]),
        ],
    }


def _face(
    labels: Sequence[tuple[str, int]], holes: range, edge: Sequence[tuple[str, str]]
) -> dict[str, Any]:
    """Return a face; ``edge``: what stands along it, each a sign in bold or none, and words."""
    return {"labels": labels, "holes": [*holes], "edge": edge}
