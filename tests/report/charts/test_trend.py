"""The season's chart has a dot a round, and each half with the numbers the verdict rests on."""

from __future__ import annotations

import pandas as pd
import pytest
import vl_convert

from sgzone.report.charts import season_curve
from sgzone.report.charts.file import drawn
from sgzone.words.trend import READ_SMOOTH, READ_TREND, read_trend
from tests.report.charts.drawn import layers, of_mark, rows, tooltips

DAYS = ["2026-05-01", "2026-05-03", "2026-05-10", "2026-05-20", "2026-05-30"]


SEASON = pd.DataFrame(
    {
        "date": pd.to_datetime(DAYS),
        "round": 1,
        "holes": 18,
        "shots": 50,
        "gained_per_round": [-2.0, -3.0, -1.0, -4.0, -5.0],
        "smoothed": [-2.5, -2.4, -2.6, -3.9, -4.0],
        "low": -5.0,
        "high": -1.0,
    }
)
MET = pd.Timestamp("2026-05-11T12:00")
HALVES = pd.DataFrame(
    {
        "part": "total",
        "half": ["first", "second"],
        "start": [pd.Timestamp(DAYS[0]), MET],
        "end": [MET, pd.Timestamp(DAYS[-1])],
        "split": MET,
        "rounds": 2,
        "mean": [-2.5, -4.5],
        "low": [-3.0, -5.2],
        "high": [-2.0, -3.8],
    }
)


def test_each_half_has_its_mean_and_range_between_its_days() -> None:
    spec = season_curve(SEASON, HALVES).to_dict()
    area = of_mark(spec, "rect")[0]
    both = rows(spec, area)
    assert both[["mean", "low", "high"]].to_numpy().tolist() == [[-2.5, -3, -2], [-4.5, -5.2, -3.8]]
    assert (area["encoding"]["y"]["field"], area["encoding"]["y2"]["field"]) == ("low", "high")
    spans = [(area["encoding"][end]["field"]) for end in ("x", "x2")]
    assert spans == ["start", "end"]
    assert pd.to_datetime(both["end"]).tolist() == HALVES["end"].tolist()
    split, _, means = of_mark(spec, "rule")
    assert pd.to_datetime(rows(spec, split)["split"]).tolist() == [MET]
    assert means["encoding"]["y"]["field"] == "mean"
    names = [rows(spec, one)["label"].tolist() for one in of_mark(spec, "text")]
    assert names == [
        ["first 2 rounds|−2.5|−3.0 to −2.0"],
        ["last 2 rounds|−4.5|−5.2 to −3.8"],
    ]
    assert not of_mark(spec, "area")  # one grey, that of the halves
    assert len(rows(spec, of_mark(spec, "point")[0])) == 5
    assert {"rounds (n)", "gained per round, strokes"} <= tooltips(spec)
    assert "90% range from" in tooltips(season_curve(SEASON, HALVES, level=0.9).to_dict())
    assert read_trend(HALVES) == READ_TREND
    assert vl_convert.vegalite_to_svg(drawn(season_curve(SEASON, HALVES))).startswith("<svg")


NO_RANGE = HALVES.assign(low=float("nan"), high=float("nan"))


@pytest.mark.parametrize("halves", [None, NO_RANGE, HALVES.iloc[:0]])
def test_without_ranges_of_halves_the_line_has_its_band(halves: pd.DataFrame | None) -> None:
    spec = season_curve(SEASON, halves).to_dict()
    assert not of_mark(spec, "rect")
    (area,) = of_mark(spec, "area")
    assert (area["encoding"]["y"]["field"], area["encoding"]["y2"]["field"]) == ("low", "high")
    assert len(layers(spec)) == 4
    assert read_trend(HALVES.iloc[:0] if halves is None else halves) == READ_SMOOTH
