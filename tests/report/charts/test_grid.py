"""The grid's colours and words are what its table says, and say the same."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.report.asked import Asked
from sgzone.report.charts import grid, putt_grid
from sgzone.report.charts.grid import reach_of, settled
from sgzone.report.charts.theme import LIGHT
from sgzone.stats.verdict import OPEN, side_of
from tests.report.charts.drawn import of_mark, rows

NONE = float("nan")


def test_the_grid_has_every_cell_with_its_number(asked: Asked) -> None:
    off = asked.grid[asked.grid["lie"] != "green"].reset_index(drop=True)
    spec = grid(asked.grid).to_dict()
    drawn = rows(spec, spec)
    assert list(drawn["number"]) == [f"n {n}" for n in off["shots"]]
    judged = off["shrunk_per_shot"].notna()
    assert list(drawn["said"] != "") == list(judged)
    for said, value in zip(drawn["said"][judged], off["shrunk_per_shot"][judged], strict=True):
        assert said.rstrip("†").replace("−", "-") == f"{value:+.2f}"
    marked = drawn["said"].str.endswith("†")
    assert list(marked) == list(judged & (off["basis"] != "published"))
    assert marked.any()
    assert spec["layer"][0]["encoding"]["y"]["sort"][0] == "125-150 yd"
    putts = putt_grid(asked.grid).to_dict()
    assert set(rows(putts, putts)["lie"]) == {"green"}
    assert len(rows(putts, putts)) + len(drawn) == len(asked.grid)


def _cells(values: list[float], low: list[float], high: list[float], verdicts: list[str]):
    return pd.DataFrame(
        {
            "band": ["125-150 yd", "100-125 yd", "75-100 yd", "50-75 yd"][: len(values)],
            "lie": "rough",
            "shots": 30,
            "rounds": 12,
            "verdict": verdicts,
            "basis": "published",
            **dict.fromkeys(("gained_per_shot", "low", "high"), -0.1),
            "shrunk_per_shot": values,
            "shrunk_low": low,
            "shrunk_high": high,
        }
    )


CELLS = _cells(
    [-0.21, 0.04, -0.08, NONE],
    [-0.30, -0.01, -0.12, NONE],
    [-0.10, 0.09, -0.03, NONE],
    ["clear loss", "probable gain", "not settled", "not enough data"],
)


def test_a_cell_has_a_ground_only_where_its_side_is_settled() -> None:
    """By hand: the second range reaches 0, the third has no verdict, the fourth no value."""
    assert list(settled(CELLS)) == [True, False, False, False]
    assert side_of("not settled") == OPEN
    spec = grid(CELLS).to_dict()
    blank, outlined, full = of_mark(spec, "rect")
    assert blank["transform"][0]["filter"] == "!isValid(datum.shrunk_per_shot)"
    assert blank["mark"]["opacity"] == 0
    assert outlined["transform"][0]["filter"].endswith("&& !datum.sure")
    assert (outlined["mark"]["fillOpacity"], "color" in outlined["encoding"]) == (0, False)
    assert full["transform"][0]["filter"].endswith("&& datum.sure")
    assert full["encoding"]["color"]["field"] == "shrunk_per_shot"
    assert outlined["encoding"]["stroke"]["field"] == "shrunk_per_shot"
    assert list(rows(spec, spec)["sure"]) == [True, False, False, False]


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("values", "reach"),
    [([-0.21, 0.04], 0.25), ([-0.2, 0.04], 0.2), ([0.02, -0.01], 0.05), ([NONE, NONE], 0.05)],
)
def test_the_colours_go_as_far_on_both_sides(values: list[float], reach: float) -> None:
    table = _cells(values, values, values, ["not settled"] * 2)
    assert reach_of(table) == pytest.approx(reach)
    for chart in (grid(table), putt_grid(table.assign(band=["0-5 ft", "5-10 ft"], lie="green"))):
        scale = of_mark(chart.to_dict(), "rect")[2]["encoding"]["color"]["scale"]
        assert scale["domain"] == pytest.approx([-reach, 0, reach])
        assert scale["range"] == [LIGHT.loss_tint, LIGHT.even_tint, LIGHT.gain_tint]
