"""``sgzone agree``: kept, changed, listed, drawn; lengths and targets as they are typed."""

from __future__ import annotations

import json
import shutil
import xml.etree.ElementTree as ET
from datetime import date
from io import StringIO
from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from sgzone.review.trend import before_after
from sgzone.season.agreed import keeping
from sgzone.season.store import open_store
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, FINE, Outcome, call

TEXT = "from 67% to 75% at 4-5 ft"
AGREED = ("--day", "2026-06-30")
PUTTS = (TEXT, "--measure", "holed", "--from", "4", "--to", "5", "--value", "75%")
PUTTS += ("--due", "2026-09-01", *AGREED)
BEGIN = 'Begin: sgzone agree "two putts from 30 ft" --measure three_putt --from 30.'
HOSTILE = (
    *("=1+1", "<script>alert(1)</script>", '#eval("x") $y$ *b* @z', "'; DROP TABLE strokes --"),
    *("שני פאטים", "-x", "a" * 200, "{{ x }} %s {0}"),
)


@pytest.fixture
def season(tmp_path: Path) -> Path:
    """Return the demo season in a file of its own."""
    return Path(shutil.copyfile(demo_file(), tmp_path / "s.duckdb"))


def agree(season: Path, *words: str) -> Outcome:
    return call("agree", "--db", season, *words)


def fine(season: Path, *words: str) -> Outcome:
    done = agree(season, *words)
    assert done.code == FINE, done.err
    return done


def kept(season: Path) -> pd.DataFrame:
    with open_store(season, read_only=True) as store:
        return keeping.kept(store)


def test_what_was_understood_is_said_and_listed(season: Path) -> None:
    done = fine(season, *PUTTS)
    assert done.err.splitlines() == [
        f"Agreement 1: {TEXT}",
        "Counted: putts holed from 4 to 5 ft, target 75% by 1 September 2026; since means after "
        "30 June 2026.",
    ]
    lines = [" ".join(line.split()) for line in done.out.splitlines()]
    assert lines[0] == "1 open agreement: not settled."
    assert f"1. {TEXT} 79% 61% 52 to 69% 56 not settled" in lines
    assert "1: target 75% by 1 September 2026: reached already with under 1 chance in 20." in lines
    assert lines[-1].startswith("Next: --done 1 closes number 1")


def test_nothing_agreed_says_how_to_begin(season: Path) -> None:
    assert fine(season).out.splitlines()[:2] == ["No agreement yet.", BEGIN]
    assert len(fine(season).out.splitlines()) == 2  # no headings over nothing
    assert fine(season, "--format", "json").json() == []


