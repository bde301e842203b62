"""What the report says follows from the verdicts, and weak evidence has words of its own."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.terms import NOT_ENOUGH
from sgzone.words import grid as grid_words
from sgzone.words import proximity as proximity_words
from sgzone.words import season as season_words
from sgzone.words import where as where_words
from sgzone.words.say import Say


def _part(name: str, verdict: str, value: float, shots: int = 100) -> dict[str, object]:
    none = verdict == NOT_ENOUGH
    return {
        **{"part": name, "verdict": verdict, "shots": shots, "gained_per_round": value},
        "low_per_round": float("nan") if none else value - 0.2,
        "high_per_round": float("nan") if none else value + 0.2,
    }


def _season(total: dict[str, object], *parts: dict[str, object]) -> list[str]:
    return season_words.season(pd.Series(total), pd.DataFrame(list(parts)), 12, "tour", Say())


def test_a_clear_season_names_the_size_the_place_and_what_is_open() -> None:
    said = _season(
        _part("total", "clear loss", -1.5, 900),
        _part("wedge_50_100", "clear loss", -0.9),
        _part("sand_0_50", "clear loss", -0.4),
        _part("putt_10_30", "not settled", -0.1),
        _part("putt_30_up", "level", 0.0),
        _part("recovery", NOT_ENOUGH, 0.0, 4),
        _part("putt_0_10", "clear gain", 0.5),
    )
    assert len(said) == 3
    assert "12 rounds and 900 strokes" in said[0]
    assert "1.50 (1.30 to 1.70) strokes a round were lost against the tour benchmark" in said[0]
    assert said[1] == (
        "Most goes in wedge 50-100 yd, 0.90 (0.70 to 1.10) a round, a clear loss, then in sand "
        "0-50 yd; most comes from putts 0-10 ft, 0.50 (0.30 to 0.70) a round, a clear gain."
    )
    assert said[2] == (
        "Putts 30 ft and up: level with the benchmark and can be left alone; putts 10-30 ft: not "
        "settled: neither a loss nor a gain is shown; recovery: too few shots to judge."
    )


@pytest.mark.parametrize(
    ("verdict", "start"),
    [
        ("probable loss", "Nothing is a clear loss or gain; most goes in chip 0-30 yd"),
        ("not settled", "No part of the game is a clear or even a probable loss or gain"),
        ("level", "No part of the game is a clear or even a probable loss or gain"),
    ],
)
def test_weak_evidence_is_said_to_be_weak(verdict: str, start: str) -> None:
    said = _season(_part("total", "not settled", -0.1), _part("chip_0_30", verdict, -0.1))
    assert said[1].startswith(start)
    assert "a clear loss" not in said[1].removeprefix("Nothing is a clear loss or gain")


def test_probable_parts_are_not_lost_beside_clear_ones() -> None:
    said = _season(
        _part("total", "clear gain", 0.5),
        _part("chip_0_30", "probable loss", -0.1),
        _part("wedge_50_100", "probable gain", 0.3),
        _part("putt_0_10", "clear gain", 0.5),
    )
    assert said[1].endswith(
        "a clear gain; probably lost too: chip 0-30 yd; probably gained too: wedge 50-100 yd."
    )


def test_too_few_shots_draw_no_conclusion() -> None:
    said = _season(_part("total", NOT_ENOUGH, -0.8, 7), _part("chip_0_30", NOT_ENOUGH, -0.8, 5))
    text = " ".join(said)
    assert "too little to judge" in text
    assert "chip 0-30 yd (5)" in text
    assert "0.8" not in text
    assert "lost" not in text


def _cells(**columns: list[object]) -> pd.DataFrame:
    return pd.DataFrame(columns)


def test_medians_are_called_only_where_the_interval_clears_break_even() -> None:
    medians = _cells(
        lie=["fairway"] * 4,
        band=["50-75 yd", "75-100 yd", "100-125 yd", "125-150 yd"],
        from_yd=[50.0, 75.0, 100.0, 125.0],
        to_yd=[75.0, 100.0, 125.0, 150.0],
        finish_ft=[20.0, 22.0, 19.0, 9.0],
        low=[18.0, 19.0, 15.0, 7.0],
        high=[22.0, 26.0, 23.0, 11.0],
        break_even_ft=[15.0, 16.0, 17.0, 20.0],
    )
    said = proximity_words.proximity_lead(medians, Say())
    assert (
        "farther out than break-even, the 80% interval clear of it, from fairway 50-100 yd."
        in (said[1])
    )
    assert said[2].endswith("from fairway 125-150 yd.")
    assert said[3] == "1 of 4 cells does not show on which side the median lies."


def test_marks_are_explained_only_where_they_stand() -> None:
    assert where_words.marked(pd.Series(["published", "published"])) == ()
    assert where_words.marked(pd.Series(["published", "derived"])) == (where_words.MARKED["some"],)
    assert where_words.marked(pd.Series(["derived", "derived"])) == (where_words.MARKED["all"],)


def test_one_and_several_verdicts_that_hang_on_measuring() -> None:
    hangs = "hangs on how distances were measured"
    parts = _cells(
        part=["chip_0_30", "putt_0_10"],
        verdict=["clear loss"] * 2,
        measuring=[hangs, "holds"],
        low_per_round=[-0.9, -0.8],
    )
    assert "verdict hangs" in where_words.parts_lead(parts, Say())[1]
    assert "verdicts hang" in where_words.parts_lead(parts.assign(measuring=hangs), Say())[1]
    assert "No verdict changes" in where_words.parts_lead(parts.assign(measuring="holds"), Say())[1]
    thin = parts.assign(verdict=NOT_ENOUGH, measuring="")
    assert len(where_words.parts_lead(thin, Say())) == 1


def test_a_verdict_beside_an_interval_that_holds_0_is_explained() -> None:
    parts = pd.DataFrame(
        {
            "part": ["putt_0_10", "chip_0_30", "sand_0_50", "recovery"],
            "verdict": ["clear loss", "clear loss", "not settled", "probable gain"],
            "low_per_round": [-1.5, -0.9, -0.5, -0.1],
            "high_per_round": [0.3, -0.1, 0.5, 0.4],
        }
    )
    (said,) = where_words.leaning(parts, Say())
    assert said.startswith("The interval of putts 0-10 ft and recovery holds 0")
    assert where_words.leaning(parts.assign(low_per_round=0.0), Say()) == ()
    assert where_words.leaning(parts.iloc[1:3], Say()) == ()


def test_grey_bars_and_many_cells_are_explained_only_where_they_are() -> None:
    assert (
        where_words.read_parts(pd.Series(["clear loss", "probable gain"])) == where_words.READ_PARTS
    )
    assert where_words.read_parts(pd.Series(["clear loss", "level"]))[-1] == where_words.GREY_PARTS
    cells = pd.DataFrame({"verdict": ["clear loss"] * grid_words.MANY_CELLS})
    assert grid_words.grid_notes(cells) == (grid_words.GRID_IS_NOISY,)
    assert grid_words.grid_notes(cells.iloc[1:]) == ()


def _summary(verdict: str, low: float) -> pd.DataFrame:
    row = {"part": "putt_0_10", "verdict": verdict, "low": low}
    return pd.DataFrame([row, {"part": "total", "verdict": "clear loss", "low": low}])


def test_an_order_without_a_verdict_is_not_called_worst_first() -> None:
    sure = where_words.summary_title(_summary("not settled", -0.1), ["part"], "tour", Say())
    assert sure == (
        "Strokes gained inside 150 yards against tour; intervals 80%, gained > 0 is good, a round "
        "is 18 holes, worst loss per round first"
    )
    luck = where_words.summary_title(_summary(NOT_ENOUGH, -0.1), ["part"], "tour", Say("metric"))
    assert "inside 137 m against tour" in luck
    assert luck.endswith("lowest first, an order of luck so far")


def test_intervals_are_announced_where_there_are_some() -> None:
    said = where_words.summary_title(_summary(NOT_ENOUGH, float("nan")), ["part"], "tour", Say())
    assert "interval" not in said


@pytest.mark.parametrize(
    ("lie", "yards", "yard_words", "metre_words"),
    [
        ("fairway", 97.4, "fairway 97 yd", "fairway 89.1 m"),
        ("green", 5.0, "green 15.0 ft", "green 4.6 m"),
        ("fringe", 4.1, "fringe 12.3 ft", "fringe 3.7 m"),
        ("holed", 0.0, "holed", "holed"),
        (None, 12.0, "unknown", "unknown"),
    ],
)
def test_places_are_said_as_a_player_does(
    lie: str | None, yards: float, yard_words: str, metre_words: str
) -> None:
    lies, lengths = pd.Series([lie], dtype=object), pd.Series([yards])
    assert where_words.places(lies, lengths, Say()) == [yard_words]
    assert where_words.places(lies, lengths, Say("metric")) == [metre_words]
