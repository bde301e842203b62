"""The chart of an agreement: a dot a month, the day, the target and the day it is due."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from sgzone.report.charts.agreed import agreed_curve, curve_of
from sgzone.report.charts.theme import LIGHT

MONTHS = pd.DataFrame(
    {
        "date": pd.to_datetime(["2026-05-14", "2026-06-12", "2026-07-10"]),
        "later": [False, False, True],
        "value": [0.5, 0.6, 0.8],
        "low": [0.4, 0.5, 0.7],
        "high": [0.6, 0.7, 0.9],
        "n": [40, 50, 60],
    }
)
DAY, DUE = date(2026, 6, 30), date(2026, 9, 1)


def rows(spec: dict, name: str) -> list[dict]:
    return [row for data in spec["datasets"].values() for row in data if name in row]


def test_every_month_is_a_dot_with_its_range() -> None:
    spec = agreed_curve(MONTHS, "share", day=DAY, target=0.75, due=DUE).to_dict()
    seen = pd.DataFrame(rows(spec, "shown")).drop_duplicates("date")
    assert seen[["shown", "low", "high", "n"]].to_numpy().tolist() == [
        *([0.5, 0.4, 0.6, 40], [0.6, 0.5, 0.7, 50], [0.8, 0.7, 0.9, 60]),
    ]
    assert seen["when"].tolist() == ["before", "before", "since"]
    assert seen["said"].tolist() == ["50%", "60%", "80%"]
    assert seen["ranged"].tolist() == ["40 to 60%", "50 to 70%", "70 to 90%"]
    marks = {layer["mark"]["type"] for layer in spec["layer"]}
    assert marks == {"rule", "text", "point"}


def test_the_days_and_the_target_are_lines_with_names() -> None:
    spec = agreed_curve(MONTHS, "share", day=DAY, target=0.75, due=DUE).to_dict()
    named = {row["name"]: row.get("date", row.get("goal")) for row in rows(spec, "name")}
    assert named["target 75%"] == 0.75
    assert named["agreed"].startswith("2026-06-30")
    assert named["due"].startswith("2026-09-01")
    level = [layer for layer in spec["layer"] if layer["mark"].get("color") == LIGHT.loss]
    assert [layer["encoding"]["y"]["field"] for layer in level] == ["goal"]
    [low, high] = spec["layer"][-1]["encoding"]["x"]["scale"]["domain"]
    assert low < "2026-05-14"
    assert high > "2026-09-01"


def test_without_a_target_there_is_no_line_for_it() -> None:
    spec = agreed_curve(MONTHS, "per round", day=DAY).to_dict()
    assert {row["name"] for row in rows(spec, "name")} == {"agreed"}


def test_feet_are_metres_where_they_are_read_in_metres() -> None:
    feet = MONTHS.assign(value=[20.0, 30.0, 40.0], low=19.0, high=41.0)
    spec = agreed_curve(feet, "ft", day=DAY, target=10, units="metric").to_dict()
    seen = pd.DataFrame(rows(spec, "shown")).drop_duplicates("date")
    assert seen["shown"].tolist() == pytest.approx([6.096, 9.144, 12.192])
    assert seen["said"].tolist() == ["6.1 m", "9.1 m", "12.2 m"]
    assert rows(spec, "goal")[0]["goal"] == pytest.approx(3.048)


def test_an_agreement_gives_its_own_days() -> None:
    row = pd.Series(
        {"unit": "share", "day": pd.Timestamp(DAY), "target": float("nan"), "due": pd.NaT}
    )
    plain = agreed_curve(MONTHS, "share", day=DAY).to_dict()
    assert curve_of(row, MONTHS).to_dict()["datasets"] == plain["datasets"]
