"""Deleting shows what would go and asks; without anybody to ask it needs a word in the call."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sgzone.season.store import open_store
from sgzone.verbs.rounds import rounds
from tests.season.cardfiles import card_text, write
from tests.season.test_store import BAG, LOG, TEST, everything

CARD = card_text("1,1,fairway,100", "1,2,green,20", "1,3,green,2")
ROUND = ("--delete", "Ada", "2026-05-14", "1")
PLAYER = ("--delete-player", "Ada")


@pytest.fixture
def season(tmp_path: Path) -> Path:
    path = tmp_path / "s.duckdb"
    bea = card_text("1,1,green,9", "1,2,green,1").replace("Ada", "Bea")
    texts = (CARD, CARD.replace("-14", "-15"), LOG, TEST, BAG, bea)
    with open_store(path) as store:
        for number, text in enumerate(texts):
            store.load(write(tmp_path, text, f"{number}.csv"))
    return path


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody is there to ask."""
    monkeypatch.setattr("sgzone.verbs.season.deleting.somebody_is_there", lambda: True)


def asked(season: Path, *words: str, answer: str = "") -> Result:
    return CliRunner().invoke(rounds, ["--db", str(season), *words], input=answer)


def held(season: Path) -> dict[str, list[tuple[object, ...]]]:
    with open_store(season, read_only=True) as store:
        return everything(store)


@pytest.mark.repeats
@pytest.mark.parametrize("words", [ROUND, PLAYER])
@pytest.mark.parametrize("answer", ["n\n", "\n", ""])
def test_without_a_yes_nothing_goes(
    words: tuple[str, ...], answer: str, season: Path, terminal: None
) -> None:
    before = held(season)
    result = asked(season, *words, answer=answer)
    assert "would be deleted. Delete it? [y/N]" in result.stderr
    assert result.stdout == ""
    assert held(season) == before


def test_a_round_goes_with_a_yes(season: Path, terminal: None) -> None:
    result = asked(season, *ROUND, "--format", "json", answer="y\n")
    assert result.exit_code == 0
    assert "1 round and 3 strokes of Ada on 2026-05-14 would be deleted." in result.stderr
    assert "Deleted the round: 3 strokes." in result.stderr
    assert [row["date"][:10] for row in json.loads(result.stdout)] == ["2026-05-15", "2026-05-14"]


def test_all_of_a_player_goes_with_a_yes(season: Path, terminal: None) -> None:
    result = asked(season, *PLAYER, answer="y\n")
    told = "2 rounds, 6 strokes, 2 practice sessions, 2 test balls and 2 bag entries"
    assert f"{told} of Ada would be deleted." in result.stderr
    assert f"Deleted Ada: {told}." in result.stderr
    left = held(season)
    assert [row for rows in left.values() for row in rows if "Ada" in row] == []
    assert (len(left["rounds"]), len(left["holes"]), len(left["strokes"])) == (1, 1, 2)


@pytest.mark.repeats
@pytest.mark.parametrize("words", [ROUND, PLAYER])
def test_without_a_terminal_it_takes_a_word_in_the_call(
    words: tuple[str, ...], season: Path
) -> None:
    before = held(season)
    result = asked(season, *words)
    assert result.exit_code != 0
    assert "Add --yes" in str(result.exception)
    assert getattr(result.exception, "exit_code", None) == 2
    assert held(season) == before
    assert asked(season, *words, "--yes").exit_code == 0
    assert held(season) != before


def test_the_word_alone_does_nothing(season: Path) -> None:
    result = asked(season, "--yes")
    assert "--yes does nothing with rounds unless it deletes" in str(result.exception)
    both = asked(season, *ROUND, *PLAYER, "--yes")
    assert "one at a time" in str(both.exception)
    nobody = asked(season, "--delete-player", "Nobody", "--yes")
    assert 'No player "Nobody"' in str(nobody.exception)
