"""Every chart: each public function takes finished tables and returns an Altair chart."""

from __future__ import annotations

from sgzone.report.charts.agreed import agreed_curve
from sgzone.report.charts.benchmark import benchmark_curves
from sgzone.report.charts.causes import main_causes_chart
from sgzone.report.charts.clubs import green_map, number_curve, stock_ladder, wear_curve
from sgzone.report.charts.compare import comparison, differences
from sgzone.report.charts.grid import grid, putt_grid
from sgzone.report.charts.hours import hours_chart
from sgzone.report.charts.one_round import round_strip
from sgzone.report.charts.plays_like import standards
from sgzone.report.charts.practice import block_chart, return_curves
from sgzone.report.charts.proximity import proximity, proximity_panel
from sgzone.report.charts.putts import putting_curve_chart
from sgzone.report.charts.sides import pairs_chart
from sgzone.report.charts.squad import small_bars, squad_grid
from sgzone.report.charts.trend import season_curve
from sgzone.report.charts.where import by_part
from sgzone.report.charts.why import cause_bars, miss_map, why_chart

__all__ = [
    "agreed_curve",
    "benchmark_curves",
    "block_chart",
    "by_part",
    "cause_bars",
    "comparison",
    "differences",
    "green_map",
    "grid",
    "hours_chart",
    "main_causes_chart",
    "miss_map",
    "number_curve",
    "pairs_chart",
    "proximity",
    "proximity_panel",
    "putt_grid",
    "putting_curve_chart",
    "return_curves",
    "round_strip",
    "season_curve",
    "small_bars",
    "squad_grid",
    "standards",
    "stock_ladder",
    "wear_curve",
    "why_chart",
]
