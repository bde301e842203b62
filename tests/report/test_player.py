"""The kinds of report: the last weeks, a squad, two sides; and what each must not say."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.practice.log import practice_log
from sgzone.report.asked import BLOCK_WEEKS, USUAL_HOURS, Asked, hours_to_plan, of_last_weeks
from sgzone.report.charts.sides import pairs_chart
from sgzone.report.charts.squad import small_bars, squad_reach
from sgzone.report.paper.pdf import to_pdf
from sgzone.report.player import Report, player_report
from sgzone.report.screen.html import to_html
from sgzone.report.sections import practice
from sgzone.report.squad import team_report
from sgzone.report.write import write_report
from sgzone.resources import data_path
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store
from sgzone.words import sides as sides_words
from sgzone.words import squad as squad_words
from tests.report.seasons import FIRST_HALF, ONE_HOLE, ask, card, demo, demo_report, season
from tests.report.squads import ask_all, squad

SEPTEMBER = Selection(since=date(2026, 9, 1))
NAMES = ["Wim Zander", "Ada Lowry", "Al Lime", "<b>Bo</b> Quill"]


def _ids(page) -> list[str]:
    return [section.id for section in page.sections]


@pytest.mark.long
def test_a_block_is_six_weeks_with_the_plan_first(store: Store) -> None:
    chosen = ask(store, kind="block").selection
    last = store.frame("SELECT max(date) AS day FROM rounds")["day"][0].date()
    assert chosen.since == last - timedelta(days=41)  # 42 days, the last one in
    assert of_last_weeks(ask(store, selection=SEPTEMBER)).selection.since == SEPTEMBER.since
    made = demo_report("block")
    assert _ids(made.page)[:4] == ["practice", "where", "agree", "against"]
    assert "the last weeks" in made.page.title
    assert "9 rounds of 6 weeks" in made.page.summary[-1]
    assert made.tables["where"]["shots"].sum() == 428  # zone strokes of the last nine rounds
    whole = demo_report()
    assert _ids(whole.page)[:3] == ["where", "practice", "agree"]
    # nine rounds are too few for a standard
    assert sorted(_ids(whole.page)) == sorted([*_ids(made.page), "standards"])


def test_every_section_with_a_figure_or_table_has_its_numbers() -> None:
    made = demo_report()
    shown = {s.id for s in made.page.sections if s.figures or s.tables}
    assert shown == {name.split("-")[0] for name in made.tables}


def test_two_benchmarks_stand_beside_each_other_without_an_interval() -> None:
    made = demo_report()
    assert _ids(made.page)[3:5] == ["standards", "against"]
    table = made.tables["against"].set_index("part")
    assert (table["difference"] < 0).all()  # the tour is the harder measure in every part
    assert table["difference_low"].isna().all()
    gap = table["gained_per_round"] - table["gained_per_round_other"]
    assert table["difference"].to_numpy() == pytest.approx(gap.to_numpy())
    parts = made.tables["where"].set_index("part")["gained_per_round"]
    same = table["gained_per_round"].drop("total")
    assert same.to_dict() == pytest.approx(parts.to_dict())
    section = next(s for s in made.page.sections if s.id == "against")
    assert section.notes == (sides_words.SAME_STROKES,)
    assert section.figures[0].table.headings.count("range") == 2


@pytest.mark.long
def test_two_seasons_have_an_interval_and_a_word_of_caution() -> None:
    made = demo_report("halves")
    section = next(s for s in made.page.sections if s.id == "against")
    assert section.title == "21 July to 21 October 2026 beside 4 April to 11 July 2026"
    table = made.tables["against"].set_index("part")
    row = table.loc["putt_0_10"]
    assert row["difference_low"] < row["difference"] < row["difference_high"] < 0
    said = " ".join(section.lead)
    assert "putts 0-10 ft −0.88" in said
    assert "Of 9 ranges (8 in 10) about 1.8 miss" in said
    assert row["joint_low"] < row["difference_low"]
    assert row["joint_high"] > 0  # looked at beside seven others, it may be luck
    assert "No part has really changed. Farthest apart, which luck can do: putts" in said
    [line] = [text for text in made.page.summary if "Difference" in text]
    assert line == (
        "21 July to 21 October 2026: −4.3 a round. 4 April to 11 July 2026: −3.4. Difference −0.91 "
        "(between −2.16 and +0.35). No part has really changed. Farthest apart, which luck can do: "
        "putts 0-10 ft −0.88."
    )
    assert section.notes == sides_words.COURSES
    assert np.isnan(table.loc["recovery", "difference_low"])  # six and five shots
    assert section.figures[0].table.headings.count("range") == 3
    marks = pairs_chart(made.tables["against"], ("a", "b")).to_dict()["datasets"]
    values = [row for rows in marks.values() for row in rows if "gained" in row]
    assert len(values) == 2 * 9


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ("2026-07-01..2026-13-01", "names no days"),
        ("..", "names no days"),
        ("2026-07-01..", "share 25 rounds"),
        ("tour", "against tour already"),
        ("nobody", "nobody"),
    ],
)
def test_what_cannot_be_set_beside_is_said(
    store: Store, other: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def scored(*_: object, **__: object) -> None:
        pytest.fail("the whole season was scored before the refusal")

    monkeypatch.setattr("sgzone.report.asked.scored", scored)
    with pytest.raises(CallError, match=says):
        player_report(ask(store, other=other))


@pytest.mark.repeats
@pytest.mark.parametrize("kind", ["season", "block", "team"])
def test_a_misspelt_player_has_no_report(tmp_path: Path, kind: str) -> None:
    page = tmp_path / "x.html"
    with (
        season(demo()) as store,
        pytest.raises(CallError, match=r'No player "Wrena" .*\(there: Wrenna Oddlethorpe\)'),
    ):
        write_report(page, store, selection=Selection("Wrena"), kind=kind)
    assert not page.exists()


def test_initials_are_short_and_told_apart() -> None:
    assert squad_words.initials(["Ada Lowry", "Al Lime", "Bo"]) == ["AL 1", "AL 2", "B"]
    assert squad_words.initials(["=cmd", "  ", "🏌", "אדה לוי"]) == ["C", "? 1", "? 2", "אל"]


@pytest.mark.long
def test_a_squad_is_by_initials_everywhere_and_in_alphabetical_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reports: list[Report] = []

    def asked(*given: Any, **named: Any) -> Report:
        reports.append(team_report(*given, **named))
        return reports[0]

    monkeypatch.setattr("sgzone.report.write.team_report", asked)
    monkeypatch.setattr(
        "sgzone.report.screen.html.still", lambda _: "data:,"
    )  # words are asked for
    monkeypatch.setattr("vl_convert.vegalite_to_png", lambda *_, **__: b"")
    with squad(tmp_path, NAMES, 5) as store:
        write_report(
            tmp_path / "t.html",
            store,
            kind="team",
            export=tmp_path / "out",
            with_notes=True,
        )
    page = (tmp_path / "t.html").read_text(encoding="utf-8")
    written = [page, *(p.read_text() for p in (tmp_path / "out").glob("*.csv"))]
    written += [p.name for p in (tmp_path / "out").iterdir()]
    [made] = reports
    for text in written:
        assert not re.search(r"Zander|Lowry|Lime|Quill", text)
    own = [s.title for s in made.page.sections if s.id.startswith("player_")]
    assert own == ["BQ", "AL 1", "AL 2", "WZ"]  # by name: "<" sorts first
    grid, week = made.page.sections[0].figures[0].table, made.page.sections[0].tables[0]
    assert list(dict.fromkeys(row[0] for row in grid.rows)) == own
    assert [row[0] for row in week.rows] == own
    assert week.links == ("player_1", "player_2", "player_3", "player_4")
    said = " ".join((*made.page.summary, *made.page.sections[0].notes))
    assert squad_words.BY_INITIALS in said
    assert "no ranking" in said
    assert sides_words.COURSES[0] in said
    assert all(s.fresh for s in made.page.sections if s.id.startswith("player_"))


@pytest.mark.long
def test_a_squad_with_names_has_them_as_text(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "sgzone.report.screen.html.still", lambda _: "data:,"
    )  # words are asked for
    with squad(tmp_path, NAMES, 5) as store:
        made = team_report(ask_all(store, names=True))
    page = to_html(made.page)
    assert "&lt;b&gt;Bo&lt;/b&gt; Quill" in page
    assert "<b>Bo" not in page
    assert squad_words.BY_INITIALS not in page
    assert set(made.tables["squad"]["player"]) == set(NAMES)


@pytest.mark.long
def test_a_squad_s_values_are_each_player_s_own(tmp_path: Path) -> None:
    with squad(tmp_path, NAMES[:2], 5) as store:
        made = team_report(ask_all(store))
        alone = player_report(ask(store, selection=Selection(player="Ada Lowry")))
    mine = made.tables["player_1"].set_index("part")[["gained_per_round", "low", "verdict"]]
    own = alone.tables["where"].set_index("part")[["gained_per_round", "low", "verdict"]]
    pd.testing.assert_frame_equal(mine, own)
    pd.testing.assert_frame_equal(
        made.tables["player_1-practice"], alone.tables["practice"], check_exact=False
    )


def test_false_alarms_are_verdicts_times_their_rate() -> None:
    verdicts = pd.Series(["clear loss"] * 16 + ["clear gain"] * 4 + ["probable loss"] * 10)
    said = squad_words.false_alarms(pd.concat([verdicts, pd.Series(["level", "not settled"])]))
    assert "20 clear verdicts and 10 probable ones" in said
    assert "up to 3.0 false alarms" in said  # 20 x .05 + 10 x .20
    assert "none can be" in squad_words.false_alarms(pd.Series(["level"]))


def test_small_charts_share_one_scale() -> None:
    rows = pd.DataFrame(
        {
            "part": ["putt_0_10", "chip_0_30"],
            "gained_per_round": [-0.5, 0.2],
            "shrunk_per_round": [-0.45, np.nan],
            "shrunk_low_per_round": [-1.25, np.nan],
            "shrunk_high_per_round": [0.25, np.nan],
            "verdict": ["probable loss", "not enough shots"],
            "shots": [50, 4],
            "rounds": [9, 3],
        }
    )
    assert squad_reach(rows) == 1.25
    drawn = str(small_bars(rows.head(1), 1.25).to_dict())
    assert "'domain': [-1.25, 1.25]" in drawn


@pytest.mark.long
def test_small_and_empty_files_say_so(tmp_path: Path) -> None:
    with season() as store:
        made = team_report(ask_all(store))
        assert made.page.summary == (squad_words.NO_PLAYERS,)
        block = player_report(ask(store, kind="block", other=FIRST_HALF))
        assert "No player yet" in block.page.title
    with season(card(tmp_path, ONE_HOLE)) as store:
        pages = [
            team_report(ask_all(store)).page,
            player_report(ask(store, kind="block")).page,
        ]
    for page in pages:
        text = re.sub(r"<script.*?</script>|<style.*?</style>", "", to_html(page), flags=re.S)
        assert not re.search(r"\b(nan|NaN|None|NaT|inf)\b", re.sub(r"<[^>]*>", " ", text))
        assert to_pdf(page).startswith(b"%PDF-")


def test_what_does_not_go_together_is_said(store: Store, tmp_path: Path) -> None:
    for given, says in (
        ({"kind": "week"}, "Choose from: season, block, round, team"),
        ({"names": True}, "for a team's report"),
        ({"kind": "team", "against": "scratch"}, "ask for one player"),
    ):
        with pytest.raises(CallError, match=says):
            write_report(tmp_path / "x.html", store, **given)
    assert not list(tmp_path.iterdir())


@pytest.mark.long
def test_the_hours_asked_for_are_planned_and_said(tmp_path: Path) -> None:
    with squad(tmp_path, NAMES[:1]) as store:
        made = player_report(ask(store, hours=5, weeks=3))
    section = next(s for s in made.page.sections if s.id == "practice")
    assert section.lead[0].startswith("5 hours a week for 3 weeks: ")
    assert made.tables["practice"]["hours_per_week"].sum() == pytest.approx(5)


@pytest.mark.long
def test_hours_that_nobody_named_come_from_the_log_or_are_an_example(
    store: Store, asked: Asked, tmp_path: Path
) -> None:
    assert practice_log(store, EVERYTHING).empty
    assert hours_to_plan(practice_log(store, EVERYTHING)) == (USUAL_HOURS, "example")
    assert "an example" in practice.section(asked).lead[0]
    log = data_path("demo/practice_log.csv")
    with season(demo(), log) as opened:
        hours, where = hours_to_plan(practice_log(opened, EVERYTHING))
        assert (hours, where) == (2.0, "log")
        assert hours_to_plan(practice_log(opened, EVERYTHING), 7.5) == (7.5, "asked")
        logged = ask(opened)
        lead = practice.section(logged).lead
        assert logged.plan is not None
        assert (logged.plan.hours, logged.plan.weeks) == (2.0, BLOCK_WEEKS)
    with squad(tmp_path, NAMES[:1]) as few:
        players = team_report(ask_all(few, hours=3, weeks=2))
    assert "as in the log's last weeks" in lead[0]
    assert "3 hours a week for 2 weeks: " in " ".join(
        text for s in players.page.sections for f in s.figures for text in f.caption
    )
    with pytest.raises(CallError, match=r"must be from 0\.25 to 168"):
        player_report(ask(store, hours=0))
