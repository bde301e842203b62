"""What is said of the standard a part plays to, for each reason and none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks.tables import share_of_score
from sgzone.review.where.nearest import Beside, Nearest
from sgzone.review.where.plays_like import COLUMNS, REFUSALS
from sgzone.words import plays_like as words
from sgzone.words.say import METRIC, Say

SCRATCH = Nearest("scratch", "", 0.37, 75.2, 77.7, 40, 1890, 20)


def _table(*rows: tuple[str, float, float, str]) -> pd.DataFrame:
    plain = {
        "rounds": 12,
        "shots": 90,
        "status": "derived",
        "rounds_needed": 20,
        "score_shorter": np.nan,
        "score_longer": np.nan,
    }
    names = ("part", "score_low", "score_high", "refusal")
    whole = [{**plain, **dict(zip(names, row, strict=True))} for row in rows]
    table = pd.DataFrame(whole)
    middle = (table["score_low"] + table["score_high"]) / 2
    known = table.assign(k=[share_of_score(score) for score in middle], score=middle)
    return known[list(COLUMNS)]


def test_the_whole_comes_first_then_the_parts_that_can_be_read() -> None:
    table = _table(
        ("total", 80.4, 83.4, ""),
        ("putting", 79.0, 86.2, ""),
        ("sand_0_50", np.nan, np.nan, "never"),
    )
    assert words.lead(table, Say()) == (
        "From 150 yards in you play like a golfer who averages 80 to 83.",
        "By part: putting 79 to 86.",
    )
    assert "From 137 m in" in words.lead(table, Say(METRIC))[0]
    [ranges, left] = words.notes(table, Say(level=0.9))
    assert ranges.startswith("Ranges: 9 in 10. An estimate")
    assert left == "Not read: sand 0-50 yd: a season leaves its range too wide."
    assert words.alt(table, Say()).endswith("putting 79 to 86 (90 shots).")


def test_nothing_to_read_is_said() -> None:
    table = _table(("total", np.nan, np.nan, "few_rounds"))
    assert words.lead(table, Say()) == (words.NOBODY,)
    [_, left] = words.notes(table, Say())
    assert left == "Not read: all from 150 yards in: 20 rounds needed, 12 there."


def test_every_refusal_has_its_words_and_putts_say_what_they_hang_on() -> None:
    table = _table(*(("chip_0_30", np.nan, np.nan, why) for why in REFUSALS))
    said = list(words.reasoned(table)["reason"])
    assert all(said)
    assert len(set(said)) == len(REFUSALS)
    putts = _table(("putt_0_10", 79.0, 86.0, "")).assign(score_shorter=87.0, score_longer=78.0)
    [reason] = words.reasoned(putts)["reason"]
    assert reason == "about 87 or 78 if distances are 10% short or long"


def _parts(*rows: tuple[str, str, float]) -> pd.DataFrame:
    table = pd.DataFrame(rows, columns=["part", "verdict", "per_round"])
    ends = {"per_round_low": table["per_round"] - 0.05, "per_round_high": table["per_round"] + 0.05}
    return table.assign(shots=41, **ends)


def test_the_nearest_standard_is_named_with_what_it_was_read_from() -> None:
    assert words.nearest(SCRATCH, Say(level=0.95)) == (
        "Against scratch, the standard nearest to your whole game.",
        "You play like a golfer who averages 75 to 78 (8 in 10; 40 rounds).",
    )


@pytest.mark.parametrize("refusal", REFUSALS[1:])
def test_without_a_standard_it_is_said_why(refusal: str) -> None:
    none = replace(SCRATCH, name="tour", refusal=refusal, rounds=12)
    [said] = words.nearest(none, Say())
    assert said.startswith("Against tour: no standard can be named for your whole game (")
    why = {"few_rounds": "20 rounds needed, 12 there", "beyond_amateur_100": "beyond amateur-100"}
    assert f"({why.get(refusal, '')}" in said


def test_of_several_players_those_without_a_standard_are_named() -> None:
    none = replace(SCRATCH, name="tour", refusal="few_rounds", rounds=12)
    lead = "Each player is against the standard nearest to their own whole game."
    assert words.nearest_of_each({"Ada": SCRATCH, "Ben": SCRATCH}) == (lead,)
    assert words.nearest_of_each({"Ada": SCRATCH, "Ben": none}) == (
        lead,
        "Against tour, as no standard can be named: Ben (20 rounds needed, 12 there).",
    )
    many = words.nearest_of_each({f"P{n}": none for n in range(20)})[1]
    assert many.count("needed") == 8
    assert many.endswith("and 12 more.")


def test_parts_are_worse_and_better_than_the_nearest_standard() -> None:
    parts = _parts(
        ("sand_0_50", "clear loss", -0.14),
        ("wedge_50_100", "clear loss", -0.40),
        ("chip_0_30", "probable loss", -0.06),
        ("putt_0_10", "clear gain", 0.30),
        ("putt_10_30", "not settled", -0.1),
        ("approach_100_150", "level", 0.0),
    )
    assert words.beside(Beside(SCRATCH, "tour", parts), Say()) == (
        "Nearest standard: scratch. Worse than scratch: wedge 50-100 yd by 0.40 (0.35 to 0.45) a "
        "round, 41 shots; sand 0-50 yd by 0.14 (0.09 to 0.19) a round, 41 shots.",
    )
    found = Beside(SCRATCH, "tour", parts[2:])
    assert words.beside(found, Say())[0].startswith(
        "Nearest standard: scratch. Probably worse than scratch: chip 0-30 yd by 0.06 (0.01 to"
    )
    found = Beside(SCRATCH, "tour", parts[3:])
    assert "Better than scratch: putts 0-10 ft by 0.30 (0.25" in words.beside(found, Say())[0]
    assert words.next_beside(found) == "Next: every answer against scratch, --benchmark auto."


def test_where_no_part_differs_that_is_said_and_parts_with_few_shots_are_not_counted() -> None:
    parts = _parts(("sand_0_50", "not enough shots", np.nan), ("chip_0_30", "level", 0.0))
    assert words.beside(Beside(SCRATCH, "own.csv", parts), Say()) == (
        "Nearest standard: scratch. No part is shown to be better or worse than scratch.",
    )
