"""Tooltips say a column as the tables do: its heading, its unit, its decimals."""

from __future__ import annotations

from typing import Any

import pytest

from sgzone.report.charts.theme import LIGHT, nought, told_apart
from sgzone.report.charts.tips import tips
from sgzone.words.say import METRIC, Say


def _one(answer: str, field: str, say: Say | None = None) -> dict[str, Any]:
    (tip,) = tips(answer, field, say)
    drawn: dict[str, Any] = tip.to_dict()
    return drawn


@pytest.mark.parametrize(
    ("answer", "field", "say", "name", "kind", "title", "shape"),
    [
        (
            "summary",
            "gained_per_round",
            Say(),
            "gained_per_round",
            "quantitative",
            "as played",
            "+,.2f",
        ),
        ("summary", "shots", Say(), "shots", "quantitative", "shots (n)", ",.0f"),
        ("summary", "name:part", Say(), "name", "nominal", "part", None),
        ("clubs", "carry_yd", Say(), "carry_yd", "quantitative", "carry, yd", ",.0f"),
        ("clubs", "carry_yd", Say(METRIC), "carry_yd", "quantitative", "carry, m", ",.0f"),
        (
            "clubs",
            "low",
            Say(METRIC, 0.9),
            "low",
            "quantitative",
            "90% range from, m",
            ",.0f",
        ),
        ("clubs", "high", Say(), "high", "quantitative", "to, yd", ",.0f"),
        ("clubs", "depth_sd_ft", Say(METRIC), "depth_sd_ft", "quantitative", None, ",.1f"),
        (
            "practice",
            "share_low",
            Say(),
            "share_low",
            "quantitative",
            "80% range (9 in 10) from",
            ".0%",
        ),
        ("why", "interval:low", Say(level=0.95), "interval", "nominal", "95% range", None),
    ],
)
def test_a_column_is_said_as_the_tables_say_it(
    answer: str, field: str, say: Say, name: str, kind: str, title: str | None, shape: str | None
) -> None:
    tip = _one(answer, field, say)
    assert (tip["field"], tip["type"], tip.get("format")) == (name, kind, shape)
    assert title is None or tip["title"] == title


def test_a_column_that_no_answer_has_is_an_error() -> None:
    with pytest.raises(KeyError, match="nowhere"):
        tips("summary", "nowhere")


def test_groups_differ_in_colour_and_in_shape() -> None:
    ways = told_apart("who", {"one": LIGHT.gain, "two": LIGHT.loss}, shape=["circle", "square"])
    drawn = {way: channel.to_dict() for way, channel in ways.items()}
    assert drawn["color"]["scale"] == {"domain": ["one", "two"], "range": [LIGHT.gain, LIGHT.loss]}
    assert drawn["shape"]["scale"]["range"] == ["circle", "square"]
    assert nought("y").to_dict()["encoding"]["y"]["field"] == "zero"
