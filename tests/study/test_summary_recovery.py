"""Simulated seasons of known truth: do intervals cover, do words stay true, do wrong formulas fail?

Rounds come from the season simulator; every block of ten or forty of them is one season, summarised
as if it were a player of its own.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pandas as pd
import pytest

from sgzone.demo.courses import CHAMPIONSHIP
from sgzone.demo.presets import demo_player, strong_amateur, tour_level
from sgzone.demo.rounds import play_rounds
from sgzone.demo.truth import gained, parts_of
from sgzone.review.where.cells import OF_LIES, adjusted, estimates, gather
from sgzone.review.where.enough import MARGIN, enough, margin
from sgzone.stats.cluster import per_unit
from sgzone.terms import BANDS

pytestmark = pytest.mark.study

SEASONS = {10: 800, 40: 300}
TRUTH_ROUNDS = 12_000
PLAYERS = {"tour": tour_level, "strong": strong_amateur, "demo": demo_player}
COVERAGE = {0.80: (0.76, 0.86), 0.95: (0.92, 0.98)}


def play(name: str, rounds: int, seed: int) -> pd.DataFrame:
    """Return the zone's strokes of many rounds with part, cell of lie and band, and gained."""
    course = np.arange(rounds) % len(CHAMPIONSHIP)
    strokes = play_rounds(np.random.default_rng(seed), PLAYERS[name](), CHAMPIONSHIP, course)
    strokes = strokes.assign(gained=gained(strokes), part=parts_of(strokes))
    strokes = strokes[(strokes["part"] != "") & strokes["gained"].notna()]
    green = strokes["lie"] == "green"
    band = pd.Series("", index=strokes.index)
    for one in BANDS:
        inside = (strokes["distance_ft"] >= one.low_ft) & (green == one.on_green)
        band[inside] = one.name
    return strokes.assign(band=band, round_key=strokes["round_id"])


