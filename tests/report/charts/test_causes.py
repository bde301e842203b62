"""The chart of main causes: what it draws, what it folds, and that the bars add up."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.report.asked import Asked
from sgzone.report.charts import main_causes_chart
from sgzone.report.charts.theme import LIGHT
from sgzone.report.sections.why import keys
from sgzone.terms import CAUSE_WORDS
from sgzone.words.say import Say
from sgzone.words.why import main_alt, main_causes
from tests.report.charts.drawn import of_mark, rows, tooltips

_ROUND = {"chip_0_30": 4.0, "wedge_50_100": 2.0}  # strokes of the part a round
_SHOT = {
    "chip_0_30": {
        **{"long_short_bias": 0.0, "long_short_spread": 0.05, "left_right_spread": 0.03},
        **{"holed": -0.02, "rest": 0.01, "total": 0.07},
    },
    "wedge_50_100": {"long_short_spread": 0.1, "penalty": 0.002, "rest": 0.02, "total": 0.122},
}
_WIDE = {"chip_0_30": 0.04, "wedge_50_100": 0.05}  # half of every range


def _table(*, facts: bool = True) -> pd.DataFrame:
    found = [
        {
            **{"part": part, "factor": factor, "column": column, "loss_per_shot": loss},
            **{"low": loss - _WIDE[part], "high": loss + _WIDE[part]},
            **{"loss_per_round": loss * _ROUND[part], "shots": 90, "note": ""},
            **({"largest": factor == "long_short_spread", "sure": False} if facts else {}),
        }
        for part, factors in _SHOT.items()
        for factor, loss in factors.items()
        for column in ("total", "proximity")
    ]
    return pd.DataFrame(found)


def test_the_largest_causes_are_kept_and_the_rest_is_one_row() -> None:
    """By hand: chips lose .28 a round and wedges .244, so chips stand first.

    A chip in 4 a round: distance control .05 x 4 = .20, its range .01 to .09 a shot. ``other`` is
    never a cause of its own, penalties round to 0.00 and what is 0 is in no bar: the rest is
    .01 x 4 + (.02 + .002) x 2 = .084.
    """
    main = main_causes(_table(facts=False))
    named = list(zip(main["part"], main["factor"], strict=True))
    assert named == [
        ("chip_0_30", "long_short_spread"),
        ("chip_0_30", "left_right_spread"),
        ("chip_0_30", "holed"),
        ("wedge_50_100", "long_short_spread"),
        ("", "the rest"),
    ]
    assert list(main["gained_per_round"]) == pytest.approx([-0.2, -0.12, 0.08, -0.2, -0.084])
    first = main.iloc[0]
    assert (first["low"], first["high"]) == pytest.approx((-0.36, -0.04))
    assert list(main["side"]) == ["loss", "open", "open", "loss", "open"]
    assert main["folded"].tolist() == [0, 0, 0, 0, 3]
    assert main["gained_per_round"].sum() == pytest.approx(-0.28 - 0.244)  # the totals


def test_a_named_cause_that_may_be_luck_is_drawn_as_open() -> None:
    main = main_causes(_table())
    assert main.loc[main["factor"] == "long_short_spread", "side"].tolist() == ["open", "open"]
    assert [key.words for key in keys(main)] == ["may be luck"]


def test_each_bar_has_its_number_and_its_range() -> None:
    table = _table(facts=False)
    spec = main_causes_chart(table).to_dict()
    bars, rest = of_mark(spec, "bar")
    drawn = rows(spec, bars)
    assert list(drawn["label"])[:2] == [
        "distance control|chip 0-30 yd (90)",
        "line|chip 0-30 yd (90)",
    ]
    assert bars["encoding"]["y"]["scale"]["domain"][-1] == "the rest|3 smaller causes"
    assert bars["encoding"]["color"]["scale"]["range"] == [LIGHT.loss, LIGHT.gain, LIGHT.line]
    assert rows(spec, rest)["gained_per_round"].tolist() == pytest.approx([-0.084])
    ranges = next(one for one in of_mark(spec, "rule") if "x2" in one["encoding"])
    assert (ranges["encoding"]["x"]["field"], ranges["encoding"]["x2"]["field"]) == ("low", "high")
    assert rows(spec, ranges)["low"].tolist() == pytest.approx(drawn["low"].tolist())
    sides = {"datum.gained_per_round < 0": True, "!(datum.gained_per_round < 0)": False}
    written = pd.concat(
        of[(of["gained_per_round"] < 0) == sides[one["transform"][0]["filter"]]][
            ["label", "number", "end"]
        ]
        for one in of_mark(spec, "text")
        for of in (rows(spec, one),)
    )
    assert sorted(written["number"]) == sorted(["−0.20", "−0.12", "+0.08", "−0.20", "−0.08"])
    ends = dict(zip(written["label"], written["end"], strict=True))
    assert ends["distance control|chip 0-30 yd (90)"] == pytest.approx(-0.36)  # clear of the range
    assert ends["holed out|chip 0-30 yd (90)"] == pytest.approx(0.24)
    assert {"a round", "80% range a round", "shots (n)", "sum of"} <= tooltips(spec)


def test_of_the_demo_bars_add_up_to_the_totals_of_the_parts(asked: Asked) -> None:
    main = main_causes(asked.why)
    whole = asked.why[(asked.why["factor"] == "total") & (asked.why["column"] == "total")]
    split = asked.why.loc[asked.why["factor"] == "long_short_spread", "part"]
    lost = whole.loc[whole["part"].isin(split), "loss_per_round"].sum()
    assert main["gained_per_round"].sum() == pytest.approx(-lost)
    assert set(main["part"]) == {*split, ""}
    for part, own in main[main["part"] != ""].groupby("part"):
        known = asked.why[(asked.why["part"] == part) & (asked.why["column"] == "total")]
        causes = known[~known["factor"].isin(["total", "rest"])]
        most = causes.loc[causes["loss_per_round"].abs().idxmax(), "factor"]
        assert most in set(own["factor"])
    said = main_alt(main, Say())
    assert f"{CAUSE_WORDS['long_short_spread']} −" in said
    assert "the rest −" in said


def test_of_many_causes_eight_are_drawn_and_the_largest_of_each_part() -> None:
    """By hand: ten causes of chips from .10 down, so the ninth and tenth go into the rest."""
    sizes = {factor: (10 - k) / 100 for k, factor in enumerate([f"cause {n}" for n in range(10)])}
    sizes |= {"total": sum(sizes.values())}
    many = [("chip_0_30", f, v) for f, v in {**sizes, "long_short_spread": 0.0}.items()]
    small = [("sand_0_50", "long_short_spread", 0.006), ("sand_0_50", "total", 0.006)]
    table = pd.DataFrame(
        [
            {"part": part, "factor": factor, "column": "total", "loss_per_shot": loss / 4}
            | {"low": 0.0, "high": 1.0, "loss_per_round": loss, "shots": 60}
            for part, factor, loss in many + small
        ]
    )
    main = main_causes(table)
    assert main["factor"].tolist() == [
        *(f"cause {n}" for n in range(8)),
        *("long_short_spread", "the rest"),
    ]
    assert main["folded"].iloc[-1] == 2
    assert main["gained_per_round"].iloc[-1] == pytest.approx(-0.03)
