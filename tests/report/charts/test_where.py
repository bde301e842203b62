"""What the charts plot is what the tables say."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest

from sgzone.report.asked import Asked
from sgzone.report.charts import by_part
from sgzone.report.charts.theme import DARK, LIGHT, dark_twins
from sgzone.terms import NOT_ENOUGH, PART_WORDS


def _rows(spec: dict[str, Any]) -> pd.DataFrame:
    return _data(spec, spec if "data" in spec else spec["layer"][0])


def _data(spec: dict[str, Any], layer: dict[str, Any]) -> pd.DataFrame:
    return pd.DataFrame(spec["datasets"][layer["data"]["name"]])


def _layers(spec: dict[str, Any]) -> list[dict[str, Any]]:
    found = []
    for layer in spec["layer"]:
        found += _layers(layer) if "layer" in layer else [layer]
    return found


def _tooltips(spec: dict[str, Any]) -> list[str]:
    return [
        tip.get("title", tip["field"])
        for layer in _layers(spec)
        for tip in layer["encoding"].get("tooltip", [])
    ]


def test_parts_are_drawn_with_interval_verdict_and_number(asked: Asked) -> None:
    spec = by_part(asked.parts).to_dict()
    rows = _rows(spec)
    best = ("shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round")
    for column in ("gained_per_round", *best):
        assert rows[column].to_numpy() == pytest.approx(asked.parts[column].to_numpy())
    first = asked.parts.iloc[0]
    assert rows["label"][0] == (
        f"{PART_WORDS[first['part']]}|{first['verdict']}, {first['shots']} shots"
    )
    bars, zero, lines, dots, *numbers = _layers(spec)
    assert bars["encoding"]["x"]["field"] == "gained_per_round"
    assert "strokes per round" in bars["encoding"]["x"]["title"]
    assert bars["encoding"]["y"]["sort"] is None  # in the order of the table
    assert bars["encoding"]["color"]["scale"] == {
        "domain": ["loss", "gain", "open"],
        "range": [LIGHT.loss, LIGHT.gain, LIGHT.line],
    }
    assert list(_data(spec, zero)["zero"]) == [0]
    # of which the verdict speaks
    assert (lines["encoding"]["x"]["field"], lines["encoding"]["x2"]["field"]) == best[1:]
    assert dots["encoding"]["x"]["field"] == best[0]
    assert {"shots (n)", "as played", "best estimate"} <= set(_tooltips(spec))
    written = pd.concat([_data(spec, layer) for layer in numbers], ignore_index=True)
    assert [text.replace("−", "-") for text in written["number"]] == [
        f"{value:+.2f}" for value in asked.parts["gained_per_round"]
    ]


def test_colour_follows_the_verdict_not_the_sign() -> None:
    verdicts = ["clear loss", "probable gain", "level", "not settled", NOT_ENOUGH]
    table = pd.DataFrame(
        {
            "part": list(PART_WORDS)[:5],
            "verdict": verdicts,
            "shots": [50, 50, 50, 50, 3],
            "rounds": 9,
            "basis": ["published"] * 4 + ["derived"],
            **{
                name: [-0.5, 0.4, -0.01, -0.3, np.nan]
                for name in (
                    *("low_per_round", "high_per_round", "shrunk_per_round"),
                    *("shrunk_low_per_round", "shrunk_high_per_round"),
                )
            },
            "gained_per_round": [-0.5, 0.4, -0.01, -0.3, -0.2],
            "gained_per_shot": -0.1,
        }
    )
    rows = _rows(by_part(table).to_dict())
    assert list(rows["side"]) == ["loss", "gain", "open", "open", "open"]
    assert rows["label"].iloc[-1].endswith(f"†|{NOT_ENOUGH} (3)")
    assert rows["best_range"].iloc[-1] == f"none: {NOT_ENOUGH}"


def _channels(colour: str) -> list[float]:
    return [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]


def _luminance(colour: str) -> float:
    parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in _channels(colour)]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def _contrast(one: str, two: str) -> float:
    high, low = sorted([_luminance(one), _luminance(two)], reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_text_is_readable_and_gain_is_darker_than_loss() -> None:
    for look in (LIGHT, DARK):
        grounds = (look.paper, look.faint, look.gain_tint, look.loss_tint, look.even_tint)
        assert min(_contrast(look.ink, ground) for ground in grounds) >= 4.5
        assert min(_contrast(look.soft, ground) for ground in (look.paper, look.faint)) >= 4.5
        assert _contrast(look.gain, look.paper) >= 4.5  # links
        assert _contrast(look.loss, look.paper) >= 2.8
    assert _luminance(LIGHT.gain) < _luminance(LIGHT.loss) / 2


def test_no_colour_is_red_or_green_and_each_has_one_twin() -> None:
    for look in (LIGHT, DARK):
        for colour in (look.gain, look.gain_tint):
            red, green, blue = _channels(colour)
            assert blue > green > red
        for colour in (look.loss, look.loss_tint):
            red, green, blue = _channels(colour)
            assert red > green > blue
            assert green > 0.5 * red  # orange, not red
    twins = dark_twins()
    assert len(twins) == len(set(twins.values())) == 10
    assert not set(twins) & set(twins.values())  # or swapping one after the other would chain
