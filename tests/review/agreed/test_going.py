"""How agreements go: values by hand, words that luck does not bring, what would settle it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.review.agreed import going as module
from sgzone.review.agreed.going import GOING_COLUMNS, agreements, over_time
from sgzone.review.agreed.observed import Observed
from sgzone.season.agreed.keeping import About, add
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.stats.rates import share_interval
from sgzone.stats.verdict import BETTER_SINCE, NOT_SETTLED, TOO_FEW, WORSE_SINCE
from tests.season.cardfiles import write

FIRST, DAY = date(2026, 5, 1), date(2026, 5, 20)
HOLED = About(measure="holed", from_ft=4, to_ft=5, target=0.75, due=date(2026, 8, 1))


def putts(holed: list[list[int]], start: date = FIRST, player: str = "Ada") -> str:
    """Return a card of rounds a day apart; every hole a putt from 4 ft, holed or with another."""
    rows = ["player,date,hole,shot,lie,distance"]
    for place, of_round in enumerate(holed):
        day = start + timedelta(days=place)
        for hole, won in enumerate(of_round, 1):
            rows.append(f"{player},{day},{hole},1,green,4")
            if not won:
                rows.append(f"{player},{day},{hole},2,green,1")
    return "\n".join(rows) + "\n"


@pytest.fixture
def store() -> Iterator[Store]:
    with open_store() as store:
        yield store


def only(store: Store, **more: object) -> pd.Series:
    [(_, row)] = agreements(store, **more).iterrows()  # type: ignore[arg-type]
    return row


def test_before_and_since_by_value(store: Store, tmp_path: Path) -> None:
    """20 rounds of 3 of 6 holed, then 10 of 5 of 6: 50% and 83%."""
    rounds = [[1, 0, 1, 0, 1, 0]] * 20 + [[1, 1, 1, 1, 1, 0]] * 10
    store.load(write(tmp_path, putts(rounds)))
    add(store, "Ada", "holed", HOLED, day=DAY)
    table = agreements(store)
    assert list(table.columns) == list(GOING_COLUMNS)
    row = table.iloc[0]
    assert (row["unit"], row["before"], row["since"]) == ("share", 0.5, pytest.approx(5 / 6))
    assert row["change"] == pytest.approx(1 / 3)
    sizes = ["shots_before", "shots_since", "rounds_before", "rounds_since"]
    assert row[sizes].tolist() == [120, 60, 20, 10]
    since = share_interval(np.repeat(np.arange(10), 6), np.tile([1, 1, 1, 1, 1, 0], 10), 0.8)
    assert row[["since_low", "since_high"]].tolist() == pytest.approx(since[1:])
    assert row["change_low"] < 1 / 3 < row["change_high"]
    assert row["verdict"] == BETTER_SINCE
    assert row["p"] < 0.001
    assert row["met"] == pytest.approx(
        module.chance_reached(np.zeros(60), [1] * 50 + [0] * 10, 0.75, 0.8)
    )
    assert row["gap"] == pytest.approx(0.25)


def test_fewer_is_better_of_three_putts(store: Store, tmp_path: Path) -> None:
    rows = ["player,date,hole,shot,lie,distance"]
    for place in range(20):
        day = FIRST + timedelta(days=place)
        for hole in range(1, 7):
            rows += [f"Ada,{day},{hole},1,green,40", f"Ada,{day},{hole},2,green,3"]
            if place < 10 and hole < 4:
                rows.append(f"Ada,{day},{hole},3,green,1")
    store.load(write(tmp_path, "\n".join(rows)))
    about = About(measure="three_putt", from_ft=30, target=0.3)
    add(store, "Ada", "two putts", about, day=date(2026, 5, 10))
    row = only(store)
    assert (row["before"], row["since"], row["verdict"]) == (0.5, 0, BETTER_SINCE)
    assert row["met"] > 0.99
    add(store, "Ada", "holed", About(measure="holed", from_ft=40), day=date(2026, 5, 10))
    assert agreements(store)["verdict"].iloc[1] == NOT_SETTLED


def test_a_part_is_said_a_round(store: Store, tmp_path: Path) -> None:
    """The mean of a stroke times the strokes of 18 holes: six putts on six holes are 18."""
    store.load(write(tmp_path, putts([[1] * 6] * 6 + [[0] * 6] * 6)))
    add(store, "Ada", "putts", About(part="putt_0_10"), day=date(2026, 5, 6))
    row = only(store)
    gained = Observed(store, selection=Selection("Ada")).strokes["gained"]
    assert row["unit"] == "per round"
    assert row["before"] == pytest.approx(gained.iloc[:36].mean() * 27)  # 108 putts on 72 holes
    assert row["since"] == pytest.approx(gained.iloc[36:].mean() * 27)
    assert row["verdict"] == WORSE_SINCE
    assert np.isnan(row["met"])


def test_the_median_and_its_better_side(store: Store, tmp_path: Path) -> None:
    rng = np.random.default_rng(1)
    rows = ["player,date,hole,shot,lie,distance,to_lie,to_distance"]
    for place in range(20):
        for hole in range(1, 7):
            near = (10 if place >= 10 else 20) + rng.integers(-4, 5)
            day = FIRST + timedelta(days=place)
            rows.append(f"Ada,{day},{hole},1,fairway,100,green,{near}")
    store.load(write(tmp_path, "\n".join(rows)))
    add(store, "Ada", "near", About(measure="proximity", target=11), day=date(2026, 5, 10))
    row = only(store)
    assert (row["unit"], row["verdict"]) == ("ft", BETTER_SINCE)
    assert 19 <= row["before"] <= 21
    assert 9 <= row["since"] <= 11
    assert row["met"] > 0.9


def test_what_counts_nothing_has_its_rounds_alone(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[1]] * 5)))
    add(store, "Ada", "sleep", day=date(2026, 5, 3))
    row = only(store)
    assert row[["rounds_before", "rounds_since", "verdict"]].tolist() == [3, 2, ""]
    assert row[["unit", "before", "since", "p", "met", "more"]].isna().all()


@pytest.mark.parametrize(("first", "then"), [(4, 20), (20, 4)])
def test_too_few_rounds_have_no_verdict(
    store: Store, tmp_path: Path, first: int, then: int
) -> None:
    """However plain it looks: none before, all since."""
    store.load(write(tmp_path, putts([[0] * 9] * first + [[1] * 9] * then)))
    add(store, "Ada", "holed", HOLED, day=FIRST + timedelta(days=first - 1))
    row = only(store)
    assert (row["before"], row["since"], row["verdict"]) == (0, 1, TOO_FEW)
    assert np.isnan(row["p"])
    assert np.isnan(row["met"]) == (then < 5)


def test_too_few_shots_have_no_verdict(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[0]] * 9 + [[1]] * 9)))
    add(store, "Ada", "holed", HOLED, day=FIRST + timedelta(days=8))
    assert only(store)["verdict"] == TOO_FEW


def test_no_shot_since_and_none_before(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[1, 0]] * 9)))
    add(store, "Ada", "later", HOLED, day=date(2026, 6, 1))
    add(store, "Ada", "earlier", HOLED, day=date(2026, 4, 1))
    earlier, later = (row for _, row in agreements(store).iterrows())
    assert np.isnan(later["since"])
    assert np.isnan(earlier["before"])
    assert {earlier["verdict"], later["verdict"]} == {TOO_FEW}
    assert np.isnan([earlier["more"], earlier["gap"]]).all()


def test_before_reaches_back_a_year(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[0] * 6] * 5, start=date(2024, 5, 1)), "old.csv"))
    store.load(write(tmp_path, putts([[1] * 6] * 5), "new.csv"))
    add(store, "Ada", "holed", HOLED, day=DAY)
    assert only(store)[["before", "shots_before"]].tolist() == [1, 30]


def test_each_player_has_their_own(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[1] * 6] * 12), "a.csv"))
    store.load(write(tmp_path, putts([[0] * 6] * 12, player="Bea"), "b.csv"))
    for player in ("Bea", "Ada"):
        add(store, player, "holed", HOLED, day=date(2026, 5, 6))
    table = agreements(store)
    assert table[["player", "since"]].to_numpy().tolist() == [["Ada", 1], ["Bea", 0]]
    assert agreements(store, selection=Selection("Bea"))["player"].tolist() == ["Bea"]
    with pytest.raises(CallError, match="No player"):
        agreements(store, selection=Selection("Cy"))


def test_how_many_more_would_show_it(store: Store, tmp_path: Path) -> None:
    """From 60% to 75%: reach 2.33 + .84 standard errors. Rounds are all alike, so a putt has the
    variance of one putt alone: (.15 / 3.168)^2 = v (1 / 600 + 1 / n), n = 155 of v = .24."""
    rounds = [[1, 1, 1, 0, 0] * 2] * 60
    store.load(write(tmp_path, putts(rounds[:50], start=date(2026, 2, 1)), "a.csv"))
    store.load(write(tmp_path, putts(rounds[:10], start=date(2026, 3, 23)), "b.csv"))
    add(store, "Ada", "holed", HOLED, day=date(2026, 4, 1))
    row = only(store)
    assert row["shots_before"] == 600
    assert (row["gap"], row["more"]) == (pytest.approx(0.15), pytest.approx(131, abs=2))


def test_where_too_few_came_before_it_says_what_can_show(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, putts([[1, 1, 1, 0, 0]] * 4 + [[1, 1, 0, 0, 0]])))
    add(store, "Ada", "holed", HOLED, day=DAY)
    row = only(store)
    assert row["shots_before"] == 25
    assert row["more"] == 25
    share = 14.5 / 26
    reach = 3.168 * np.sqrt(share * (1 - share) * 2 / 25)
    assert row["gap"] == pytest.approx(reach, rel=0.02)


def seasons(rng: np.random.Generator, share: float, later: float, sd: float) -> pd.DataFrame:
    """Return 40 rounds of some three putts, agreed on after the 20th; rounds differ by ``sd``."""
    n = rng.poisson(3, 40)
    true = np.where(np.arange(40) < 20, share, later) + rng.normal(0, sd, 40)
    key = np.repeat(np.arange(40), n)
    won = rng.random(n.sum()) < np.clip(true, 0.01, 0.99)[key]
    day = pd.Timestamp(FIRST) + pd.to_timedelta(key, "D")
    return pd.DataFrame({"round_key": key, "date": day, "value": won.astype(float)})


def verdicts(share: float, later: float, sd: float, times: int) -> Counter[str]:
    rng, found = np.random.default_rng(3), Counter[str]()
    for _ in range(times):
        seen = seasons(rng, share, later, sd)
        before, since = module._split(seen, pd.Timestamp(DAY))
        p = module._luck(seen, before, "share", 1)
        found[module._verdict(p, since["value"].mean() - before["value"].mean(), "holed")] += 1
    return found


@pytest.mark.long
@pytest.mark.parametrize("sd", [0.0, 0.12])
def test_without_a_change_luck_seldom_brings_the_word(sd: float) -> None:
    """Of 150 looks at nothing 2% are 3; over 10 would be three times too many."""
    found = verdicts(0.6, 0.6, sd, 150)
    assert found[BETTER_SINCE] + found[WORSE_SINCE] <= 10
    assert found[NOT_SETTLED] >= 140


@pytest.mark.long
def test_a_planted_change_is_found_on_its_own_side() -> None:
    found = verdicts(0.45, 0.8, 0.05, 60)
    assert found[BETTER_SINCE] >= 45
    assert found[WORSE_SINCE] == 0
    assert verdicts(0.8, 0.45, 0.05, 60)[WORSE_SINCE] >= 45


def test_month_by_month_with_the_month_of_the_day_in_two(store: Store, tmp_path: Path) -> None:
    rounds = [[1, 0]] * 25 + [[1, 1]] * 10
    store.load(write(tmp_path, putts(rounds)))
    add(store, "Ada", "holed", HOLED, day=DAY)
    row = only(store)
    months = over_time(Observed(store, selection=Selection("Ada")), row, 0.8)
    assert months["later"].tolist() == [False, True, True]
    assert months["n"].tolist() == [40, 22, 8]
    assert months["value"].tolist() == [0.5, pytest.approx(17 / 22), 1]
    assert (months["low"] <= months["value"]).all()
    assert months["date"].tolist() == [
        pd.Timestamp(2026, *day) for day in ((5, 11), (5, 26), (6, 3))
    ]