@pytest.mark.long
def test_csv_is_the_public_answer(season: Path) -> None:
    fine(season, *PUTTS)
    fine(season, "=1+1", "--part", "chip_0_30", *AGREED)
    table = pd.read_csv(StringIO(fine(season, "--format", "csv").out))
    with open_store(season, read_only=True) as store:
        told = sg.agreements(store)
        split = before_after(store, date(2026, 7, 1))
    assert list(table) == list(told)
    assert table["text"].tolist() == [TEXT, "'=1+1"]
    for name in ("before", "since", "since_low", "change_high", "p", "more", "met", "gap"):
        assert table[name].tolist() == pytest.approx(told[name].tolist(), nan_ok=True)
    row = split[split["part"] == "chip_0_30"].iloc[0]
    assert table["before"].tolist() == pytest.approx([26 / 33, row["before"]])
    assert table["since"].tolist() == pytest.approx([34 / 56, row["after"]])


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "from_ft", "to_ft", "target"),
    [
        ("holed --from 4 --to 5 --value 75%", 4, 5, 0.75),
        ("holed --from 4 --to 5 --value 75 --units metric", 4 / 0.3048, 5 / 0.3048, 0.75),
        ("holed --from 4ft --to 1.524m --units metric", 4, 5, None),
        ("short_miss --from 50 --to 100", 150, 300, None),
        ("green_hit --from 91.44 --units metric", 300, None, None),
        ("proximity --from 100 --to 150 --value 20", 300, 450, 20),
        ("proximity --from 100 --value 6.096 --units metric", 100 / 0.3048, None, 20),
        ("proximity --value 20ft --units metric", None, None, 20),
        ("three_putt --from 30 --value 10", 30, None, 0.1),
        ("three_putt --value 0", None, None, 0),
    ],
)
def test_lengths_and_targets_as_typed(
    season: Path, words: str, from_ft: float | None, to_ft: float | None, target: float | None
) -> None:
    fine(season, "text", "--measure", *words.split())
    row = kept(season).iloc[-1]
    for name, wanted in (("from_ft", from_ft), ("to_ft", to_ft), ("target", target)):
        assert pd.isna(row[name]) if wanted is None else row[name] == pytest.approx(wanted), name


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "wrong"),
    [
        ("a --measure holed --value 0.75", "0.75 is less than 1%; for 75% write 75%"),
        ("a --measure holed --value 3in4", '"3in4" is no share; write --value 75%'),
        ("a --measure holed --value nan", '"nan" is no share; write --value 75%'),
        ("a --measure holed --value 140", "A share is from 0 to 100%, not 140%"),
        ("a --measure holed --from x", "is not a distance; write 87"),
        ("a --measure holed --from 5 --to 4", "from must be less than to"),
        ("a --from 4 --value 3", "--from and --value need a measure: add --measure, one of holed"),
        ("a --part chip_0_30 --measure holed", "a part or a measure, not both"),
        ("a --due 2026-05-01 --day 2026-06-01", "Due 2026-05-01 is not after 2026-06-01"),
        ("--measure holed", "--measure does nothing with agree without a text"),
        ("--yes", "--yes does nothing with agree unless it drops"),
        ("a --done 1", "give one at a time"),
        ("--done 7", "No agreement 7 in the season file (there: none yet)"),
        ("--edit x y", "the number of an agreement must be a whole number"),
        ("--number 3", "No agreement 3 here (there: none)"),
        ("--chart a.svg", "No agreement with something to count"),
        ("a --player Nobody", 'No player "Nobody"'),
    ],
)
def test_what_cannot_be_is_refused(season: Path, words: str, wrong: str) -> None:
    done = agree(season, *words.split())
    assert (done.code, done.out) == (CALL_AT_FAULT, ""), done
    assert wrong in done.err
    assert kept(season).empty


@pytest.mark.long
def test_edited_done_and_dropped(season: Path) -> None:
    for text in ("one", "two", "three"):
        fine(season, text, *AGREED)
    assert fine(season, "--edit", "2", "second").err == "Agreement 2 has its new text.\n"
    done = fine(season, "--done", "1")
    assert done.err == "Agreement 1 is done.\n"
    assert done.out.startswith("2 open agreements: nothing to count.\n")
    rows = [line.split() for line in done.out.splitlines() if line[:2] in ("1.", "2.", "3.")]
    assert [(row[0], row[-1]) for row in rows] == [
        *(("2.", "counted"), ("3.", "counted"), ("1.", "done")),
    ]
    told = agree(season, "--drop", "3")
    assert told.code == CALL_AT_FAULT
    assert "1 agreement of Wrenna Oddlethorpe would be deleted. Add --yes" in told.err
    assert kept(season)["text"].tolist() == ["one", "second", "three"]
    assert fine(season, "--drop", "3", "--yes").err == "Dropped agreement 3.\n"
    assert kept(season)["text"].tolist() == ["one", "second"]


@pytest.mark.long
def test_any_text_stays_a_text(season: Path) -> None:
    for text in HOSTILE:
        words = ("--", text) if text.startswith("-") else (text,)
        fine(season, *AGREED, "--number", "1", *words)
    assert kept(season)["text"].tolist() == list(HOSTILE)
    assert [row["text"] for row in fine(season, "--format", "json").json()] == list(HOSTILE)
    cells = pd.read_csv(StringIO(fine(season, "--format", "csv").out))["text"]
    assert cells.tolist() == [f"'{text}" if text[0] in "=-" else text for text in HOSTILE]
    told = fine(season).out
    assert [f"{n}. {text[:20]}" in told for n, text in enumerate(HOSTILE, 1)] == [True] * 8


