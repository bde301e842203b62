"""What the report says follows from the verdicts, and weak evidence has words of its own."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.review.where.measuring import FIRM, SENSITIVE
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
        "shrunk_per_round": float("nan") if none else value,
        "shrunk_low_per_round": float("nan") if none else value - 0.2,
        "shrunk_high_per_round": float("nan") if none else value + 0.2,
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
    assert said == [
        "From 150 yards in you lose 1.50 (1.30 to 1.70) a round to tour, over 12 rounds.",
        "Most goes in wedge 50-100 yd (0.90) and sand 0-50 yd (0.40).",
        "Most comes from putts 0-10 ft (0.50).",
        "Putts 30 ft and up: level: leave alone. Putts 10-30 ft: not settled yet. Recovery: too "
        "few shots.",
    ]


@pytest.mark.parametrize(
    ("verdict", "start"),
    [
        ("probable loss", "Probably most goes in chip 0-30 yd (0.10)."),
        ("not settled", "No part shows a loss or a gain yet."),
        ("level", "No part shows a loss or a gain yet."),
    ],
)
def test_weak_evidence_is_said_to_be_weak(verdict: str, start: str) -> None:
    said = _season(_part("total", "not settled", -0.1), _part("chip_0_30", verdict, -0.1))
    assert said[1] == start
    assert "clear" not in " ".join(said)


def test_probable_parts_are_not_lost_beside_clear_ones() -> None:
    said = _season(
        _part("total", "clear gain", 0.5),
        _part("chip_0_30", "probable loss", -0.1),
        _part("wedge_50_100", "probable gain", 0.3),
        _part("putt_0_10", "clear gain", 0.5),
    )
    assert said[1:3] == [
        "Probably most goes in chip 0-30 yd (0.10).",
        "Most comes from putts 0-10 ft (0.50) and wedge 50-100 yd (0.30, probably).",
    ]


def test_no_part_is_called_the_most_beside_a_larger_one_that_is_not_shown() -> None:
    said = _season(
        _part("total", "clear loss", -1.5),
        _part("sand_0_50", "not settled", -0.6),
        _part("chip_0_30", "clear loss", -0.5),
        _part("putt_0_10", "probable loss", -0.3),
        _part("wedge_50_100", "clear gain", 0.2),
        _part("recovery", "not settled", 0.3),
    )
    assert said[1:3] == [
        "Clearest losses: chip 0-30 yd (0.50) and putts 0-10 ft (0.30, probably).",
        "Clearest gains: wedge 50-100 yd (0.20).",
    ]


def test_too_few_shots_draw_no_conclusion() -> None:
    said = _season(_part("total", NOT_ENOUGH, -0.8, 7), _part("chip_0_30", NOT_ENOUGH, -0.8, 5))
    text = " ".join(said)
    assert "too few to judge" in text
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
    assert said[1] == "Your middle ball finishes outside it from fairway 50-100 yd."
    assert said[2] == "Your middle ball finishes inside it from fairway 125-150 yd."
    assert said[3] == "1 of 4 distances cannot tell yet."


def test_marks_are_explained_only_where_they_stand() -> None:
    assert where_words.marked(pd.Series(["published", "published"])) == ()
    assert where_words.marked(pd.Series(["published", "derived"])) == (where_words.MARKED["some"],)
    assert where_words.marked(pd.Series(["derived", "derived"])) == (where_words.MARKED["all"],)


def test_verdicts_that_other_distances_would_change_are_named() -> None:
    parts = _cells(
        part=["chip_0_30", "putt_0_10"],
        verdict=["clear loss"] * 2,
        measuring=[SENSITIVE, FIRM],
        shrunk_low_per_round=[-0.9, -0.8],
    )
    one = where_words.parts_lead(parts, Say())[1]
    assert one.startswith("Distance-sensitive: chip 0-30 yd (")
    both = where_words.parts_lead(parts.assign(measuring=SENSITIVE), Say())[1]
    assert both.startswith("Distance-sensitive: chip 0-30 yd and putts 0-10 ft (")
    assert "No verdict changes" in where_words.parts_lead(parts.assign(measuring=FIRM), Say())[1]
    thin = parts.assign(verdict=NOT_ENOUGH, measuring="")
    assert len(where_words.parts_lead(thin, Say())) == 1


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
    sure = where_words.summary_title(_summary("not settled", -0.1), ["part"], "tour")
    what = "Strokes a round of 18 holes against tour: + gains, - loses"
    assert sure == f"{what}, worst first."
    luck = where_words.summary_title(_summary(NOT_ENOUGH, -0.1), ["part"], "tour")
    assert luck == f"{what}, too early: the order is mostly luck."
    months = _summary("clear loss", -0.1).rename(columns={"part": "month"})
    assert where_words.summary_title(months, ["month"], "tour") == f"{what}, in order of time."


def test_ranges_are_announced_where_there_are_some() -> None:
    assert where_words.ranges(_summary(NOT_ENOUGH, float("nan")), Say()) == ()
    assert where_words.ranges(_summary("level", -0.1), Say(level=0.95)) == ("Ranges: 95 in 100.",)


def test_a_total_that_is_sensitive_to_distances_is_named_too() -> None:
    rows = pd.DataFrame([_part("putt_0_10", "clear loss", -0.4), _part("total", "clear loss", -1)])
    said = where_words.sensitive(rows.assign(measuring=SENSITIVE), Say())
    assert said == (
        "Distance-sensitive: putts 0-10 ft and the total (10% more or less changes the verdict).",
    )
