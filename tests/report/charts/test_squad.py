"""The squad's grid: every cell's number, range, depth of colour and place, by value."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest

from sgzone.report.charts.squad import squad_grid
from sgzone.report.charts.theme import LIGHT

ROWS = [
    # player, part, best, low, high
    ("AB", "wedge_50_100", -0.40, -0.60, -0.20),
    ("AB", "putt_0_10", 0.10, -0.05, 0.25),
    ("AB", "total", -2.00, -2.50, -1.50),
    ("C", "wedge_50_100", np.nan, np.nan, np.nan),
    ("C", "putt_0_10", 0.20, 0.05, 0.35),
    ("C", "total", 0.50, 0.10, 0.90),
]


def _table() -> pd.DataFrame:
    names = ["player", "part", "shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"]
    return pd.DataFrame(ROWS, columns=names).assign(
        gained_per_round=-0.1, verdict="level", shots=40, rounds=9
    )


def _cells(chart: dict[str, Any]) -> dict[tuple[str, str], dict[str, Any]]:
    [rows] = chart["datasets"].values()
    return {(row["player"], row["part"]): row for row in rows}


def test_a_cell_has_its_best_estimate_and_range_or_nothing() -> None:
    cells = _cells(squad_grid(_table()).to_dict())
    assert len(cells) == len(ROWS)
    wedge = cells["AB", "wedge_50_100"]
    assert (wedge["said"], wedge["range"]) == ("−0.40", "−0.60 to −0.20")
    blank = cells["C", "wedge_50_100"]
    assert (blank["said"], blank["range"], blank["depth"]) == ("", "", None)


def test_colour_is_deep_by_size_and_calm_where_the_range_crosses_nought() -> None:
    cells = _cells(squad_grid(_table()).to_dict())
    depth = {key: cell["depth"] for key, cell in cells.items()}
    assert depth["AB", "wedge_50_100"] == -1  # the largest of the parts
    assert depth["C", "putt_0_10"] == 0.5
    assert depth["AB", "putt_0_10"] == 0  # its range crosses 0
    assert (depth["AB", "total"], depth["C", "total"]) == (-1, 0.25)  # a scale of its own
    scales = [
        layer["encoding"]["color"]["scale"]
        for layer in squad_grid(_table()).to_dict()["layer"]
        if "scale" in layer["encoding"].get("color", {})
    ]
    assert [scale["domain"] for scale in scales] == [[-1, 0, 1]]
    assert scales[0]["range"] == [LIGHT.loss_tint, LIGHT.even_tint, LIGHT.gain_tint]


def test_small_values_are_pale_whoever_has_the_largest() -> None:
    rows = _table()
    values = ["shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"]
    rows[values] = rows[values] / 10
    depth = {key: cell["depth"] for key, cell in _cells(squad_grid(rows).to_dict()).items()}
    assert depth["AB", "wedge_50_100"] == pytest.approx(-0.2)


def test_players_and_parts_keep_their_order_and_a_cell_leads_to_its_player() -> None:
    drawn = squad_grid(_table(), links={"AB": "#player_1", "C": "#player_2"}).to_dict()
    encoding = drawn["layer"][0]["encoding"]
    assert encoding["y"]["scale"]["domain"] == ["AB", "C"]
    assert encoding["x"]["scale"]["domain"] == ["wedge|50-100 yd", "putts|0-10 ft", "all|strokes"]
    assert all(layer["encoding"]["href"]["field"] == "link" for layer in drawn["layer"])
    assert {key[0]: cell["link"] for key, cell in _cells(drawn).items()} == {
        "AB": "#player_1",
        "C": "#player_2",
    }
    assert "href" not in str(squad_grid(_table()).to_dict()["layer"][0]["encoding"])


def test_long_names_are_initials_on_a_phone_and_lengths_follow_the_reader() -> None:
    named = _table().replace({"player": {"AB": "Ada Birch", "C": "Cy Dunn"}})
    drawn = squad_grid(named, units="metric").to_dict()
    label = drawn["layer"][0]["encoding"]["y"]["axis"]["labelExpr"]
    assert label.startswith("width > 480 ? datum.label : ")
    assert '"Ada Birch": "AB"' in label
    assert drawn["layer"][0]["encoding"]["x"]["scale"]["domain"][0] == "wedge|46-91 m"
    short = squad_grid(_table()).to_dict()["layer"][0]["encoding"]["y"]["axis"]
    assert "labelExpr" not in short
