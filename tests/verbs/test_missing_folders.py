"""A folder that is not there is refused before anything is saved, with what to do."""

from __future__ import annotations

import altair as alt
import pytest
from click.testing import CliRunner

from sgzone.benchmarks.saved import saved_names
from sgzone.errors import CallError, DataError
from sgzone.report.charts.file import write_chart
from sgzone.resources import data_path
from sgzone.season.store import open_store
from sgzone.verbs.fit import fit


def test_fit_saves_nothing_where_its_file_has_no_folder(tmp_path):
    db = tmp_path / "s.duckdb"
    with open_store(db) as store:
        store.load(data_path("demo/season.csv"))
    out = tmp_path / "nowhere" / "x.csv"
    call = ["--db", str(db), "--name", "squad", "--out", str(out)]
    result = CliRunner().invoke(fit, call)
    assert isinstance(result.exception, CallError)
    assert "nothing was saved" in str(result.exception)
    with open_store(db, read_only=True) as store:
        assert "squad" not in saved_names(store)


def test_a_chart_without_its_folder_says_what_to_do(tmp_path):
    chart = alt.Chart(alt.Data(values=[{"x": 1}])).mark_point().encode(x="x:Q")
    with pytest.raises(DataError, match=r"There is no folder .*make it first"):
        write_chart(chart, tmp_path / "nowhere" / "x.json")
