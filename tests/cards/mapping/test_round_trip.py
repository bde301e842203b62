"""The demo card in somebody else's table: guessed, written, read and put to it, it is the same."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from sgzone.cards.mapping.write import write_mapping
from sgzone.errors import Problem
from sgzone.resources import data_path
from sgzone.season.reading import find_problems, read_card

HEADERS = {
    **{"player": "Spieler", "date": "Datum", "round": "Runde", "hole": "Loch", "shot": "Schlag Nr"},
    **{"lie": "Lage", "distance": "Entfernung", "unit": "Einheit", "penalty": "Strafschläge"},
    **{"result": "Ergebnis", "club": "Schläger", "swing": "Schwung", "measured": "Gemessen mit"},
    **{"course": "Platz", "event": "Art der Runde", "note": "Bemerkung"},
}
WORDS = {
    "lie": {"rough": "Rough", "sand": "Bunker", "green": "Grün", "fringe": "Vorgrün"},
    "result": {"holed": "eingelocht", "conceded": "geschenkt", "picked_up": "aufgehoben"},
    "swing": {"full": "voll", "three-quarter": "dreiviertel", "half": "halb"},
    "event": {"competition": "Turnier", "practice": "Training"},
}
ROUNDS = 4


@pytest.fixture(scope="module")
def card() -> pd.DataFrame:
    season = pd.read_csv(data_path("demo/season.csv"), dtype=str, keep_default_na=False)
    days = sorted(season["date"].unique())[:ROUNDS]
    return season[season["date"].isin(days)].reset_index(drop=True)


def abroad(card: pd.DataFrame) -> pd.DataFrame:
    """Return the card as it would be kept in German: headers, words, commas, days."""
    other = card.copy()
    for name, words in WORDS.items():
        other[name] = other[name].replace(words)
    for name in other.columns.difference(["club", "player", "course"]):
        other[name] = other[name].str.replace(r"^(-?\d*)\.(\d+)$", r"\1,\2", regex=True)
    other["date"] = pd.to_datetime(card["date"]).dt.strftime("%d.%m.%Y")
    return other.rename(columns=HEADERS)


def errors(path: Path) -> list[Problem]:
    return [problem for problem in find_problems(path) if problem.severity == "error"]


def same(folder: Path, card: pd.DataFrame, path: Path) -> None:
    card.to_csv(folder / "own.csv", index=False)
    pd.testing.assert_frame_equal(read_card(path), read_card(folder / "own.csv"))


@pytest.mark.long
def test_the_card_abroad_is_the_card(tmp_path: Path, card: pd.DataFrame) -> None:
    path = tmp_path / "runden.csv"
    text = abroad(card).to_csv(index=False, sep=";", lineterminator="\r\n")
    columns = len(card.columns)
    title, total = "Meine Runden" + ";" * (columns - 1), "Summe" + ";" * (columns - 1)
    path.write_bytes(f"{title}\r\n\r\n{text}{total}\r\n".encode("cp1252"))
    _, made = write_mapping(path)
    assert (made.lacking, made.asked, made.words, made.left) == ([], [], [], [])
    assert errors(path) == []
    same(tmp_path, card, path)


@pytest.mark.long
def test_words_of_nobody_elses_need_their_lines(tmp_path: Path, card: pd.DataFrame) -> None:
    path = tmp_path / "rounds.csv"
    other = card.assign(lie=card["lie"].replace({"fairway": "short stuff", "rough": "hay"}))
    other.to_csv(path, index=False)
    target, made = write_mapping(path)
    assert sorted(made.words) == ["hay", "short stuff"]
    assert errors(path)
    text = target.read_text(encoding="utf-8")
    for theirs, ours in (('"short stuff"', "fairway"), ("hay", "rough")):
        assert f'# {theirs} = ""' in text
        text = text.replace(f'# {theirs} = ""', f'{theirs} = "{ours}"')
    target.write_text(text, encoding="utf-8")
    assert errors(path) == []
    same(tmp_path, card, path)


def test_days_that_can_be_two_are_asked_in_the_mapping(tmp_path: Path, card: pd.DataFrame) -> None:
    path = tmp_path / "rounds.csv"
    one = card[card["date"] == card["date"].min()]
    one.assign(date="5/6/2026").to_csv(path, index=False)
    target, made = write_mapping(path)
    assert made.asked == ["dates"]
    text = target.read_text(encoding="utf-8")
    assert '# dates = ""' in text
    assert "5/6/2026 can be read as dmy or mdy" in text
    for order, day in (("dmy", "2026-06-05"), ("mdy", "2026-05-06")):
        target.write_text(text.replace('# dates = ""', f'dates = "{order}"'), encoding="utf-8")
        same(tmp_path, one.assign(date=day), path)


def test_a_mapping_of_our_own_card_changes_nothing(tmp_path: Path, card: pd.DataFrame) -> None:
    path = tmp_path / "rounds.csv"
    card.to_csv(path, index=False)
    _, made = write_mapping(path)
    assert made.guesses == []
    same(tmp_path, card, path)