@lru_cache
def seasons(name: str, rounds: int) -> pd.DataFrame:
    strokes = play(name, rounds * SEASONS[rounds], seed=5)
    return strokes.assign(player=(strokes["round_key"] // rounds).astype(str))


@lru_cache
def truth(name: str, by: tuple[str, ...] = ("part",)) -> pd.Series:
    """Return true gained per shot, from a large simulation of its own."""
    return play(name, TRUTH_ROUNDS, seed=77).groupby(list(by))["gained"].mean()


@lru_cache
def true_per_round(name: str) -> pd.Series:
    return play(name, TRUTH_ROUNDS, seed=77).groupby("part")["gained"].sum() / TRUTH_ROUNDS


def centred(strokes: pd.DataFrame, name: str, by: tuple[str, ...] = ("part",)) -> pd.DataFrame:
    """Return the strokes with each cell's true mean taken out: what is left is chance alone."""
    of = strokes[[*by]].merge(truth(name, by).rename("mean"), left_on=list(by), right_index=True)
    return strokes.assign(gained=strokes["gained"] - of["mean"].reindex(strokes.index))


def another_player_each(
    strokes: pd.DataFrame, name: str, by: tuple[str, ...], seed: int
) -> pd.DataFrame:
    """Return seasons of players who differ: a common level and cells that differ by 0.06 or so."""
    rng = np.random.default_rng(seed)
    strokes = centred(strokes, name, by)
    cell = strokes.groupby(["player", *by], sort=False).ngroup().to_numpy()
    player = strokes.groupby("player", sort=False).ngroup().to_numpy()
    level = rng.normal(-0.05, 0.05, player.max() + 1)[player]
    own = rng.normal(0, 0.06, cell.max() + 1)[cell]
    scale = margin((strokes["lie"] == "green").to_numpy(float)) / MARGIN
    return strokes.assign(
        true=scale * (level + own), gained=strokes["gained"] + scale * (level + own)
    )


def table_of(
    strokes: pd.DataFrame, rounds: int, level: float = 0.8, by: tuple[str, ...] = ("part",)
) -> pd.DataFrame:
    """Return estimates and verdicts of all seasons at once, cells with enough shots."""
    values = strokes.assign(squares=strokes["gained"] ** 2, unscored=0, unvalued=0)
    values = values.assign(**{lie: values["lie"] == lie for lie in OF_LIES})
    keys = list(dict.fromkeys([*by, "player", "round_key"]))
    sums = values.groupby(keys, sort=False).agg(
        n=("gained", "count"), total=("gained", "sum"), squares=("squares", "sum"),
        unscored=("unscored", "sum"), unvalued=("unvalued", "sum"),
        **{lie: (lie, "sum") for lie in OF_LIES},
    )  # fmt: skip
    sizes = pd.DataFrame({"round_key": np.arange(rounds * SEASONS[rounds]), "holes": 18})
    sizes["player"] = (sizes["round_key"] // rounds).astype(str)
    cells = gather(sums.reset_index(), sizes, ["player", *by])
    counts = pd.DataFrame({"shots": cells.shots, "rounds": cells.rounds, "putts": cells.putts})
    table = pd.concat([cells.keys, counts, estimates(cells, level), adjusted(cells, level)], axis=1)
    return table[enough(cells.shots, cells.rounds)]


def covers(table: pd.DataFrame, low: str, high: str, true: pd.Series) -> float:
    return float(((table[low] <= true) & (true <= table[high])).mean())


@pytest.mark.parametrize("rounds", list(SEASONS))
@pytest.mark.parametrize("name", list(PLAYERS))
@pytest.mark.parametrize("level", list(COVERAGE))
def test_intervals_cover_at_their_level(name, rounds, level):
    table = table_of(seasons(name, rounds), rounds, level)
    least, most = COVERAGE[level]
    shot, per_round = table["part"].map(truth(name)), table["part"].map(true_per_round(name))
    assert least <= covers(table, "low", "high", shot) <= most
    assert least <= covers(table, "low_per_round", "high_per_round", per_round) <= most


@pytest.mark.parametrize("rounds", list(SEASONS))
def test_adjusted_intervals_of_players_who_differ_cover(rounds):
    strokes = another_player_each(seasons("strong", rounds), "strong", ("part",), 3)
    true = strokes.groupby(["player", "part"])["true"].first()
    for level, (least, most) in COVERAGE.items():
        table = table_of(strokes, rounds, level)
        wanted = true.loc[pd.MultiIndex.from_frame(table[["player", "part"]])]
        found = table.reset_index(drop=True)
        assert (
            least
            <= covers(found, "shrunk_low", "shrunk_high", wanted.reset_index(drop=True))
            <= most
        )


@pytest.mark.parametrize("rounds", list(SEASONS))
def test_adjusted_error_is_under_half_of_raw_and_clear_words_have_the_right_sign(rounds):
    by = ("lie", "band")
    strokes = another_player_each(seasons("strong", rounds), "strong", by, 4)
    table = table_of(strokes, rounds, by=by)
    true = strokes.groupby(["player", *by])["true"].first()
    true = true.loc[pd.MultiIndex.from_frame(table[["player", *by]])].to_numpy()
    raw = ((table["gained_per_shot"] - true) ** 2).sum()
    assert ((table["shrunk_per_shot"] - true) ** 2).sum() < 0.5 * raw
    loss, gain = table["verdict"] == "clear loss", table["verdict"] == "clear gain"
    wrong = (loss & (true > 0)) | (gain & (true < 0))
    assert (loss | gain).sum() > 100
    assert wrong.sum() < 0.06 * (loss | gain).sum()


@pytest.mark.parametrize("rounds", list(SEASONS))
def test_a_benchmark_player_seldom_gets_a_false_clear(rounds):
    table = table_of(centred(seasons("tour", rounds), "tour"), rounds)
    clear = table["verdict"].str.startswith("clear")
    assert clear.groupby(table["player"]).any().mean() <= 0.05


def test_a_planted_fault_is_called_and_even_play_is_not_called_a_gain():
    table = table_of(seasons("demo", 40), 40)
    words = table.groupby("part")["verdict"]
    assert (words.get_group("sand_0_50") == "clear loss").mean() > 0.9
    assert (words.get_group("wedge_50_100") == "clear loss").mean() > 0.9
    assert not table["verdict"].isin(["clear gain", "probable gain"]).any()


def test_dropping_the_penalty_fails():
    strokes = seasons("demo", 40)
    wrong = strokes.assign(gained=strokes["gained"] + strokes["penalty"])
    table = table_of(wrong, 40)
    of = table[table["part"] == "approach_100_150"]
    true = of["part"].map(truth("demo"))
    assert covers(of, "low", "high", true) < COVERAGE[0.80][0]


def test_every_shot_its_own_round_fails_where_rounds_differ():
    """Days planted on top of the simulator's: the interval by shot is too short, ours is not."""
    strokes = centred(seasons("strong", 40), "strong")
    days = np.random.default_rng(8).normal(0, 0.15, strokes["round_key"].max() + 1)
    strokes = strokes.assign(gained=strokes["gained"] + days[strokes["round_key"]])
    right = table_of(strokes, 40)
    zero = pd.Series(0.0, index=right.index)
    assert COVERAGE[0.80][0] <= covers(right, "low", "high", zero) <= COVERAGE[0.80][1]
    putts = strokes[strokes["part"] == "putt_0_10"]
    season = pd.factorize(putts["player"])[0]
    by_shot = per_unit(season, np.ones(len(putts)), putts["gained"], season.max() + 1, 0.8)
    assert ((by_shot.low <= 0) & (by_shot.high >= 0)).mean() < 0.70
