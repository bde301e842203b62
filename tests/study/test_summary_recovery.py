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
from sgzone.review.where import cells as cells_module
from sgzone.review.where.cells import ODD_CELL, OF_LIES, adjusted, estimates, gather
from sgzone.review.where.enough import MARGIN, enough, margin
from sgzone.stats import odd as odd_module
from sgzone.stats.cluster import per_unit
from sgzone.terms import BANDS
from tests.study.sizes import WHOLE, Size

SEASONS = (10, 40)
"""Rounds of a season."""
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


def count(rounds: int, size: Size) -> int:
    """Return how many seasons of so many rounds are looked at."""
    return size.of(*{10: (800, 100), 40: (300, 100)}[rounds])


@lru_cache
def seasons(name: str, rounds: int, size: Size) -> pd.DataFrame:
    strokes = play(name, rounds * count(rounds, size), seed=5)
    return strokes.assign(player=(strokes["round_key"] // rounds).astype(str))


@lru_cache
def true_strokes(name: str, size: Size) -> pd.DataFrame:
    return play(name, size.of(12_000, 4000), seed=77)


@lru_cache
def truth(name: str, size: Size, by: tuple[str, ...] = ("part",)) -> pd.Series:
    """Return true gained per shot, from a large simulation of its own."""
    return true_strokes(name, size).groupby(list(by))["gained"].mean()


@lru_cache
def true_per_round(name: str, size: Size) -> pd.Series:
    strokes = true_strokes(name, size)
    return strokes.groupby("part")["gained"].sum() / (strokes["round_key"].max() + 1)


def centred(
    strokes: pd.DataFrame, name: str, size: Size, by: tuple[str, ...] = ("part",)
) -> pd.DataFrame:
    """Return the strokes with each cell's true mean taken out: what is left is chance alone."""
    of = strokes[[*by]].merge(
        truth(name, size, by).rename("mean"), left_on=list(by), right_index=True
    )
    return strokes.assign(gained=strokes["gained"] - of["mean"].reindex(strokes.index))


def another_player_each(
    strokes: pd.DataFrame, name: str, size: Size, by: tuple[str, ...], seed: int
) -> pd.DataFrame:
    """Return seasons of players who differ: a common level and cells that differ by 0.06 or so."""
    rng = np.random.default_rng(seed)
    strokes = centred(strokes, name, size, by)
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
    sizes = pd.DataFrame({"round_key": np.arange(strokes["round_key"].max() + 1), "holes": 18})
    sizes["player"] = (sizes["round_key"] // rounds).astype(str)
    cells = gather(sums.reset_index(), sizes, ["player", *by])
    counts = pd.DataFrame({"shots": cells.shots, "rounds": cells.rounds, "putts": cells.putts})
    table = pd.concat([cells.keys, counts, estimates(cells, level), adjusted(cells, level)], axis=1)
    return table[enough(cells.shots, cells.rounds)]


def covers(table: pd.DataFrame, low: str, high: str, true: pd.Series) -> float:
    return float(((table[low] <= true) & (true <= table[high])).mean())


def holds(cover: float, level: float, size: Size, n: int) -> bool:
    """Return whether intervals at a level cover as they should in n seasons."""
    least, most = COVERAGE[level]
    return size.least(least, n) <= cover <= size.most(most, n)


@pytest.mark.parametrize("rounds", SEASONS)
@pytest.mark.parametrize("name", list(PLAYERS))
@pytest.mark.parametrize("level", list(COVERAGE))
def test_intervals_cover_at_their_level(size, name, rounds, level):
    table, n = table_of(seasons(name, rounds, size), rounds, level), count(rounds, size)
    shot = table["part"].map(truth(name, size))
    per_round = table["part"].map(true_per_round(name, size))
    assert holds(covers(table, "low", "high", shot), level, size, n)
    assert holds(covers(table, "low_per_round", "high_per_round", per_round), level, size, n)


@pytest.mark.parametrize("rounds", SEASONS)
def test_adjusted_intervals_of_players_who_differ_cover(size, rounds):
    strokes = seasons("strong", rounds, size)
    strokes = another_player_each(strokes, "strong", size, ("part",), 3)
    true = strokes.groupby(["player", "part"])["true"].first()
    for level in COVERAGE:
        table = table_of(strokes, rounds, level)
        wanted = true.loc[pd.MultiIndex.from_frame(table[["player", "part"]])]
        found = table.reset_index(drop=True)
        cover = covers(found, "shrunk_low", "shrunk_high", wanted.reset_index(drop=True))
        assert holds(cover, level, size, count(rounds, size))


@pytest.mark.parametrize("rounds", SEASONS)
def test_adjusted_error_is_under_half_of_raw_and_clear_words_have_the_right_sign(size, rounds):
    by = ("lie", "band")
    strokes = another_player_each(seasons("strong", rounds, size), "strong", size, by, 4)
    table = table_of(strokes, rounds, by=by)
    true = strokes.groupby(["player", *by])["true"].first()
    true = true.loc[pd.MultiIndex.from_frame(table[["player", *by]])].to_numpy()
    raw = ((table["gained_per_shot"] - true) ** 2).sum()
    n = count(rounds, size)
    assert ((table["shrunk_per_shot"] - true) ** 2).sum() < size.most(0.5, n) * raw
    loss, gain = table["verdict"] == "clear loss", table["verdict"] == "clear gain"
    called = (loss | gain).sum()
    assert called > size.of(100, 10)

    def wrong(truly):
        return ((loss & (truly > 0)) | (gain & (truly < 0))).sum() / called

    assert wrong(true) < size.most(0.06, called)
    assert wrong(-true) > size.most(0.06, called)  # the control: the other sign


@pytest.mark.parametrize("rounds", SEASONS)
def test_a_benchmark_player_seldom_gets_a_false_clear(size, rounds):
    strokes = centred(seasons("tour", rounds, size), "tour", size)
    most = size.most(0.05, count(rounds, size))
    assert false_clear(strokes, rounds) <= most
    # the control: strokes against another level than the player's own
    assert false_clear(strokes.assign(gained=strokes["gained"] - 0.15), rounds) > most


def false_clear(strokes: pd.DataFrame, rounds: int) -> float:
    table = table_of(strokes, rounds)
    clear = table["verdict"].str.startswith("clear")
    return float(clear.groupby(table["player"]).any().mean())


def test_a_planted_fault_is_called_and_even_play_is_not_called_a_gain(size):
    table = table_of(seasons("demo", 40, size), 40)
    words, least = table.groupby("part")["verdict"], size.least(0.9, count(40, size))
    assert (words.get_group("sand_0_50") == "clear loss").mean() > least
    assert (words.get_group("wedge_50_100") == "clear loss").mean() > least
    assert not table["verdict"].isin(["clear gain", "probable gain"]).any()
    # the control: the season of a player without the fault
    other = table_of(seasons("strong", 40, size), 40)
    words = other.groupby("part")["verdict"].get_group("sand_0_50")
    assert (words == "clear loss").mean() < least


@pytest.mark.study
def test_dropping_the_penalty_fails():
    """In some 7 of 100 seasons more: too few to show in the small form."""
    strokes = seasons("demo", 40, WHOLE)
    wrong = strokes.assign(gained=strokes["gained"] + strokes["penalty"])
    table = table_of(wrong, 40)
    of = table[table["part"] == "approach_100_150"]
    true = of["part"].map(truth("demo", WHOLE))
    assert covers(of, "low", "high", true) < COVERAGE[0.80][0]


def test_every_shot_its_own_round_fails_where_rounds_differ(size):
    """Days planted on top of the simulator's: the interval by shot is too short, ours is not."""
    strokes = centred(seasons("strong", 40, size), "strong", size)
    days = np.random.default_rng(8).normal(0, 0.15, strokes["round_key"].max() + 1)
    strokes = strokes.assign(gained=strokes["gained"] + days[strokes["round_key"]])
    right = table_of(strokes, 40)
    zero = pd.Series(0.0, index=right.index)
    n = count(40, size)
    assert holds(covers(right, "low", "high", zero), 0.80, size, n)
    putts = strokes[strokes["part"] == "putt_0_10"]
    season = pd.factorize(putts["player"])[0]
    by_shot = per_unit(season, np.ones(len(putts)), putts["gained"], season.max() + 1, 0.8)
    cover = ((by_shot.low <= 0) & (by_shot.high >= 0)).mean()
    assert cover < min(0.70, size.least(COVERAGE[0.80][0], n))


FAULT = (0.2, 0.4)
"""Strokes a shot that the planted part is worse than the rest of the game."""


def with_a_fault(strokes: pd.DataFrame, seed: int) -> pd.DataFrame:
    """Return seasons of players who differ with one part off the green plainly worse in each."""
    rng = np.random.default_rng(seed)
    parts = strokes.loc[strokes["lie"] != "green", "part"].unique()
    off = np.sort(parts[parts != "recovery"].astype(str))
    player = strokes.groupby("player", sort=False).ngroup().to_numpy()
    of, by = rng.choice(off, player.max() + 1)[player], rng.uniform(*FAULT, player.max() + 1)
    planted = of == strokes["part"].to_numpy(str)
    worse = planted * by[player]
    return strokes.assign(
        gained=strokes["gained"] - worse, true=strokes["true"] - worse, planted=planted
    )


def believed(monkeypatch, strokes, rounds, odd, times=odd_module.TIMES) -> pd.DataFrame:
    """Return the 95% table with what is true and the squared error, under a prior of our choice."""
    monkeypatch.setattr(cells_module, "ODD_CELL", odd)
    monkeypatch.setattr(odd_module, "TIMES", times)
    table = table_of(strokes, rounds, 0.95)
    columns = strokes.columns.intersection(["true", "planted"])
    true = strokes.groupby(["player", "part"])[list(columns)].first()
    table = table.merge(true, left_on=["player", "part"], right_index=True)
    return table.assign(error=(table["shrunk_per_shot"] - table["true"]) ** 2)


@pytest.mark.parametrize("rounds", SEASONS)
def test_a_part_unlike_the_rest_is_pulled_less_far(size, rounds, monkeypatch):
    strokes = another_player_each(seasons("strong", rounds, size), "strong", size, ("part",), 3)
    strokes = with_a_fault(strokes, 9)
    usual = believed(monkeypatch, strokes, rounds, odd=0.0)

    def gains(odd, times):
        """Return coverage of the planted part, what was gained of it, and two errors to usual."""
        table = believed(monkeypatch, strokes, rounds, odd, times)
        fault, before = table[table["planted"]], usual[usual["planted"]]
        now, then = (covers(f, "shrunk_low", "shrunk_high", f["true"]) for f in (fault, before))
        whole = table["error"].sum() / usual["error"].sum()
        return now, now - then, fault["error"].sum() / before["error"].sum(), whole

    cover, more, of_fault, whole = gains(ODD_CELL, odd_module.TIMES)
    assert cover > size.least(0.83, int(usual["planted"].sum()))
    assert more > 0.03
    assert of_fault < 0.90
    assert whole < 0.95
    # the control: a cell that is odd by differing less
    _, more, of_fault, whole = gains(ODD_CELL, 0.25)
    assert more < 0.03
    assert of_fault > 0.95
    assert whole > 0.95


@pytest.mark.parametrize("rounds", SEASONS)
def test_players_without_such_a_part_pay_little_for_it(size, rounds, monkeypatch):
    strokes = another_player_each(seasons("strong", rounds, size), "strong", size, ("part",), 3)

    def price(odd, times):
        error = [
            believed(monkeypatch, strokes, rounds, *prior)["error"].sum()
            for prior in ((odd, times), (0.0, times))
        ]
        return error[0] / error[1]

    assert price(ODD_CELL, odd_module.TIMES) < 1.03
    assert price(0.99, 20.0) > 1.03  # the control: a belief that some cell is always far off
