"""Draw the picture of every chart page from the demo season: ``python -m tests.docs.pictures``."""

from __future__ import annotations

import os
import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import Any

import altair as alt
import numpy as np
import vl_convert

import sgzone as sg
from sgzone.benchmarks.shown import curve_table, point_table
from sgzone.cards import clock
from sgzone.clubs.green import green_of
from sgzone.clubs.picture import picture
from sgzone.clubs.sheet import number_sheet, numbers_of
from sgzone.clubs.wear import wear_points, wear_steps
from sgzone.practice.series import block_series
from sgzone.practice.test_blocks import mixed_blocks
from sgzone.report.charts.squad import squad_reach
from sgzone.report.charts.theme import LIGHT, WIDE, config
from sgzone.report.screen.still import slim
from sgzone.review.beside.groups import compared_strokes
from sgzone.review.beside.pairs import finish_shares
from sgzone.review.beside.sides import two_seasons
from sgzone.review.where.proximity import (
    break_even_table,
    grid_table,
    proximity_points,
    proximity_table,
)
from sgzone.review.why.misses import miss_contours, miss_points
from sgzone.review.why.putting import putting_curve, putting_points
from sgzone.scoring.gained import scored
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import PART_NAMES
from tests.conftest import TODAY
from tests.demo_season import demo_file
from tests.docs.pages import ROOT
from tests.report.squads import squad

FOLDER = ROOT / "docs" / "charts" / "pictures"
_WIDTH = 640
_PANEL = 210
_NUMBER = 97.0
_REPLACED = "54"
_PAIR = ("full", "three-quarter")
_SPLIT = Selection(until=date(2026, 7, 14)), Selection(since=date(2026, 7, 15))
_SQUAD = ("Ada Birch", "Ben Cole", "Cy Dunn", "Dot Elm")

Drawn = dict[str, alt.TopLevelMixin]


def charts_of_the_demo() -> Drawn:
    """Return the chart of every page by the page's name, drawn by the public functions."""
    with open_store(demo_file(), read_only=True) as store:
        return {**_where(store), **_why(store), **_clubs(store), **_practice(store)} | _squad()


def _where(store: Store) -> Drawn:
    tour, strokes = sg.benchmark("tour"), scored(store, "tour")
    cells = grid_table(store, tour, strokes=strokes)
    points = proximity_points(strokes)
    trend = sg.trend(store, tour)
    squad = sg.fit_benchmark("own", tour, sg.outcomes(store, tour))
    now, before = reversed(_SPLIT)
    return {
        "by-part": sg.charts.by_part(
            sg.summarise(store, tour, by=["part"]).sort_values("gained_per_round")
        ),
        "grid": alt.vconcat(
            sg.charts.grid(cells).properties(width=_WIDTH),
            sg.charts.putt_grid(cells).properties(width=_WIDTH),
        ),
        "proximity": sg.charts.proximity(
            points, proximity_table(points, tour), break_even_table(tour, points)
        ),
        "trend": sg.charts.season_curve(trend[trend["part"] == "total"]),
        "pairs": sg.charts.pairs_chart(
            two_seasons(store, tour, now, before), ("from July 15", "before")
        ),
        "benchmark": sg.charts.benchmark_curves(
            curve_table(squad, tour), point_table(sg.outcomes(store, tour)), "own", "tour"
        ),
    }


def _why(store: Store) -> Drawn:
    strokes = scored(store, "tour")
    misses = miss_points(strokes)
    return {
        "why": sg.charts.why_chart(sg.why(store, "tour"), against="tour"),
        "miss-map": sg.charts.miss_map(misses, miss_contours(misses)),
        "putting": sg.charts.putting_curve_chart(
            putting_curve(strokes, np.arange(2.0, 21.0)), putting_points(strokes)
        ),
    }


def _clubs(store: Store) -> Drawn:
    tour, green = sg.benchmark("tour"), green_of(12, 31, 8, 24, ("sand", "rough", "water", "rough"))
    rows = compared_strokes(store, "swing", part="wedge_50_100")
    nearest = float(sg.break_even_proximity(tour, "fairway", rows["distance_ft"].median()))
    points = wear_points(store, tour)
    return {
        "ladder": sg.charts.stock_ladder(sg.clubs(store, tour)),
        "number": sg.charts.number_curve(number_sheet(store, numbers_of(40, 140, 10), tour)),
        "green": sg.charts.green_map(
            picture(sg.plan_number(store, _NUMBER, tour, green=green), _NUMBER, green)
        ),
        "wear": sg.charts.wear_curve(wear_steps(points[points["club"] == _REPLACED])),
        "comparison": alt.vconcat(
            sg.charts.comparison(finish_shares(rows, _PAIR), nearest).properties(width=_WIDTH),
            sg.charts.differences(sg.compare(store, "swing", part="wedge_50_100")).properties(
                width=_WIDTH
            ),
        ),
    }


def _practice(store: Store) -> Drawn:
    plan = sg.practice_plan(store, 6, 6, "tour")
    days = block_series(mixed_blocks(store, "tour"))
    return {
        "hours": sg.charts.hours_chart(plan.table),
        "return-curves": sg.charts.return_curves(plan.curves),
        "test-blocks": sg.charts.block_chart(
            days.sort_values("part", key=lambda parts: parts.map(PART_NAMES.index), kind="stable")
        ),
    }


def _squad() -> Drawn:
    with tempfile.TemporaryDirectory() as folder, squad(Path(folder), _SQUAD) as store:
        parts = sg.summarise(store, "tour", by=["player", "part"])
    reach = squad_reach(parts)
    own = {player: parts[parts["player"] == player] for player in _SQUAD}
    panels = [
        sg.charts.small_bars(rows, reach).properties(
            width=_PANEL, title="".join(word[0] for word in player.split())
        )
        for player, rows in own.items()
    ]
    return {"squad": alt.concat(*panels, columns=2)}


def whole(chart: alt.TopLevelMixin) -> dict[str, Any]:
    """Return a chart that stands alone: its own size, look and paper."""
    drawn = {**chart.to_dict(), "config": {**config(), "background": LIGHT.paper}}
    if drawn.get("width") == WIDE:
        drawn["width"] = _WIDTH
    return drawn


def draw(folder: Path) -> list[Path]:
    """Write every picture into a folder and return their paths; others are removed."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for name, chart in charts_of_the_demo().items():
        drawn = whole(chart)
        paths.append(folder / f"{name}.svg")
        paths[-1].write_text(slim(vl_convert.vegalite_to_svg(drawn)) + "\n", encoding="utf-8")
    for path in set(folder.iterdir()) - set(paths):
        path.unlink()
    return paths


if __name__ == "__main__":
    os.environ[clock.VARIABLE] = TODAY  # a picture does not change with the day it is drawn on
    for path in draw(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER):
        sys.stdout.write(f"{path}\n")
