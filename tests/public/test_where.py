"""A frame gives what the season file gives, to the last digit, for every question."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from typing import Any

import pandas as pd
import polars as pl
import pyarrow as pa
import pytest
from click.testing import CliRunner
from packaging.version import Version

import sgzone as sg
from sgzone.cli import sgzone
from sgzone.resources import data_path
from sgzone.season.store import Store, open_store
from sgzone.terms import PART_NAMES
from tests.demo_season import demo_file

TABLES = ("season", "practice_log", "test_blocks", "bag")
ASKED: dict[str, Callable[[Any], pd.DataFrame]] = {
    "strokes_gained": lambda of: sg.strokes_gained(of, "scratch"),
    "check_totals": lambda of: sg.check_totals(of, "scratch"),
    "summarise": lambda of: sg.summarise(of, "amateur-80", by=["part", "total"]),
    "summarise, auto": lambda of: sg.summarise(of, "auto", by="lie,band", level=0.9),
    "counts": sg.counts,
    "plays_like": sg.plays_like,
    "why": lambda of: sg.why(of, "scratch", since="2026-06-01"),
    "compare": lambda of: sg.compare(of, "swing", part="wedge_50_100"),
    "trend": sg.trend,
    "field_strength": sg.field_strength,
    "clubs": lambda of: sg.clubs(of, source="test"),
    "plan_number": lambda of: sg.plan_number(of, 97),
    "practice_plan": lambda of: sg.practice_plan(of, 5).table,
    "outcomes": sg.outcomes,
    "grid": sg.tables.grid,
    "wear_steps": lambda of: sg.tables.wear_steps(of, "54"),
    "block_days": sg.tables.block_days,
}


@pytest.fixture(scope="module")
def demo() -> Iterator[Store]:
    with open_store(demo_file(), read_only=True) as store:
        yield store


@pytest.fixture(scope="module")
def frames() -> list[Any]:
    """The four tables of the demo season, each of another library."""
    made = [pd.read_csv(data_path(f"demo/{name}.csv")) for name in TABLES]
    return [pl.from_pandas(made[0]), made[1], pa.Table.from_pandas(made[2]), made[3]]


@pytest.mark.repeats
@pytest.mark.parametrize("name", ASKED)
def test_a_frame_gives_what_the_season_file_gives(
    name: str, demo: Store, frames: list[Any]
) -> None:
    of_file = ASKED[name](demo)
    assert len(of_file)
    pd.testing.assert_frame_equal(ASKED[name](frames), of_file, check_exact=True)


def test_one_line_is_enough() -> None:
    card = pd.read_csv(data_path("demo/season.csv"))
    parts = sg.summarise(card, "amateur-80")
    assert set(parts["part"]) == set(PART_NAMES)
    drawn = sg.charts.by_part(parts).to_dict()
    rows = next(iter(drawn["datasets"].values()))
    assert len(rows) == len(parts)


def test_a_benchmark_is_a_name_or_an_object_everywhere(demo: Store) -> None:
    scratch = sg.benchmark("scratch")
    assert sg.benchmark(scratch) is scratch
    for ask in (sg.summarise, sg.clubs, sg.outcomes, sg.check_totals):
        pd.testing.assert_frame_equal(ask(demo, "scratch"), ask(demo, scratch))
    assert sg.break_even_proximity("tour", "fairway", 300) == sg.break_even_proximity(
        sg.benchmark("tour"), "fairway", 300
    )


def test_by_is_a_word_or_a_list(demo: Store) -> None:
    pd.testing.assert_frame_equal(sg.summarise(demo, by="lie"), sg.summarise(demo, by=["lie"]))


def test_no_range_is_missing_beside_a_verdict(demo: Store) -> None:
    for table in (sg.summarise(demo, by="lie,band"), sg.trend(demo), sg.compare(demo, "swing")):
        said = table["verdict"].astype(str)
        judged = ~said.isin(["not enough shots", "not enough rounds", "too few"])
        assert judged.any()
        assert table.loc[judged, ["low", "high"]].notna().all().all()


SOME: list[dict[str, Any]] = [
    {"lie": "rough"},
    {"club": "54", "part": "wedge_50_100"},
    {"lie": "rough", "part": "wedge 50-100 yd", "event": "competition", "since": "2026-06-01"},
]


def _line(verb: str, chosen: dict[str, Any], *more: str) -> pd.DataFrame:
    words = [word for name, value in chosen.items() for word in (f"--{name}", value)]
    call = [verb, "--db", str(demo_file()), "--format", "csv", *words, *more]
    done = CliRunner().invoke(sgzone, call)
    assert done.exit_code == 0, done.output
    exact = {} if Version(pd.__version__) >= Version("3") else {"float_precision": "round_trip"}
    return pd.read_csv(io.StringIO(done.stdout), **exact)


@pytest.mark.parametrize("chosen", SOME)
def test_some_strokes_are_those_of_the_command_line(demo: Store, chosen: dict[str, Any]) -> None:
    listed, told = sg.strokes_gained(demo, **chosen), _line("gained", chosen)
    assert 10 < len(listed) == len(told)
    assert listed["gained"].tolist() == pytest.approx(told["gained"].tolist(), abs=0, nan_ok=True)
    parts = sg.summarise(demo, by="part,total", **chosen)
    same = _line("summary", chosen, "--by", "part,total", "--no-measuring")
    assert parts["part"].tolist() == same["part"].tolist()
    numbers = ["shots", "rounds", "gained_per_round", "gained_per_shot", "shrunk_per_round"]
    assert parts[numbers].astype(float).to_numpy().tolist() == same[numbers].to_numpy().tolist()
    tries, counted = sg.counts(demo, **chosen), _line("counts", chosen)
    assert tries["n"].tolist() == counted["n"].tolist()
    assert "putts per round" not in set(tries["measure"])


def test_some_strokes_by_what_chose_them(demo: Store) -> None:
    [row] = sg.summarise(demo, by="lie", lie="rough").to_dict("records")
    every = sg.summarise(demo, by="lie").set_index("lie").loc["rough"]
    assert row["lie"] == "rough"
    assert row["shots"] == every["shots"]
    assert row["gained_per_round"] == every["gained_per_round"]


@pytest.mark.parametrize(
    ("chosen", "says"),
    [
        ({"lie": "rouhg"}, 'Did you mean "?rough'),
        ({"part": "putts"}, "Choose of: "),
        ({"club": 54}, 'write club="54"'),
        ({"lie": ["rough"]}, "is no text"),
    ],
)
@pytest.mark.parametrize("ask", [sg.strokes_gained, sg.summarise, sg.counts])
def test_words_for_no_strokes_are_refused(
    demo: Store, ask: Callable[..., pd.DataFrame], chosen: dict[str, Any], says: str
) -> None:
    with pytest.raises(sg.CallError, match=says):
        ask(demo, **chosen)
