"""A squad of three by hand: the week's table, the grid, the meeting, and what is asked once."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from sgzone.report.page import Section
from sgzone.report.player import Report
from sgzone.report.squad import team_report
from sgzone.report.write import write_report
from sgzone.season.agreed.keeping import add, close
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.words import squad as words
from tests.report.squads import ask_all

MEETING = date(2026, 6, 10)
BEFORE, SINCE = ("2026-06-01", "2026-06-05"), ("2026-06-10", "2026-06-12", "2026-06-14")


def _hole(player: str, day: str, putt: int) -> list[str]:
    """Return a hole of two strokes: 60 yards to so many feet, and the putt."""
    return [
        f"{player},{day},1,1,fairway,60,",
        f"{player},{day},1,2,green,{putt},holed",
    ]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """Ada plays before and since, Ben before alone, Cy has a log and no round."""
    folder = tmp_path_factory.mktemp("three")
    rows = [line for day in (*BEFORE, *SINCE) for line in _hole("Ada Low", day, 5)]
    rows += [line for day in BEFORE for line in _hole("Ben Cole", day, 9)]
    head = "player,date,hole,shot,lie,distance,result"
    (folder / "card.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    practised = ("Cy Dunn,2026-06-11,90,putt_0_10", "Ben Cole,2026-06-02,60,putt_0_10")
    log = "\n".join(["player,date,minutes,part", *practised, ""])
    (folder / "log.csv").write_text(log, encoding="utf-8")
    with open_store() as opened:
        opened.load(folder / "card.csv")
        opened.load(folder / "log.csv")
        add(opened, "Ada Low", "two putts from afar", day=date(2026, 6, 9))
        done = add(opened, "Ada Low", "an old one", day=date(2026, 5, 1))
        close(opened, done, date(2026, 6, 1))
        yield opened


def _week(made: Report) -> Section:
    return next(section for section in made.page.sections if section.id == "squad")


@pytest.mark.long
def test_the_week_is_a_row_a_player_counted_by_hand(store: Store) -> None:
    made = team_report(ask_all(store, meeting=MEETING))
    table = made.tables["squad-week"].set_index("player")
    assert table["rounds"].to_dict() == {"AL": 3, "BC": 0, "CD": 0}
    assert table["shots"].to_dict() == {"AL": 6, "BC": 0, "CD": 0}
    assert table["hours"].fillna(-1).to_dict() == {"AL": -1, "BC": 0, "CD": 1.5}
    week = _week(made).tables[0]
    cells = {row[0]: dict(zip(week.headings, row, strict=True)) for row in week.rows}
    assert cells["AL"]["what really changed"] == "too few yet"
    assert cells["BC"]["what really changed"] == "no round since"
    assert cells["CD"]["practice, h"] == "1.5"
    assert week.links == ("player_1", "player_2", "")  # Cy has no part of the page
    assert made.page.summary[0] == (
        "From 10 June 2026 on, 1 of 3 players played 3 rounds. 1 player practised 1.5 h."
    )
    assert made.page.summary[1] == words.TOO_FEW_SINCE
    changes = made.tables["squad-changes"]
    ada = changes[(changes["player"] == "AL") & (changes["part"] == "total")].iloc[0]
    assert (ada["rounds_before"], ada["rounds_after"]) == (2, 3)
    assert ada["difference"] == pytest.approx(0, abs=1e-12)  # she plays the same hole each day


@pytest.mark.long
def test_the_last_agreement_is_the_meeting_and_its_own_rounds_are_before_it(store: Store) -> None:
    asked = ask_all(store)
    assert (asked.agreed_on, asked.first) == (date(2026, 6, 9), date(2026, 6, 10))
    made = team_report(asked)
    assert made.page.summary[0].startswith("Since the last agreement on 9 June 2026, 1 of 3")
    assert made.tables["squad-week"]["rounds"].tolist() == [3, 0, 0]
    named = ask_all(store, meeting=date(2026, 6, 1))
    assert (named.agreed_on, named.first) == (None, date(2026, 6, 1))
    assert team_report(named).tables["squad-week"]["rounds"].tolist() == [5, 2, 0]


@pytest.mark.long
def test_open_agreements_stand_there_a_line_each(store: Store) -> None:
    made = team_report(ask_all(store, meeting=MEETING))
    agreed = _week(made).tables[1]
    assert agreed.caption == words.AGREED
    [row] = agreed.rows
    assert row[:2] == ("AL", "two putts from afar (since 9 June 2026: 3 rounds).")
    own = next(section for section in made.page.sections if section.id == "player_1")
    assert f"Agreed: {row[1]}" in own.lead
    other = next(section for section in made.page.sections if section.id == "player_2")
    assert not any("Agreed" in sentence for sentence in other.lead)


@pytest.mark.long
def test_since_leaves_no_round_of_a_team_out(store: Store, tmp_path: Path) -> None:
    page = tmp_path / "t.html"
    write_report(page, store, selection=Selection(since=MEETING), kind="team")
    text = page.read_text(encoding="utf-8")
    assert "7 rounds, from 1 June to 14 June 2026" in text
    assert "From 10 June 2026 on, 1 of 3 players played 3 rounds" in text


def test_one_question_is_asked_for_all_and_each_has_its_own(store: Store) -> None:
    asked = ask_all(store, meeting=MEETING)
    ada, ben = asked.members
    assert (ada.player, ben.player) == ("Ada Low", "Ben Cole")
    assert (len(ada.strokes), len(ben.strokes)) == (10, 4)
    assert ada.agreements["text"].tolist() == ["an old one", "two putts from afar"]
    assert ben.agreements.empty
    pd.testing.assert_frame_equal(
        pd.concat([ada.counts, ben.counts], ignore_index=True),
        asked.counts.drop(columns="player"),
        check_dtype=False,
    )


@pytest.mark.long
def test_without_a_meeting_the_week_is_the_season(tmp_path: Path) -> None:
    (tmp_path / "card.csv").write_text(
        "\n".join(["player,date,hole,shot,lie,distance,result", *_hole("Ada", BEFORE[0], 5)])
        + "\n",
        encoding="utf-8",
    )
    with open_store() as opened:
        opened.load(tmp_path / "card.csv")
        made = team_report(ask_all(opened))
    assert made.page.summary[1:2] == words.NO_MEETING
    assert _week(made).tables[0].caption == words.IN_ALL
    assert "squad-changes" not in made.tables
