"""A chart's rows are those that Altair's own way gives, to the type."""

from __future__ import annotations

import json
from datetime import date

import altair as alt
import numpy as np
import pandas as pd
import pytest
from altair.utils.data import to_values

from sgzone.report.charts.rows import MOST_ROWS, chart_rows, read_rows
from sgzone.report.screen.html import spec
from sgzone.report.screen.packing import pack
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


def test_a_page_has_the_columns_that_are_read_and_every_row() -> None:
    table = pd.DataFrame({"a": [1.0, 2.0], "b b": ["x", "y"], "size": [3, 4], "nobody": [0, 0]})
    base = alt.Chart(table)
    other = pd.DataFrame({"a": [1.0, 2.0], "b b": ["x", "y"], "size": [3, 4]})
    chart = alt.layer(
        base.mark_point().encode(x="a:Q", y="b b:N").transform_filter("datum.size > 3"),
        alt.Chart(other).mark_rule().encode(x="a:Q"),
        alt.Chart(pd.DataFrame({"unread": [1, 2, 3]})).mark_rule(),
    )
    spec = read_rows(chart)
    rows = [{"a": 1.0, "b b": "x", "size": 3}, {"a": 2.0, "b b": "y", "size": 4}]
    names = [layer["data"]["name"] for layer in spec["layer"]]
    assert names[0] == names[1]  # equal rows are written once
    assert spec["datasets"] == {names[0]: rows, names[2]: [{}, {}, {}]}
    assert "config" not in spec


def test_what_is_drawn_of_the_demo_is_that_of_all_its_columns() -> None:
    panels = [p for s in demo_report().page.sections for f in s.figures for p in f.panels]
    usual = pack({panel.id: spec(panel) for panel in panels})
    assert pack({panel.id: read_rows(panel.chart) for panel in panels}) == usual
