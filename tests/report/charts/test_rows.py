"""A chart's rows are those that Altair's own way gives, to the type."""

from __future__ import annotations

import json
from datetime import date

import altair as alt
import numpy as np
import pandas as pd
import pytest
from altair.utils.data import to_values

from sgzone.report.charts.rows import MOST_ROWS, chart_rows
from sgzone.report.screen.html import spec
from tests.report.seasons import demo_report

COLUMNS = {
    "whole": pd.Series([1, 2, 3], dtype="int64"),
    "small": pd.Series([1, 2, 3], dtype="uint8"),
    "yes": pd.Series([True, False, True]),
    "length": pd.Series([0.1, np.nan, np.inf]),
    "single": pd.Series([0.1, np.nan, -np.inf], dtype="float32"),
    "word": pd.Series(["a", None, "\u202ec"], dtype="str"),
    "text": pd.Series(["a", pd.NA, ""], dtype="string"),
    "mixed": pd.Series(["a", None, 2], dtype=object),
    "group": pd.Series(["a", None, "b"], dtype="category"),
    "day": pd.to_datetime(pd.Series(["2026-05-01", None, "2026-05-03"])),
    "counted": pd.Series([1, pd.NA, 3], dtype="Int64"),
    "maybe": pd.Series([True, pd.NA, False], dtype="boolean"),
    "dates": pd.Series([date(2026, 5, 1), None, date(2026, 5, 3)], dtype=object),
}


@pytest.mark.parametrize("name", COLUMNS)
def test_every_type_of_column_as_altair_gives_it(name: str) -> None:
    table = pd.DataFrame({name: COLUMNS[name], "n": [1, 2, 3]})
    ours, theirs = chart_rows(table)["values"], to_values(table)["values"]
    assert repr(ours) == repr(theirs)
    assert list(ours[0]) == [name, "n"]


def test_an_empty_table_has_no_rows() -> None:
    assert chart_rows(pd.DataFrame({"a": [], "b": []})) == {"values": []}


def test_a_layer_of_too_many_rows_is_refused() -> None:
    with pytest.raises(alt.MaxRowsError):
        chart_rows(pd.DataFrame({"n": np.arange(MOST_ROWS + 1)}))


def test_the_demos_charts_are_those_of_altair() -> None:
    panels = [p for s in demo_report().page.sections for f in s.figures for p in f.panels]
    assert len(panels) > 15
    for panel in panels:
        theirs = panel.chart.to_dict(validate=False)
        del theirs["config"]
        assert json.dumps(spec(panel)) == json.dumps(theirs), panel.id