@pytest.mark.long
@pytest.mark.parametrize("text", HOSTILE[1:3])
def test_any_text_stands_over_a_chart(season: Path, tmp_path: Path, text: str) -> None:
    drawn = tmp_path / "a.svg"
    fine(season, text, "--part", "wedge_50_100", *AGREED, "--chart", str(drawn))
    assert text in " ".join(ET.fromstring(drawn.read_bytes()).itertext())


@pytest.mark.repeats
@pytest.mark.parametrize("text", ["x" * 10_000, "red \x1b[31m", "turned \u202e", " "])
def test_what_is_no_text_is_refused(season: Path, text: str) -> None:
    done = agree(season, text)
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert len(done.err) < 200
    assert kept(season).empty


@pytest.mark.long
def test_the_chart_holds_what_the_answer_says(season: Path, tmp_path: Path) -> None:
    fine(season, *PUTTS)
    fine(season, "sleep")
    done = fine(season, "--chart", str(tmp_path / "a.json"))
    assert done.err.startswith("Chart: ")
    spec = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    rows = [row for data in spec["datasets"].values() for row in data]
    months = [row for row in rows if "shown" in row]
    found = pd.DataFrame(months).drop_duplicates("date")
    assert found.groupby("when")["n"].sum().to_dict() == {"before": 33, "since": 56}
    assert {row["goal"] for row in rows if "goal" in row} == {0.75}
    said = " ".join(spec["title"]["subtitle"])
    assert "Putts holed from 4 to 5 ft: 33 putts before, 56 since." in said
    assert "under 1 chance in 20" in said
    assert "benchmark" not in said  # nothing of it is against one


@pytest.mark.long
def test_of_several_the_chart_asks_which(season: Path, tmp_path: Path) -> None:
    fine(season, *PUTTS)
    fine(season, "chips", "--part", "chip_0_30", *AGREED)
    chart = str(tmp_path / "a.svg")
    done = agree(season, "--chart", chart)
    assert done.code == CALL_AT_FAULT
    assert "several can be drawn (1, 2): add --number 1" in done.err
    fine(season, "--chart", chart, "--number", "2")
    assert "against the tour benchmark" in " ".join(
        ET.fromstring(Path(chart).read_bytes()).itertext()
    )


def test_metres_on_the_way_back(season: Path) -> None:
    done = fine(
        season, "near", "--measure", "proximity", "--value", "7m", *AGREED, "--units", "metric"
    )
    assert "target 7.0 m" in done.err
    assert " ft" not in done.out
    assert "reached already" in done.out


@pytest.mark.long
def test_two_players_need_a_name_to_agree_and_none_to_list(season: Path, tmp_path: Path) -> None:
    card = tmp_path / "b.csv"
    card.write_text("player,date,hole,shot,lie,distance\nBea,2026-05-14,1,1,green,3\n", "utf-8")
    assert call("load", card, "--db", season).code == FINE
    done = agree(season, "a")
    assert done.code == CALL_AT_FAULT
    assert 'add --player "Bea"' in done.err
    for player in ("Bea", "Wrenna Oddlethorpe"):
        fine(season, "sleep", "--player", player)
    assert "Bea" in fine(season).out
    assert [
        row["player"] for row in fine(season, "--format", "json", "--player", "Bea").json()
    ] == ["Bea"]
    for change in (("--done", "2"), ("--drop", "2", "--yes"), ("--edit", "2", "b")):
        wrong = agree(season, *change, "--player", "Bea")
        assert wrong.code == CALL_AT_FAULT
        assert "Agreement 2 is Wrenna Oddlethorpe's, not Bea's" in wrong.err
    assert kept(season)["closed"].isna().tolist() == [True, True]
    fine(season, "--done", "2", "--player", "Wrenna Oddlethorpe")
