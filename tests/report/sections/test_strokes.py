"""Stroke by stroke: the worst and best of each part, as they were played."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from sgzone.report.asked import Asked
from sgzone.report.sections import strokes
from sgzone.words.screen import listed


def test_each_part_has_its_worst_and_best_by_value(asked: Asked) -> None:
    section = strokes.section(asked)
    assert section.lead == listed.LEAD
    valued = asked.strokes[asked.strokes["gained"].notna() & (asked.strokes["part"] != "outside")]
    assert len(section.folded) == valued["part"].nunique()
    for words, table in section.folded:
        [part] = {
            name for name in valued["part"].unique() if words.startswith(asked.say.part(name))
        }
        own = valued.loc[valued["part"] == part, "gained"].sort_values()
        assert words.startswith(f"{asked.say.part(part)}: {len(own)} strokes")
        expected = own if len(own) <= 10 else pd.concat([own.head(5), own.tail(5)])
        shown = [float(row[-1]) for row in table.rows]
        assert shown == pytest.approx(expected.tolist(), abs=0.0051)
        assert table.data is not None
        assert table.data["gained"].tolist() == pytest.approx(expected.tolist(), abs=0)


def test_a_stroke_stands_with_its_place_and_no_note_unasked(asked: Asked) -> None:
    [(_, table)] = [one for one in strokes.section(asked).folded if one[0].startswith("wedge")]
    assert table.headings == ("date", "hole", "from", "club", "to", "gained")
    worst = asked.strokes[asked.strokes["part"] == "wedge_50_100"].nsmallest(1, "gained")
    first = table.rows[0]
    assert first[0] == f"{worst['date'].iloc[0]:%Y-%m-%d}"
    assert first[1] == str(worst["hole"].iloc[0])
    assert first[2] == f"{worst['lie'].iloc[0]} {worst['distance_yd'].iloc[0]:.0f} yd"


def test_nothing_with_a_value_is_said(asked: Asked) -> None:
    none = replace(asked)
    none.__dict__["strokes"] = asked.strokes.assign(gained=float("nan"))
    section = strokes.section(none)
    assert section.folded == ()
    assert section.lead == (listed.NO_STROKES,)
