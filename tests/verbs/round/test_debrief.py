"""The verb debrief, from the outside."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from sgzone.season.store import open_store
from sgzone.words.rounds.debrief import NEXT, NO_VERDICT, STROKES_TITLE
from sgzone.words.rounds.message import MOST_LETTERS
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, FINE, Outcome, call, inside, is_control
from tests.review.debrief.hand_rounds import KNOTS, WATER, card
from tests.verbs.test_terminal import WIDTH, plain, shown

HOSTILE = "=HYPERLINK(1)\n\x1b[31m \u202e<script>alert(1)</script> \u05d0\u05d1 " + "x" * 300


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season of one round with a note that means harm, and a curve."""
    folder = tmp_path_factory.mktemp("noted")
    rows = card([WATER, WATER], club=HOSTILE[:80])
    rows["note"] = [HOSTILE, *[""] * (len(rows) - 1)]
    rows.to_csv(folder / "card.csv", index=False)
    (folder / "own.csv").write_text(KNOTS, encoding="utf-8")
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    return folder


def of_demo(*words: str) -> Outcome:
    done = call("debrief", *words, "--db", str(demo_file()))
    assert done.code == FINE, done.err
    return done


def test_the_last_round_is_told() -> None:
    lines = of_demo().out.splitlines()
    assert lines[0] == (
        "From 150 yards in you lost 6.84 to tour on 21 October 2026: 4th worst of 31."
    )
    text = "\n".join(lines)
    for words in (STROKES_TITLE, NO_VERDICT, NEXT, "2nd worst of 31", "up-and-downs 3 of 9 (3.6)"):
        assert words in text
    assert not any(verdict in text for verdict in ("clear", "probable", "not settled"))


@pytest.mark.long
def test_the_short_tables_fit_80_columns() -> None:
    lines = plain(shown("debrief")).splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert len([line for line in lines if line and not line.strip("─ ")]) == 2


def test_csv_is_every_stroke_of_the_round_with_every_column() -> None:
    frame = pd.read_csv(io.StringIO(of_demo("2026-07-23", "--format", "csv").out))
    with open_store(demo_file(), read_only=True) as store:
        every = sg.strokes_gained(store)
    wanted = every[every["date"] == "2026-07-23"].reset_index(drop=True)
    assert len(frame) == len(wanted) > 30
    assert frame["gained"].to_numpy() == pytest.approx(wanted["gained"].to_numpy(), nan_ok=True)
    assert {"club", "swing", "course", "event", "par", "note"} <= set(frame.columns)
    told = of_demo("2026-07-23", "--format", "json").json()
    assert [row["gained"] for row in told] == pytest.approx(wanted["gained"].tolist())


def test_the_message_is_one_short_line() -> None:
    out = of_demo("--brief").out
    assert out.count("\n") == 1
    assert len(out) < MOST_LETTERS
    assert "lost 6.84 to tour from 150 yards in" in out


def test_a_selection_is_what_the_round_stands_beside() -> None:
    every = of_demo("--wide").out
    competition = of_demo("--wide", "--event", "competition").out
    assert "on 21 October 2026" in every
    assert "on 9 October 2026" in competition
    assert "Usual: your 32 other rounds of 18 holes" in every
    assert "Usual: your 19 other rounds of 18 holes" in competition


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("2026-08-01",), "No round on 2026-08-01 here. Nearest: 2026-07-23, 2026-07-31"),
        (("--round", "4"), "No round 4 on 2026-10-21; that day has round 1."),
        (("yesterday",), "does not match the format"),
        (("--brief", "--format", "csv"), "--format does nothing with --brief"),
        (("--brief", "--wide"), "--wide does nothing with --brief"),
        (("--level", "0.9"), "No such option"),
    ],
)
def test_what_cannot_be_asked_is_said(words: tuple[str, ...], said: str) -> None:
    done = call("debrief", *words, "--db", str(demo_file()))
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert said in done.err


def test_no_round_is_an_empty_answer() -> None:
    done = of_demo("--until", "1999-01-01", "--format", "csv")
    assert done.out.startswith("player,date,round,hole,shot,")
    assert done.out.count("\n") == 1
    assert "No round of these days" in done.err
    assert of_demo("--until", "1999-01-01", "--brief").out == ""


def test_two_players_are_asked_about(tmp_path: Path) -> None:
    both = [card([WATER]), card([WATER], player="Bo", date="2026-05-02")]
    pd.concat(both).to_csv(tmp_path / "card.csv", index=False)
    with inside(tmp_path):
        assert call("load", "card.csv").code == FINE
        assert call("debrief").code == CALL_AT_FAULT
        assert call("debrief", "--player", "Bo").code == FINE


@pytest.mark.repeats
@pytest.mark.parametrize("more", [(), ("--wide",), ("--format", "csv"), ("--format", "json")])
def test_a_note_commands_nothing(home: Path, more: tuple[str, ...]) -> None:
    with inside(home):
        done = call("debrief", "--benchmark", "own.csv", *more)
    assert done.code == FINE
    assert "HYPERLINK" in done.out
    assert not any(is_control(sign) or sign == "\u202e" for sign in done.out)


def test_a_note_is_no_formula_in_csv_and_itself_in_json(home: Path) -> None:
    with inside(home):
        rows = list(csv.DictReader(io.StringIO(call("debrief", "--format", "csv").out)))
        told = json.loads(call("debrief", "--format", "json").out)
    assert rows[0]["note"].startswith("'=HYPERLINK")
    assert told[0]["note"] == HOSTILE.strip()


def test_a_note_is_cut_in_the_short_table_and_whole_in_the_wide_one(home: Path) -> None:
    with inside(home):
        short, wide = (call("debrief", *more).out for more in ((), ("--wide",)))
    assert "x" * 290 not in short
    assert "x" * 290 in wide


def test_the_first_round_is_told_without_the_usual(home: Path) -> None:
    with inside(home):
        out = call("debrief", "--benchmark", "own.csv").out
    assert "From 150 yards in you lost 2.00 to own.csv on 1 May 2026." in out
    assert "No other round of 2 holes to set it beside yet." in out
    assert "usual" not in out.splitlines()[3]
