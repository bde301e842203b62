"""What is said of the standard a part plays to, for each reason and none."""

from __future__ import annotations

import numpy as np
import pandas as pd

from sgzone.benchmarks.tables import share_of_score
from sgzone.review.where.plays_like import COLUMNS, REFUSALS
from sgzone.words import plays_like as words
from sgzone.words.say import METRIC, Say


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
    assert ranges.startswith("Ranges: 90%. An estimate")
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
