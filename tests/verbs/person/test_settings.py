"""A person's own defaults through the real command line: their order, their faults, in vain."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from sgzone.errors import DataError
from sgzone.season.store import open_store
from sgzone.verbs.person.settings import MAX_BYTES, read_settings
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome, call, inside

CARD = "player,date,hole,shot,lie,distance\n" + "".join(
    f"{player},2026-05-{day},1,1,rough,40\n{player},2026-05-{day},1,2,green,9\n"
    for player, days in (("Ada", (14, 15)), ("Ben", (16,)))
    for day in days
)
OWN = "lie,distance,unit,strokes,source\n" + "".join(
    f"{lie},{far},{unit},{strokes},mine\n"
    for lie, unit in (("green", "ft"), ("rough", "yd"))
    for far, strokes in ((1, 1.5), (90, 3.5))
)


@pytest.fixture
def home(tmp_path: Path) -> Iterator[Path]:
    """Work beside a season file with two rounds of Ada and one of Ben."""
    with inside(tmp_path):
        Path("card.csv").write_text(CARD)
        with open_store("sgzone.duckdb") as store:
            store.load("card.csv")
        yield tmp_path


def with_set(monkeypatch: pytest.MonkeyPatch, **settings: str) -> None:
    for name, value in settings.items():
        monkeypatch.setenv(f"SGZONE_{name.upper()}", value)


def told(code: int, *words: str, parts: tuple[str, ...]) -> Outcome:
    """Return a call that fails in words that hold all ``parts``."""
    outcome = call(*words)
    assert (outcome.code, outcome.out) == (code, ""), outcome
    for part in parts:
        assert part in outcome.err
    return outcome


def players_of(*words: str) -> list[str]:
    outcome = call("gained", "--format", "csv", *words)
    assert outcome.code == FINE, outcome.err
    return sorted({line.split(",")[0] for line in outcome.out.splitlines()[1:]})


def expected(*words: str) -> str:
    """Return what the first stroke is expected to take, as csv writes it."""
    outcome = call("gained", "--format", "json", "--player", "Ada", *words)
    assert outcome.code == FINE, outcome.err
    return f"{outcome.json()[0]['expected_before']:.3f}"


def test_flag_then_environment_then_file(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert players_of() == ["Ada", "Ben"]
    (home / "sgzone.toml").write_text('player = "Ben"\n')
    assert players_of() == ["Ben"]
    with_set(monkeypatch, player="Ada")
    assert players_of() == ["Ada"]
    assert players_of("--player", "Ben") == ["Ben"]
    with_set(monkeypatch, player="")  # a blank variable is none
    assert players_of() == ["Ben"]


@pytest.mark.long
def test_units_and_benchmark_are_set(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    usual = call("gained").out
    assert "9.0 ft" in usual
    (home / "sgzone.toml").write_text('units = "metric"\nbenchmark = "amateur-90"\n')
    metric = call("gained").out
    assert "2.7 m" in metric
    assert "against amateur-90" in metric
    assert expected() == expected("--benchmark", "amateur-90") != expected("--benchmark", "tour")
    with_set(monkeypatch, units="yards", benchmark="tour")
    assert call("gained").out == usual


def test_the_file_stands_beside_the_season_file(home: Path) -> None:
    other = home / "other"
    other.mkdir()
    (home / "sgzone.toml").write_text('player = "Ben"\n')
    with inside(other):
        assert players_of("--db", str(home / "sgzone.duckdb")) == ["Ben"]


@pytest.mark.long
def test_an_own_curve_is_found_beside_the_file(home: Path) -> None:
    (home / "mine.csv").write_text(OWN)
    (home / "sgzone.toml").write_text('benchmark = "mine.csv"\n')
    other = home / "other"
    other.mkdir()
    with inside(other):
        there = str(home / "sgzone.duckdb")
        assert expected("--db", there) == expected(
            "--db", there, "--benchmark", str(home / "mine.csv")
        )


@pytest.mark.long
def test_everybody_overrides_the_player_who_is_set(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_set(monkeypatch, player="Ada")
    assert players_of("--everybody") == ["Ada", "Ben"]
    for verb in ("summary", "counts", "rounds"):
        ours, all_of_them = (call(verb, "--format", "csv", *w).out for w in ((), ("--everybody",)))
        assert "Ben" not in ours
        assert "Ben" in all_of_them
    words = ("gained", "--everybody", "--player", "Ben")
    told(CALL_AT_FAULT, *words, parts=("--player and --everybody",))
    words = ("rounds", "--as-text", "Ada", "2026-05-14", "--everybody")
    told(CALL_AT_FAULT, *words, parts=("--everybody does nothing",))


@pytest.mark.long
def test_a_setting_in_vain_is_no_error(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with_set(monkeypatch, player="Ada", benchmark="scratch", units="metric")
    (home / "strokes").mkdir()
    for words in (
        *("counts", "sources", "benchmarks", "benchmarks tour", "field", "summary --plays-like"),
        *("why --detail carry", "clubs --detail bag", "rounds --as-text Ada 2026-05-14"),
        "practice --hours 5 --target tour",
    ):
        outcome = call(*words.split())
        assert outcome.code == FINE, (words, outcome.err)
    typed = ("why", "--detail", "carry", "--benchmark", "tour")
    told(CALL_AT_FAULT, *typed, parts=("--benchmark does nothing",))


@pytest.mark.long
def test_an_answer_about_all_players_has_no_player_set(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    free = call("field", "--format", "csv").out
    with_set(monkeypatch, player="Ada")
    assert call("field", "--format", "csv").out == free


@pytest.mark.long
def test_a_wrong_variable_is_told_with_its_name(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value, hint in (
        ("units", "metrc", "Did you mean metric?"),
        ("player", "Adda", "Did you mean Ada?"),
        ("benchmark", "scrach", "Did you mean scratch?"),
        ("player", "A\x1b[2Ja", "signs that cannot be seen"),
        ("player", "x" * 9000, "It has 9000 letters."),
    ):
        with monkeypatch.context() as patch:
            with_set(patch, **{name: value})
            told(CALL_AT_FAULT, "gained", parts=(f"SGZONE_{name.upper()}", hint))
            typed = {"units": "yards", "benchmark": "tour", "player": "Ada"}[name]
            assert call("gained", f"--{name}", typed).code == FINE


@pytest.mark.parametrize(
    ("text", "code", "parts"),
    [
        ('units = "metrc"', DATA_AT_FAULT, ("sgzone.toml, units", "Did you mean metric?")),
        ('player = "Adda"', CALL_AT_FAULT, ("sgzone.toml, player", "Did you mean Ada?")),
        ('benchmark = "scrach"', CALL_AT_FAULT, ("sgzone.toml, benchmark", "mean scratch?")),
        ('benchmrk = "tour"', DATA_AT_FAULT, ("sgzone.toml, benchmrk", "mean benchmark?")),
        ("player = 7", DATA_AT_FAULT, ("sgzone.toml, player", "in quotes")),
        ('player = " "', DATA_AT_FAULT, ("sgzone.toml, player", "blank")),
        ('units = 1\nplayr = "x"', DATA_AT_FAULT, ("2 problems", "units", "playr")),
        ("units = metric", DATA_AT_FAULT, ("sgzone.toml is no TOML", 'units = "metric"')),
        ("a = " + "[" * 20_000, DATA_AT_FAULT, ("lists within lists",)),
        ("a = " + "9" * 6000, DATA_AT_FAULT, ("sgzone.toml is no TOML",)),
        ("#" * (MAX_BYTES + 1), DATA_AT_FAULT, ("sgzone.toml", "64001 bytes")),
        ('"\\u001b[2J" = 1', DATA_AT_FAULT, ("sgzone.toml", "No setting is called that")),
    ],
)
def test_a_wrong_file_is_told_with_its_key(
    home: Path, text: str, code: int, parts: tuple[str, ...]
) -> None:
    (home / "sgzone.toml").write_text(text)
    told(code, "gained", parts=parts)


def test_bytes_and_a_pipe_are_no_settings(home: Path) -> None:
    file = home / "sgzone.toml"
    file.write_bytes(b"player = '\xff'")
    told(DATA_AT_FAULT, "gained", parts=("sgzone.toml", "UTF-8"))
    file.unlink()
    os.mkfifo(file)
    told(DATA_AT_FAULT, "gained", parts=("sgzone.toml", "a device or a pipe"))


def test_no_file_sets_nothing(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "sgzone.toml") == {}
    (tmp_path / "sgzone.toml").write_text('units = "metric"\n')
    assert read_settings(tmp_path / "sgzone.toml") == {"units": "metric"}
    (tmp_path / "sgzone.toml").write_text("units = 1\n")
    with pytest.raises(DataError, match="It is no text"):
        read_settings(tmp_path / "sgzone.toml")


def test_the_library_reads_no_setting(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import sgzone as sg

    (home / "sgzone.toml").write_text('player = "Ben"\nbenchmark = "scratch"\n')
    with_set(monkeypatch, player="Ben", benchmark="scratch", units="metric")
    with sg.open_store("sgzone.duckdb", read_only=True) as store:
        strokes = sg.strokes_gained(store)
        assert set(strokes["player"].astype(str)) == {"Ada", "Ben"}
        tour = sg.strokes_gained(store, "tour")
        assert strokes["gained"].tolist() == tour["gained"].tolist()
