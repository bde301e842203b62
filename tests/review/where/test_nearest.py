"""The benchmark auto: by value from players of a known standard, and where there is none."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from sgzone.benchmarks.tables import score_of
from sgzone.errors import CallError
from sgzone.review.where.nearest import (
    HOLES,
    all_lose,
    beside,
    nearest,
    nearest_of_each,
    standard_at,
)
from sgzone.review.where.plays_like import BETTER, BEYOND, FEW_ROUNDS, TOTAL, plays_like
from sgzone.review.where.summary import summarise
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from tests.demo_season import demo_file
from tests.review.where.family import family_card

ADA, BEN, CID = Selection("Ada"), Selection("Ben"), Selection("Cid")


def loaded(folder: Path, *cards: pd.DataFrame) -> Store:
    path = folder / "card.csv"
    pd.concat(cards).to_csv(path, index=False)
    store = open_store()
    store.load(path)
    return store


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """Open a file of Ada, a 90-golfer, Ben, nearly scratch, and Cid, of whom little is known."""
    cards = (family_card("Ada", 0.9), family_card("Ben", 0.25), family_card("Cid", 0.92, 19))
    with loaded(tmp_path_factory.mktemp("three"), *cards) as store:
        yield store


@pytest.mark.long
@pytest.mark.parametrize(
    ("k", "name"),
    [(0.1, "tour"), (0.2, "scratch"), (0.4, "scratch"), (0.45, "amateur-80"), (1.0, "amateur-90")],
)
def test_a_player_of_a_known_standard_is_set_against_the_nearest(
    tmp_path: Path, k: float, name: str
) -> None:
    with loaded(tmp_path, family_card("Ada", k)) as store:
        found = nearest(store)
    assert found.k == pytest.approx(k, abs=1e-5)
    assert (found.name, found.refusal, found.rounds, found.shots) == (name, "", 24, 288)
    assert found.score_low < score_of(k) < found.score_high


def test_nearest_is_by_k_and_of_two_as_near_the_better() -> None:
    halfway = 0.15, (0.3 + 8 / 15) / 2, (8 / 15 + 1) / 2
    below = [standard_at(k - 1e-9) for k in halfway]
    assert below == ["tour", "scratch", "amateur-80"]
    assert [standard_at(k + 1e-9) for k in halfway] == ["scratch", "amateur-80", "amateur-90"]
    assert standard_at(0.15) == "tour"
    assert standard_at(1.46) == "amateur-100"


@pytest.mark.long
@pytest.mark.parametrize(
    ("k", "rounds", "refusal"), [(0.5, 19, FEW_ROUNDS), (-0.1, 24, BETTER), (1.6, 24, BEYOND)]
)
def test_without_a_total_it_is_the_tour(
    tmp_path: Path, k: float, rounds: int, refusal: str
) -> None:
    with loaded(tmp_path, family_card("Ada", k, rounds)) as store:
        found = nearest(store)
    assert (found.name, found.refusal, found.rounds) == ("tour", refusal, rounds)


def test_nobodys_rounds_have_no_standard(three: Store) -> None:
    found = nearest(three, Selection("Ada", event="none"))
    assert (found.name, found.refusal, found.rounds, found.shots) == ("tour", FEW_ROUNDS, 0, 0)


def test_it_is_the_whole_game_of_plays_like() -> None:
    with open_store(demo_file(), read_only=True) as store:
        whole = plays_like(store).set_index("part").loc[TOTAL]
        found = nearest(store)
        names = ["k", "score_low", "score_high", "rounds", "shots"]
        assert [getattr(found, name) for name in names] == pytest.approx(list(whole[names]))


def test_each_player_has_a_standard_of_their_own(three: Store) -> None:
    found = nearest_of_each(three)
    assert list(found) == ["Ada", "Ben", "Cid"]
    assert [one.name for one in found.values()] == ["amateur-90", "scratch", "tour"]
    assert found["Ben"] == nearest(three, BEN)
    with pytest.raises(CallError, match=r"3 players \(Ada, Ben, Cid\): choose one"):
        nearest(three)


@pytest.mark.long
def test_questions_about_all_hold_each_player_against_their_own(three: Store) -> None:
    both = sg.summarise(three, "auto", by=["part", "total"])
    apart = [
        sg.summarise(three, name, chosen, ["player", "part", "total"]).assign(benchmark=name)
        for chosen, name in ((ADA, "amateur-90"), (BEN, "scratch"), (CID, "tour"))
    ]
    pd.testing.assert_frame_equal(both, pd.concat(apart, ignore_index=True))
    strokes = sg.strokes_gained(three, "auto")
    assert strokes.groupby("player")["benchmark"].unique().str[0].to_dict() == {
        **{"Ada": "amateur-90", "Ben": "scratch", "Cid": "tour"}
    }
    # exact players gain nothing against the standard they play to, Ben nearly nothing
    own = strokes.groupby("player")["gained"].mean()
    assert abs(own["Ada"]) < 0.05 < -own["Cid"]


@pytest.mark.long
def test_questions_about_one_name_the_standard_in_a_last_column(three: Store) -> None:
    for ask in (sg.why, sg.trend, sg.summarise, sg.strokes_gained):
        plain, own = ask(three, "amateur-90", ADA), ask(three, "auto", ADA)
        assert "benchmark" not in plain
        pd.testing.assert_frame_equal(own, plain.assign(benchmark="amateur-90"))
    plan = sg.practice_plan(three, 5, 6, "auto", selection=ADA)
    assert set(plan.table["benchmark"]) == {"amateur-90"}
    for ask in (sg.why, sg.trend):
        every = ask(three, "auto")
        assert every.columns[0] == "player"
        assert every.groupby("player")["benchmark"].unique().str[0].to_dict() == {
            **{"Ada": "amateur-90", "Ben": "scratch", "Cid": "tour"}
        }
    with pytest.raises(CallError, match=r"3 players \(Ada, Ben, Cid\) and a practice plan"):
        sg.practice_plan(three, 5, 6, "auto")


def test_where_it_is_no_benchmark_the_error_says_what_to_give(three: Store, tmp_path: Path) -> None:
    for ask in (sg.field_strength, sg.check_totals):
        with pytest.raises(CallError, match=r"auto is no curve.* such as amateur-90"):
            ask(three, "auto")
    with pytest.raises(CallError, match="auto is no curve"):
        sg.benchmark("auto")
    with pytest.raises(CallError, match="leave the benchmark out"):
        sg.practice_plan(three, 5, 6, "auto", target=75, selection=ADA)
    three.write_strokes(tmp_path / "strokes.parquet")
    with (
        ParquetStrokes([str(tmp_path / "strokes.parquet")]) as strokes,
        pytest.raises(CallError, match="auto is no curve"),
    ):
        sg.summarise(strokes, "auto")


def test_a_file_called_auto_is_read_by_its_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    rows = "lie,distance,unit,strokes,source\ngreen,3,ft,1.1,own\ngreen,30,ft,2.0,own\n"
    Path("auto").write_text(rows, encoding="utf-8")
    assert sg.benchmark("./auto").name == "auto"
    with pytest.raises(CallError, match=r"a file of that name is \./auto"):
        sg.benchmark("auto")


@pytest.mark.long
def test_where_every_part_loses_the_nearest_is_set_beside(tmp_path: Path) -> None:
    card = family_card("Ada", 1.0, apart={"wedge_50_100": 1.5, "chip_0_30": 0.5})
    with loaded(tmp_path, card) as store:
        parts = summarise(store)
        assert all_lose(parts)
        found = beside(store, parts, "tour")
        assert found is not None
        against = summarise(store, "amateur-90")
        assert beside(store, against, "amateur-90") is None  # not every part loses
    assert (found.nearest.name, found.against) == ("amateur-90", "tour")
    table = found.parts.set_index("part")
    assert table.loc["wedge_50_100", "verdict"] == "clear loss"
    assert table.loc["chip_0_30", "verdict"] == "clear gain"
    assert table["verdict"].tolist() == against.set_index("part")["verdict"].tolist()
    # 72 strokes of each part in 24 rounds of 12 holes
    a_round = 72 / (24 * 12 / HOLES)
    for end, column in (("", "shrunk_per_shot"), ("_low", "shrunk_low"), ("_high", "shrunk_high")):
        shot = against.set_index("part")[column]
        assert table[f"per_round{end}"].to_numpy() == pytest.approx(shot * a_round)


@pytest.mark.long
@pytest.mark.parametrize(
    ("k", "apart", "rounds"),
    [
        (1.0, {"chip_0_30": 0.0}, 24),  # a part that does not lose
        (1.6, {}, 24),  # all lose, and no standard can be named
        (1.0, {}, 19),
    ],
)
def test_it_is_not_set_beside(
    tmp_path: Path, k: float, apart: dict[str, float], rounds: int
) -> None:
    with loaded(tmp_path, family_card("Ada", k, rounds, apart)) as store:
        for curve in ("tour", "scratch"):
            parts = summarise(store, curve)
            assert all_lose(parts) == (not apart)
            assert beside(store, parts, curve) is None


@pytest.mark.long
def test_it_is_not_set_beside_itself(tmp_path: Path) -> None:
    with loaded(tmp_path, family_card("Ada", 1.46)) as store:
        parts = summarise(store)
        # whatever else is lost to: the standard that is asked about already says nothing new
        assert beside(store, parts, "amateur-100") is None
        assert beside(store, parts, "scratch") is not None


def test_parts_without_a_verdict_say_nothing_either_way() -> None:
    parts = pd.DataFrame({"part": ["a", "b", TOTAL], "verdict": ["clear loss"] * 2 + ["level"]})
    few = "not enough shots"
    assert all_lose(parts)
    assert all_lose(parts.assign(verdict=["probable loss", few, few]))
    assert not all_lose(parts.assign(verdict=few))
    assert not all_lose(parts.assign(verdict=["clear loss", "not settled", "clear loss"]))
