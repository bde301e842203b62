"""The strokes that travel in the page: all of them, no note unasked, nothing a sheet would run."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.report.asked import Asked
from sgzone.report.charts.chosen.sums import as_played
from sgzone.report.strokes.packed import headings, packed


def _packed(asked: Asked, notes: pd.DataFrame | None = None) -> dict[str, object]:
    chart = as_played(asked.parts)
    return packed(asked.strokes, asked.sizes, asked.say, chart, notes).data


def test_every_stroke_is_there_with_its_part_and_value(asked: Asked) -> None:
    data = _packed(asked)
    rows, parts = data["rows"], data["words"]["part"]  # type: ignore[index]
    assert isinstance(rows, list)
    assert len(rows) == len(asked.strokes)
    inside = asked.strokes["part"] != "outside"
    assert [row[5] >= 0 for row in rows] == inside.tolist()
    putts = sum(row[11] for row in rows if row[11] is not None and parts[row[5]] == "putt_0_10")
    own = asked.strokes[asked.strokes["part"] == "putt_0_10"]
    assert putts == pytest.approx(own["gained"].sum(), abs=1e-4)
    assert sum(row[3] for row in data["rounds"]) == asked.holes  # type: ignore[attr-defined]


def test_notes_travel_only_where_they_were_asked_for(asked: Asked) -> None:
    first = asked.strokes.iloc[[3]]
    notes = first[["date", "round", "hole", "shot"]].assign(note="=cmd|'x'")
    assert _packed(asked)["notes"] == {}
    data = _packed(asked, notes)
    assert data["notes"] == {3: "=cmd|'x'"}
    assert data["guarded"] == {"=cmd|'x'": "'=cmd|'x'"}
    assert [name for name, _ in headings(notes=False)][-1] == "gained"
    assert [name for name, _ in headings(notes=True)][-1] == "note"
