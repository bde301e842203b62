"""An option that could do nothing is an error that says so, or is not offered at all."""

from __future__ import annotations

from pathlib import Path

import pytest

import sgzone as sg
from sgzone.errors import CallError
from sgzone.season.store import open_store
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, call, inside

IDLE = {
    "practice --what-if 'wedge_50_100 long_short_spread -20%'": (
        *("--hours 5", "--weeks 4", "--week", "--blocks", "--split putt_0_10=100", "--no-log"),
        *("--detail", "--rate 10", "--recoverable 0.5", "--floor 1", "--largest-change 0.2"),
        "--target scratch",
    ),
    "practice --blocks": (
        *("--hours 5", "--weeks 4", "--week 2", "--detail", "--floor 1", "--target scratch"),
    ),
    "practice --hours 5 --week": (
        *("--detail", "--split putt_0_10=100", "--level 0.9", "--no-log", "--target 78"),
    ),
    "practice --hours 5 --format csv": ("--split putt_0_10=100",),
    "practice --hours 5 --target scratch": ("--benchmark tour",),
    "why --detail misses": ("--ratio 2", "--ratio 1"),
    "why --detail carry": ("--ratio 2", "--benchmark tour"),
    "clubs": ("--remind-shots 10", "--remind-months 6"),
    "clubs --detail bag": (
        *("--gap 10", "--source test", "--benchmark tour", "--level 0.9", "--units metric"),
        *("--since 2026-06-01", "--until 2026-06-01", "--event practice"),
    ),
    "clubs --detail cover": ("--gap 10", "--benchmark tour", "--level 0.9"),
    "clubs --detail wear": ("--gap 10", "--source test", "--remind-shots 10", "--units metric"),
    "number 97": ("--step 10", "--from 60", "--to 120"),
    "number --from 60 --to 70 --out x.html": ("--format csv", "--level 0.9"),
    "practice --blocks --format csv": ("--event practice",),
    "gained": ("--engine duckdb",),
    "gained --in strokes --out new": ("--format csv", "--units metric"),
    "gained --in strokes": ("--db sgzone.duckdb",),
    "summary --in strokes": ("--db sgzone.duckdb",),
    "benchmarks tour": ("--db sgzone.duckdb",),
    "benchmarks own.csv": ("--db sgzone.duckdb",),
    "report x.html": ("--paper a4",),
}
ACTING = (
    "why --detail ratio --ratio 1.1",
    "clubs --detail bag --remind-shots 10",
    "practice --blocks --rate 10",
    "practice --hours 5 --weeks 4 --week 2",
    "number 97 --firmness soft",
    "benchmarks --db sgzone.duckdb",
    "report x.pdf --paper a4",
)
NEVER = (
    *("counts --benchmark tour", "gained --level 0.9", "report x.html --format csv"),
    "field --units metric",
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("idle")
    card = sg.simulate_season(rounds=6).card.assign(player="Ada", club="54")
    card.to_csv(folder / "card.csv", index=False)
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    return folder


def _words(text: str) -> list[str]:
    before, *quoted = text.split("'")
    return [*before.split(), *(quoted[:1] if quoted else [])]


@pytest.mark.parametrize(
    ("start", "option"), [(start, option) for start, options in IDLE.items() for option in options]
)
def test_what_is_never_read_is_refused_by_name(start: str, option: str, home: Path) -> None:
    with inside(home):
        done = call(*_words(start), *option.split())
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert f"{option.split()[0].replace('--no-log', '--log')} does nothing with" in done.err
    assert done.err.rstrip().endswith("leave it out.")
    assert not (home / "x.html").exists()


def test_several_are_named_at_once(home: Path) -> None:
    with inside(home):
        done = call("clubs", "--remind-shots", "10", "--remind-months", "6")
    assert "--remind-shots and --remind-months do nothing with the ladder" in done.err
    assert "leave them out" in done.err


@pytest.mark.long
@pytest.mark.parametrize("words", ACTING)
def test_what_acts_is_taken(words: str, home: Path) -> None:
    with inside(home):
        assert call(*words.split()).code == FINE


@pytest.mark.parametrize("words", NEVER)
def test_what_can_never_act_is_not_offered(words: str, home: Path) -> None:
    verb, option = words.split()[0], next(w for w in words.split() if w.startswith("--"))
    with inside(home):
        done = call(*words.split())
        assert done.code == CALL_AT_FAULT
        assert option in done.err
        assert option not in call(verb, "--help").out


@pytest.mark.parametrize("words", ["benchmarks", "gained --in strokes --benchmark squad"])
def test_a_season_file_that_is_not_there_is_no_empty_one(words: str, home: Path) -> None:
    with inside(home):
        done = call(*words.split(), "--db", "none.duckdb")
    assert done.code == DATA_AT_FAULT
    assert "none.duckdb" in done.err


def test_a_firmness_that_no_green_has_is_refused(home: Path) -> None:
    with inside(home):
        assert "'soft', 'medium', 'firm'" in call("number", "97", "--firmness", "hard").err
    with (
        open_store(home / "sgzone.duckdb", read_only=True) as store,
        pytest.raises(CallError, match="Choose from: soft, medium, firm"),
    ):
        sg.plan_number(store, 97, firmness="hard")
