"""What is said of a squad and of its week."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest

from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.words import squad as words
from sgzone.words.say import Say

DAY = date(2026, 6, 10)
AGREED = date(2026, 6, 9)
NAMES = {"Ada": "AB", "Ben": "BC", "Cid": "CD"}


def _played() -> pd.DataFrame:
    return pd.DataFrame(
        {
            "player": ["Ada", "Ben", "Cid"],
            "rounds": [6, 5, 0],
            "shots": [312, 1, 0],
            "hours": [9.5, np.nan, 0.0],
        }
    )


def _changes(verdict: str = MORE_THAN_NOISE, after: int = 6) -> pd.DataFrame:
    """Ada's wedge moved by 0.41 or not, Ben's rounds are too few; all strokes with them."""
    few = verdict == NOT_ENOUGH_ROUNDS
    return pd.DataFrame(
        {
            "player": ["Ada", "Ada", "Ben", "Ben"],
            "part": ["wedge_50_100", "total", "wedge_50_100", "total"],
            "difference": [0.41, 0.9, 0.1, 0.1],
            "joint_low": [0.11, -0.3, np.nan, np.nan],
            "joint_high": [0.71, 2.1, np.nan, np.nan],
            "p": [np.nan if few else 0.01, np.nan if few else 0.2, np.nan, np.nan],
            "rounds_after": [after, after, 3, 3],
            "verdict": [verdict, WITHIN_NOISE, NOT_ENOUGH_ROUNDS, NOT_ENOUGH_ROUNDS],
        }
    )


def test_who_played_and_practised_is_counted() -> None:
    assert words.played_lead(_played(), DAY, None) == (
        "From 10 June 2026 on, 2 of 3 players played 11 rounds. 1 player practised 9.5 h.",
    )
    agreed = words.played_lead(_played(), DAY, AGREED)[0]
    assert agreed.startswith("Since the last agreement on 9 June 2026, 2 of 3 players played")
    none = words.played_lead(_played().assign(hours=np.nan), DAY, None)[0]
    assert none.endswith("There is no practice log.")


def test_without_a_meeting_it_says_what_marks_one() -> None:
    said = words.played_lead(_played(), None, None)
    assert said[0].startswith("Over the season 2 of 3 players played 11 rounds.")
    assert said[1:] == words.NO_MEETING
    assert words.week_title(None, None) == words.IN_ALL


def test_what_really_changed_is_told_with_what_luck_would_do() -> None:
    say = Say()
    assert words.changed_lead(_changes(), NAMES, say) == (
        "Really changed: AB wedge 50-100 yd +0.41. Luck alone lets about 0.1 of 1 look changed.",
    )
    assert words.changed_lead(_changes(WITHIN_NOISE), NAMES, say) == (
        "No real change shown in 1 player with rounds enough to tell.",
    )
    assert words.changed_lead(_changes(NOT_ENOUGH_ROUNDS), NAMES, say) == (words.TOO_FEW_SINCE,)


def test_many_changes_are_told_in_part() -> None:
    many = pd.concat([_changes().assign(player=name) for name in "ABCDE"])
    [said] = words.changed_lead(many, {name: name for name in "ABCDE"}, Say())
    assert said.count("wedge") == 3
    assert "; 2 more in the table. Luck" in said


@pytest.mark.parametrize(
    ("own", "says"),
    [
        (_changes().head(2), "wedge 50-100 yd +0.41"),
        (_changes(WITHIN_NOISE).head(2), "no real change"),
        (_changes().tail(2), "too few yet"),
        (_changes(after=0).head(2), "no round since"),
        (_changes().head(0), "no round since"),
    ],
)
def test_a_player_s_change_is_one_cell(own: pd.DataFrame, says: str) -> None:
    assert words.change_words(own, Say()) == says


def test_a_player_s_own_week_has_its_range() -> None:
    say, played = Say(), _played()
    assert words.own_week(played.head(1), _changes().head(2), DAY, None, say) == (
        "From 10 June 2026 on: 6 rounds, 312 shots, 9.5 h of practice.",
        "All strokes: +0.90 a round (between −0.30 and +2.10, 95 in 100).",
        "Really changed: wedge 50-100 yd +0.41.",
    )
    ben = words.own_week(played.iloc[1:2], _changes().tail(2), DAY, None, say)
    assert ben == ("From 10 June 2026 on: 5 rounds, 1 shot.", words.TOO_FEW_SINCE)
    assert words.own_week(played.head(1), _changes().head(0), None, None, say) == ()


def _parts(verdicts: list[str]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "player": [f"p{k}" for k in range(len(verdicts))],
            "part": "chip_0_30",
            "shrunk_per_round": [-0.2, -0.4, -0.1, 0.0][: len(verdicts)],
            "verdict": verdicts,
        }
    )


def test_what_half_of_the_squad_loses_in_is_named() -> None:
    half = _parts(["clear loss", "clear loss", "probable loss", "level"])
    assert words.shared_lead(half, Say()) == (
        "Chip 0-30 yd: 2 of 4 players clearly lose there, 0.30 a round on average.",
    )
    [said] = words.shared_lead(_parts(["clear loss", "level", "level", "level"]), Say())
    assert said.startswith("No part is a clear loss for half")
    assert words.shared_lead(_parts(["level", "level"]), Say()) == ()


def test_the_grid_in_words_names_what_leaves_out_nought() -> None:
    table = pd.DataFrame(
        {
            "player": ["AB", "AB", "C"],
            "part": ["wedge_50_100", "putt_0_10", "putt_0_10"],
            "shrunk_per_round": [-0.4, 0.1, np.nan],
            "shrunk_low_per_round": [-0.6, -0.1, np.nan],
            "shrunk_high_per_round": [-0.2, 0.3, np.nan],
        }
    )
    assert words.grid_alt(table, Say()).endswith("players by parts: AB: wedge 50-100 yd −0.40.")
    assert words.grid_alt(table.tail(2), Say()).endswith("no range leaves out 0.")
