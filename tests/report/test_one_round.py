"""The report of one round: what is on it, one sheet on both papers, notes only where asked for."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.report.asked import ROUND
from sgzone.report.one_round import round_report
from sgzone.report.paper.pdf import PAPERS, to_pdf
from sgzone.report.player import Report
from sgzone.report.screen.html import to_html
from sgzone.report.write import write_report
from sgzone.season.store import Store, open_store
from sgzone.words import cautions
from sgzone.words.rounds.debrief import NO_VERDICT
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, FINE, call
from tests.report.paper.test_pdf import needs_poppler, printed
from tests.report.seasons import ask, season
from tests.review.debrief.hand_rounds import GIVEN_UP, GOOD, PLAIN, SAVED, THREE, WATER, card

HOSTILE = "</script><script>alert(1)</script> <img src=x onerror=alert(1)> \u202e=1+1 " + "y" * 400
TELLS_ALL = [GOOD, PLAIN, THREE, WATER, SAVED, GIVEN_UP] * 3


def _made(store: Store, *, with_notes: bool = False) -> Report:
    return round_report(ask(store, kind=ROUND), None, None, with_notes=with_notes)


@pytest.fixture(scope="module")
def demo() -> Report:
    with open_store(demo_file(), read_only=True) as store:
        return _made(store)


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """Return the fullest report there can be: long names, long notes, all parts, other rounds."""
    folder = tmp_path_factory.mktemp("full")
    long = {"course": "Long Course of Many Words " * 3, "event": "competition", "club": "W" * 60}
    name = "Wilhelmina Wolfeschlegelsteinhausen-Bergerdorff of the Lower Valley"
    more = ["sand 40yd, fairway 60yd, rough 35yd, recovery 30yd, green 50ft, green 2ft, holed"]
    days = [
        card([*TELLS_ALL[:17], *more], name, f"2026-05-0{day}", **long).assign(note=HOSTILE)
        for day in range(1, 5)
    ]
    path = folder / "card.csv"
    pd.concat(days).to_csv(path, index=False)
    with season(path) as store:
        return _made(store, with_notes=True)


def test_the_page_is_the_round_beside_the_usual(demo: Report) -> None:
    page = demo.page
    assert page.title == "Wrenna Oddlethorpe: the round of 21 October 2026"
    assert page.subtitle == "Ysmerel Dunes, practice, 18 holes, against the tour benchmark"
    assert [section.id for section in page.sections] == ["holes", "parts", "strokes", "cautions"]
    parts, counts = page.sections[1].tables
    assert parts.rows[-1] == ("total", "56", "-6.84", "-3.71", "4th worst of 31")
    assert [row[0] for row in counts.rows] == [
        *("penalties", "three-putts", "putts", "up-and-downs", "sand saves"),
    ]
    worst, best = page.sections[2].tables
    assert (len(worst.rows), len(best.rows)) == (5, 5)
    assert NO_VERDICT in page.sections[1].notes
    assert page.sections[-1].lead == (cautions.RULES, cautions.PRIVATE)


def test_the_tables_behind_it_are_the_public_ones(demo: Report) -> None:
    strokes = demo.tables["strokes"]
    assert "note" not in strokes
    assert demo.tables["holes"]["gained"].sum() == pytest.approx(strokes["gained"].sum())
    assert demo.tables["parts"]["gained"].iloc[-1] == pytest.approx(strokes["gained"].sum())
    assert len(demo.tables["parts-counts"]) == 5


@needs_poppler
@pytest.mark.parametrize("paper", PAPERS)
def test_paper_is_one_sheet_with_what_limits_its_use(
    paper: str, demo: Report, full: Report, tmp_path: Path
) -> None:
    for made in (demo, full):
        (sheet,) = printed(to_pdf(made.page, paper), tmp_path)
        for words in (cautions.RULES, cautions.PRIVATE, "1/1", "Strokes to talk about"):
            assert words in sheet


def test_a_note_is_told_only_where_it_was_asked_for(full: Report, tmp_path: Path) -> None:
    notes = full.page.sections[2].tables[0]
    assert "note" in notes.headings
    assert len(full.tables["strokes"]["note"].dropna()) > 40
    rows = card([WATER, GOOD]).assign(note="a private word")
    path = tmp_path / "card.csv"
    rows.to_csv(path, index=False)
    with season(path) as store:
        write_report([tmp_path / "r.html"], store, kind=ROUND, export=tmp_path / "out")
        write_report([tmp_path / "n.html"], store, kind=ROUND, with_notes=True)
    made = [tmp_path / "r.html", *(tmp_path / "out").glob("*.csv")]
    assert len(made) > 4
    assert not [file.name for file in made if "private word" in file.read_text(encoding="utf-8")]
    assert "a private word" in (tmp_path / "n.html").read_text(encoding="utf-8")


def test_a_note_is_text_on_the_page(full: Report) -> None:
    html = to_html(full.page)
    assert "<script>alert" not in html
    assert "<img src=x" not in html
    assert "\u202e" not in html
    assert "&lt;script&gt;alert" in html
    assert not re.search("y{200}", html)


def test_the_verb_writes_the_round_of_a_day(tmp_path: Path) -> None:
    db = ("--db", str(demo_file()), "--kind", "round")
    done = call("report", str(tmp_path / "r.html"), "--date", "2026-07-23", *db)
    assert done.code == FINE, done.err
    assert "the round of 23 July 2026" in (tmp_path / "r.html").read_text(encoding="utf-8")
    again = call("report", str(tmp_path / "s.html"), "--date", "2026-07-23", "--round", "1", *db)
    assert again.code == FINE
    assert (tmp_path / "r.html").read_bytes() == (tmp_path / "s.html").read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--date", "2026-07-23"), "--date does nothing with --kind season"),
        (("--kind", "team", "--round", "2"), "--round does nothing with --kind team"),
        (("--kind", "round", "--hours", "5"), "--hours does nothing with --kind round"),
        (("--kind", "round", "--against", "scratch"), "--against does nothing with --kind round"),
        (("--kind", "round", "--level", "0.9"), "--level does nothing with --kind round"),
        (("--kind", "round", "--date", "2026-08-01"), "No round on 2026-08-01 here."),
        (("--kind", "round", "--until", "1999-01-01"), "no round to look back on"),
    ],
)
def test_what_the_verb_cannot_write_is_said(
    words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    done = call("report", str(tmp_path / "r.html"), *words, "--db", str(demo_file()))
    assert done.code == CALL_AT_FAULT
    assert said in done.err
    assert not (tmp_path / "r.html").exists()


def test_what_python_cannot_write_is_said(tmp_path: Path) -> None:
    with open_store(demo_file(), read_only=True) as store:
        for more in ({"date": date(2026, 7, 23)}, {"round": 1}):
            with pytest.raises(CallError, match='for kind="round"'):
                write_report(tmp_path / "r.html", store, **more)  # type: ignore[arg-type]
        for more in ({"against": "scratch"}, {"hours": 5}):
            with pytest.raises(CallError, match="no plan"):
                write_report(tmp_path / "r.html", store, kind=ROUND, **more)  # type: ignore[arg-type]


def test_the_same_season_gives_the_same_bytes(demo: Report) -> None:
    with open_store(demo_file(), read_only=True) as store:
        again = _made(store)
    assert to_html(again.page) == to_html(demo.page)
    assert to_pdf(again.page) == to_pdf(demo.page)
