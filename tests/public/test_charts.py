"""Every chart is drawn from tables that a caller can get."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import altair as alt
import pandas as pd
import polars as pl
import pytest

import sgzone as sg
from sgzone.public import charts
from sgzone.public.dtypes import plain
from sgzone.report import charts as inside
from sgzone.resources import data_path
from sgzone.season.agreed.keeping import About, add
from sgzone.season.store import Store, open_store
from tests.demo_season import demo_file

Drawn = Callable[[Store], alt.TopLevelMixin]


def _of_misses(store: Store) -> alt.TopLevelMixin:
    points = sg.tables.miss_points(store, "club")
    return sg.charts.miss_map(points, sg.tables.miss_contours(points))


def _proximity(store: Store) -> tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame]:
    points = sg.tables.proximity_points(store)
    points = points[points["lie"] == "fairway"]
    medians = sg.tables.proximity_medians(points, "scratch")
    return points, medians, sg.tables.break_even(points, "scratch")


def _of_fitted(store: Store) -> alt.TopLevelMixin:
    rows = sg.outcomes(store)
    curves = sg.tables.curves(sg.fit_benchmark("own", "tour", rows))
    return sg.charts.benchmark_curves(curves, sg.tables.needed(rows), "own", "tour")


def _of_green(store: Store) -> alt.TopLevelMixin:
    green = sg.Green(12, 31, 8, 24, ("sand", "rough", "water", "rough"))
    return sg.charts.green_map(sg.plan_number(store, 97, green=green), 97, green)


def _of_compared(store: Store) -> alt.TopLevelMixin:
    shares = sg.tables.finish_shares(store, "swing", ("full", "half"), part="wedge_50_100")
    return sg.charts.comparison(shares, 20.0)


def _of_agreed(store: Store) -> alt.TopLevelMixin:
    agreed = pd.Timestamp(2026, 6, 1).date()
    with open_store() as own:
        own.load(sg.read_card(data_path("demo/season.csv")))
        add(own, own.players()[0], "putts from 5 ft", About(part="putt_0_10"), agreed)
        unit = sg.agreements(own)["unit"].iloc[0]
        return sg.charts.agreed_curve(sg.tables.agreed_months(own, 1), unit, day=agreed)


def _one(table: pd.DataFrame, part: str) -> pd.DataFrame:
    return table[table["part"] == part]


DRAWN: dict[str, Drawn] = {
    "agreed_curve": _of_agreed,
    "benchmark_curves": _of_fitted,
    "block_chart": lambda s: sg.charts.block_chart(sg.tables.block_days(s)),
    "by_part": lambda s: sg.charts.by_part(sg.summarise(s, by="part,total")),
    "main_causes_chart": lambda s: sg.charts.main_causes_chart(sg.why(s)),
    "round_strip": lambda s: sg.charts.round_strip(sg.debrief(s).holes, sg.debrief(s).worst),
    "squad_grid": lambda s: sg.charts.squad_grid(sg.summarise(s, by="player,part,total")),
    "cause_bars": lambda s: sg.charts.cause_bars(_one(sg.why(s), "wedge_50_100")),
    "comparison": _of_compared,
    "differences": lambda s: sg.charts.differences(sg.compare(s, "swing")),
    "green_map": _of_green,
    "grid": lambda s: sg.charts.grid(sg.tables.grid(s)),
    "hours_chart": lambda s: sg.charts.hours_chart(sg.practice_plan(s, 5).table),
    "miss_map": _of_misses,
    "number_curve": lambda s: sg.charts.number_curve(sg.tables.number_sheet(s, range(60, 141, 20))),
    "pairs_chart": lambda s: sg.charts.pairs_chart(
        sg.tables.before_after(s, "2026-07-15"), ("after", "before")
    ),
    "proximity": lambda s: sg.charts.proximity(*_proximity(s)),
    "proximity_panel": lambda s: sg.charts.proximity_panel(*_proximity(s), "fairway"),
    "putt_grid": lambda s: sg.charts.putt_grid(sg.tables.grid(s)),
    "putting_curve_chart": lambda s: sg.charts.putting_curve_chart(
        sg.tables.putting_curves(s), sg.tables.putting_points(s)
    ),
    "return_curves": lambda s: sg.charts.return_curves(sg.practice_plan(s, 5).curves),
    "season_curve": lambda s: sg.charts.season_curve(sg.trend(s), sg.tables.season_halves(s)),
    "small_bars": lambda s: sg.charts.small_bars(sg.summarise(s)),
    "standards": lambda s: sg.charts.standards(sg.plays_like(s)),
    "stock_ladder": lambda s: sg.charts.stock_ladder(sg.clubs(s)),
    "wear_curve": lambda s: sg.charts.wear_curve(sg.tables.wear_steps(s, "54")),
    "why_chart": lambda s: sg.charts.why_chart(sg.why(s)),
}


@pytest.fixture(scope="module")
def demo() -> Iterator[Store]:
    with open_store(demo_file(), read_only=True) as store:
        yield store


def test_every_chart_is_tried() -> None:
    assert set(DRAWN) == set(charts.__all__) == set(inside.__all__)


@pytest.mark.repeats
@pytest.mark.parametrize("name", DRAWN)
def test_a_chart_is_drawn_from_public_tables(name: str, demo: Store) -> None:
    drawn = DRAWN[name](demo).to_dict()
    rows = [row for data in drawn["datasets"].values() for row in data]
    assert len(rows) > 2
    assert len({str(row) for row in rows}) > 2


def test_the_types_of_a_table_do_not_change_its_chart(demo: Store) -> None:
    parts = sg.summarise(demo)
    assert charts.by_part(parts).to_dict() == inside.by_part(plain(parts)).to_dict()


def test_a_chart_is_its_callers_own(demo: Store) -> None:
    chart = sg.charts.by_part(sg.summarise(demo))
    first, second = chart.layer[0], chart.layer[1]
    kept, other = chart.copy(), second.to_dict()
    first.encoding.x.title = "mine"
    assert kept.layer[0].encoding.x.title != "mine"
    assert second.to_dict() == other
    assert type(first) is alt.Chart


def test_a_season_is_drawn_as_the_report_draws_it(demo: Store) -> None:
    rows, halves = sg.trend(demo, level=0.9), sg.tables.season_halves(demo, level=0.9)
    own = inside.season_curve(
        plain(_one(rows, "total")), plain(_one(halves, "total")), level=0.9
    ).to_dict()
    assert charts.season_curve(rows, halves, level=0.9).to_dict() == own
    assert charts.season_curve(rows, level=0.9).to_dict() != own


def test_one_part_of_a_season_is_drawn_as_itself(demo: Store) -> None:
    rows, halves = sg.trend(demo), sg.tables.season_halves(demo)
    drawn = charts.season_curve(_one(rows, "putt_0_10"), halves).to_dict()
    means = {row["mean"] for data in drawn["datasets"].values() for row in data if "mean" in row}
    assert means == set(_one(halves, "putt_0_10")["mean"])


def test_no_rows_of_a_season_are_an_empty_chart(demo: Store) -> None:
    assert charts.season_curve(sg.trend(demo, until="2020-01-01")).to_dict()["layer"]


CARD = pd.DataFrame({"player": ["Ada"], "hole": [1]})
MORE: dict[str, tuple[Any, ...]] = {
    **{"agreed_curve": ("share",), "comparison": (20.0,), "green_map": (97,)},
    **{
        "benchmark_curves": (CARD, "own", "tour"),
        "miss_map": (CARD,),
        "pairs_chart": (("a", "b"),),
    },
    **{"proximity_panel": (CARD, CARD, "fairway"), "putting_curve_chart": (CARD,)},
}
"""What a chart wants beside its first table."""
NAMED = {"agreed_curve": {"day": pd.Timestamp(2026, 6, 1).date()}}


@pytest.mark.parametrize("name", DRAWN)
def test_another_table_is_refused_by_the_name_of_the_right_one(name: str) -> None:
    draw, more = getattr(sg.charts, name), MORE.get(name, ())
    with pytest.raises(
        sg.CallError, match=rf"^{name} draws tables of sg\.\w+.*; the one given has"
    ):
        draw(CARD, *more, **NAMED.get(name, {}))
    for other in (None, "parts.csv", pl.DataFrame(CARD)):
        with pytest.raises(sg.CallError, match=r"sg\..*= is a \w+, no pandas frame"):
            draw(other, *more, **NAMED.get(name, {}))
