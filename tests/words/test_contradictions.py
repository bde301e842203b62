"""No word speaks against a number beside it: tried over many simulated seasons and standards.

A contradiction is a clear word whose range at 8 in 10 reaches 0, any word whose best estimate is on
the other side of 0, a sentence against its table's order, a cause of what is not lost, a plan that
another split beats.
"""

from __future__ import annotations

from collections.abc import Iterator

import pandas as pd
import pytest

from sgzone.demo.presets import demo_player, strong_amateur, tour_level
from sgzone.demo.simulate import simulate_season
from sgzone.practice.plan import PLAN, practice_plan
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.review.why.split import largest_causes, why
from sgzone.season.store import Store, open_store
from sgzone.stats.verdict import GAIN, LOSS, OPEN, STRENGTHS, SURE, side_of
from sgzone.words.practice import plan_lead
from sgzone.words.say import Say
from sgzone.words.season import season

AGAINST = ("tour", "scratch", "amateur-90")
SEASONS = tuple(
    (golfer, rounds, seed)
    for seed, (golfer, rounds) in enumerate(
        (golfer, rounds)
        for golfer in (tour_level, strong_amateur, demo_player)
        for rounds in (2, 6, 12, 30)
    )
)


@pytest.fixture(params=SEASONS, ids=lambda one: f"{one[0].__name__}, {one[1]} rounds")
def store(request: pytest.FixtureRequest, tmp_path) -> Iterator[Store]:  # type: ignore[no-untyped-def]
    golfer, rounds, seed = request.param
    card = simulate_season(golfer(), rounds, seed).card
    card.to_parquet(tmp_path / "card.parquet")
    with open_store() as store:
        store.load(tmp_path / "card.parquet")
        yield store


def contradictions(table: pd.DataFrame) -> list[str]:
    """Return every row of a summary whose word its own numbers speak against, and bad order."""
    found = []
    for row in table.itertuples():
        side, best = side_of(row.verdict), row.shrunk_per_round
        if side != OPEN and not (best < 0 if side == LOSS else best > 0):
            found.append(f"{row.part}: {row.verdict} at {best}")
        reached = row.shrunk_low_per_round <= 0 <= row.shrunk_high_per_round
        if side != OPEN and STRENGTHS[row.verdict] == SURE and reached:
            found.append(f"{row.part}: {row.verdict}, its range reaches 0")
    size = table["shrunk_per_round"].fillna(table["gained_per_round"])
    parts = size[table["part"] != TOTAL]
    if not parts.is_monotonic_increasing:
        found.append("not in the order of the best estimate")
    return found


@pytest.mark.long
@pytest.mark.parametrize("against", AGAINST)
def test_no_word_speaks_against_its_numbers(store: Store, against: str) -> None:
    table = summarise(store, against, by=["part", TOTAL])
    assert contradictions(table) == []
    parts, total = table.iloc[:-1], table.iloc[-1]
    said = season(total, parts, int(total["rounds"]), against, Say())
    words = Say().parts
    for lead, side, rows in (
        ("goes in", LOSS, parts),
        ("losses:", LOSS, parts),
        ("comes from", GAIN, parts.iloc[::-1]),
        ("gains:", GAIN, parts.iloc[::-1]),
    ):
        for sentence in (s for s in said if lead in s):
            names = [words[p] for p in rows.loc[rows["verdict"].map(side_of) == side, "part"]]
            told = [name for name in names if name in sentence]
            assert told, sentence
            assert told == names[: len(told)], sentence
            assert [sentence.index(name) for name in told] == sorted(map(sentence.index, told))


@pytest.mark.long
def test_no_cause_is_named_of_what_is_not_lost(store: Store) -> None:
    table = summarise(store, "tour", by=["part"])
    lost = set(table.loc[table["verdict"].map(side_of) == LOSS, "part"])
    causes = why(store, "tour")
    named = largest_causes(causes)
    assert set(named) <= lost
    sums = causes[causes["column"] == "total"].set_index(["part", "factor"])["loss_per_round"]
    assert all(sums[part, factor] > 0 for part, factor in named.items())


@pytest.mark.long
def test_no_other_split_beats_the_plan(store: Store) -> None:
    plan = practice_plan(store, 5, 6, "tour")
    if plan.thin or plan.no_loss:
        return
    worth = plan.alternatives.set_index("split")["strokes_per_round"]
    assert worth[PLAN] >= worth.max() - 0.005, worth
    shares = plan.table.set_index("part")["share"].sort_values(ascending=False, kind="stable")
    lead = plan_lead(plan, Say())[0]
    told = [part for part in shares.index if Say().parts[part] in lead]
    assert told == list(shares.index[: len(told)])


def test_contradictions_are_found() -> None:
    """A word on the wrong side, a clear one whose range reaches 0, and a wrong order."""
    rows = [
        ("wedge_50_100", "clear loss", -0.2, -0.5, 0.1),
        ("chip_0_30", "probable gain", -0.3, -0.6, 0.0),
        (TOTAL, "clear loss", -0.5, -0.9, -0.1),
    ]
    names = ("part", "verdict", "shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round")
    table = pd.DataFrame(rows, columns=list(names)).assign(gained_per_round=0.0)
    assert len(contradictions(table)) == 3
