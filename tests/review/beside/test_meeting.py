"""A squad since its meeting: rounds, shots and hours counted by hand, changes by their rule."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest

from sgzone.review.beside.meeting import changed, in_all, played
from sgzone.review.trend import before_after_table
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE

MEETING = date(2026, 6, 10)


def _days(*days: str) -> pd.Series:
    return pd.Series(pd.to_datetime(list(days)))


def _sizes() -> pd.DataFrame:
    """Ada: two rounds since the meeting, one of them on its day; Ben: none since."""
    return pd.DataFrame(
        {
            "player": ["Ada", "Ada", "Ada", "Ben"],
            "date": _days("2026-06-01", "2026-06-10", "2026-06-20", "2026-06-09"),
        }
    )


def _strokes() -> pd.DataFrame:
    return pd.DataFrame(
        {
            "player": ["Ada", "Ada", "Ada", "Ada", "Ben"],
            "date": _days("2026-06-01", "2026-06-10", "2026-06-10", "2026-06-20", "2026-06-09"),
            "part": ["putt_0_10", "putt_0_10", "putt_0_10", "outside", "putt_0_10"],
            "gained": [0.1, -0.2, np.nan, -0.3, 0.0],
        }
    )


def _log() -> pd.DataFrame:
    """Ben practised before the meeting, Cid since, Ada has no log."""
    days = _days("2026-06-02", "2026-06-11", "2026-06-12")
    return pd.DataFrame({"player": ["Ben", "Cid", "Cid"], "date": days, "minutes": [60, 45, 30]})


def test_what_was_done_since_the_meeting_is_counted_its_day_included() -> None:
    table = played(_sizes(), _strokes(), _log(), MEETING).set_index("player")
    assert table["rounds"].to_dict() == {"Ada": 2, "Ben": 0, "Cid": 0}
    # a stroke without a value and one from outside the zone are no shots of the zone with a value
    assert table["shots"].to_dict() == {"Ada": 1, "Ben": 0, "Cid": 0}
    assert np.isnan(table.loc["Ada", "hours"])
    assert table.loc["Ben", "hours"] == 0
    assert table.loc["Cid", "hours"] == 1.25


def test_without_a_meeting_all_of_the_season_counts() -> None:
    table = played(_sizes(), _strokes(), _log(), None).set_index("player")
    assert table["rounds"].to_dict() == {"Ada": 3, "Ben": 1, "Cid": 0}
    assert table.loc["Ben", "hours"] == 1
    nobody = played(_sizes().head(0), _strokes().head(0), _log().head(0), MEETING)
    assert nobody.empty


def _season(player: str, totals: list[float]) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return sums and sizes: one part, ten strokes a round, a round a day from 1 June on."""
    rounds = np.arange(len(totals))
    keys = rounds + 100 * ord(player[0])
    days = pd.Timestamp(2026, 6, 1) + pd.to_timedelta(rounds, unit="D")
    sizes = pd.DataFrame(
        {"player": player, "round_key": keys, "date": days, "round": 1, "holes": 18}
    )
    sums = pd.DataFrame(
        {"player": player, "part": "putt_0_10", "round_key": keys, "n": 10, "total": totals}
    )
    return sums, sizes


def _squad(*seasons: tuple[pd.DataFrame, pd.DataFrame]) -> tuple[pd.DataFrame, pd.DataFrame]:
    sums, sizes = zip(*seasons, strict=True)
    return pd.concat(sums, ignore_index=True), pd.concat(sizes, ignore_index=True)


STEP = [-1.1, -0.9, -1.0, -1.2, -0.8, -1.0, -0.9, -1.1, -1.0, 0.1, -0.1, 0.0, 0.2, -0.2, 0.1]
FLAT = [-1.0, 0.5, -0.5, 1.0, 0.2, -0.8, 0.4, -0.1, 0.6, -0.9, 0.7, -0.3, 0.1, -0.6, 0.5]


def test_each_player_changes_by_the_rule_of_the_trend_and_alone() -> None:
    step, flat = _season("Ada", STEP), _season("Ben", FLAT)
    table = changed(*_squad(step, flat), MEETING)
    for name, (sums, sizes) in (("Ada", step), ("Ben", flat)):
        own = table[table["player"] == name].drop(columns="player").reset_index(drop=True)
        pd.testing.assert_frame_equal(own, before_after_table(sums, sizes, MEETING))
    ada, ben = (in_all(table).set_index("player").loc[name] for name in ("Ada", "Ben"))
    assert (ada["rounds_before"], ada["rounds_after"]) == (9, 6)
    assert ada["difference"] == pytest.approx(np.mean(STEP[9:]) - np.mean(STEP[:9]))
    assert (ada["verdict"], ben["verdict"]) == (MORE_THAN_NOISE, WITHIN_NOISE)
    assert ada["joint_low"] > 0
    assert ben["joint_low"] < 0 < ben["joint_high"]


@pytest.mark.parametrize(("rounds", "judged"), [(13, False), (14, True)])
def test_under_five_rounds_since_are_too_few_yet(rounds: int, judged: bool) -> None:
    table = changed(*_squad(_season("Ada", STEP[:rounds])), MEETING)
    assert set(table["rounds_after"]) == {rounds - 9}
    assert table["p"].notna().all() == judged
    assert (table["verdict"] != NOT_ENOUGH_ROUNDS).all() == judged
    assert table["difference"].notna().all()


def test_nobody_has_no_change() -> None:
    sums, sizes = _season("Ada", STEP)
    assert changed(sums.head(0), sizes.head(0), MEETING).empty
