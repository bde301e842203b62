"""The printed report: same bytes, the tables' own numbers, text that stays text, few sheets."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import vl_convert

from sgzone.errors import CallError
from sgzone.report.asked import Asked, knowing
from sgzone.report.page import Page
from sgzone.report.paper.order import on_paper
from sgzone.report.paper.pdf import in_rows, to_pdf
from sgzone.report.player import player_report
from sgzone.report.write import write_report
from sgzone.terms import PART_WORDS
from sgzone.words import grid as grid_words
from sgzone.words import paper as paper_words
from sgzone.words import season as season_words
from sgzone.words import where as where_words
from sgzone.words.cautions import CAUTIONS
from tests.report.seasons import (
    HOSTILE,
    ONE_HOLE,
    ONLY_PUTTS,
    ask,
    card,
    demo,
    demo_again,
    demo_report,
    season,
)

MARKUP = '#text(red)[boo] $x$ [ ] *a* _b_ `c` <d> @e = f // \\ "q" #read("/etc/passwd")'
MISSING = re.compile(r"\b(nan|NaN|None|NaT|inf|null)\b")

needs_poppler = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="needs pdftotext: apt-get install poppler-utils"
)


_draw = vl_convert.vegalite_to_svg


@cache
def _drawn(chart: str) -> Any:
    return _draw(json.loads(chart))


@pytest.fixture(autouse=True)
def drawn_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Charts alike are drawn once: most tests look at how they are set. ``pdf`` has its own."""
    monkeypatch.setattr(vl_convert, "vegalite_to_svg", lambda chart: _drawn(json.dumps(chart)))


def printed(pdf: bytes, folder: Path) -> list[str]:
    """Return the words of each sheet, each a line of single blanks."""
    path = folder / "read.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    )
    return [" ".join(sheet.split()) for sheet in done.stdout.split("\f")[:-1]]


@pytest.fixture(scope="module")
def page() -> Page:
    return demo_report("plain").page


@pytest.fixture(scope="module")
def pdf(page: Page) -> bytes:
    return to_pdf(page)


@pytest.fixture(scope="module")
def sheets(pdf: bytes, tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    if shutil.which("pdftotext") is None:
        pytest.skip("needs pdftotext: apt-get install poppler-utils")
    return printed(pdf, tmp_path_factory.mktemp("pdf"))


@pytest.mark.long
def test_the_same_season_gives_the_same_bytes(pdf: bytes) -> None:
    assert to_pdf(demo_again().page) == pdf


def test_one_sheet_for_the_player_three_for_the_coach_one_to_tear_off(sheets: list[str]) -> None:
    assert len(sheets) == 5
    for title in ("Three things to agree", "Where strokes go", "Practice hours"):
        assert title in sheets[0]
    assert sheets[1].startswith("The first page in numbers")
    assert [paper_words.FOR_THE_RANGE in sheet for sheet in sheets] == [False] * 4 + [True]
    for number, sheet in enumerate(sheets, start=1):
        assert re.search(rf"{number} ?/ ?{len(sheets)}$", sheet)


def test_the_sheet_to_tear_off_carries_every_caution_of_practice(sheets: list[str]) -> None:
    torn_off = sheets[-1]
    assert paper_words.FOR_THE_RANGE in torn_off
    for caution in CAUTIONS:
        assert all(word in torn_off for word in caution.split()), caution
    for word in ("wrist", "mats", "Juniors", "lightning", "physiotherapist"):
        assert word in torn_off


@pytest.mark.long
@needs_poppler
@pytest.mark.parametrize(("hours", "largest"), [(2.0, True), (5.0, False)])
def test_the_cards_are_as_large_as_one_sheet_lets_them(
    tmp_path: Path, hours: float, largest: bool
) -> None:
    with season(demo()) as store:
        made = to_pdf(player_report(ask(store, hours=hours)).page)
    pages = printed(made, tmp_path)
    assert len(pages) == 5
    assert "never in lightning" in pages[-1]
    (tmp_path / "cards.pdf").write_bytes(made)
    boxes = subprocess.run(
        ["pdftotext", "-f", "5", "-bbox", tmp_path / "cards.pdf", "-"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    heads = re.findall(r'yMin="([\d.]+)"[^>]*yMax="([\d.]+)">Session<', boxes)
    tall = [float(low) - float(high) for high, low in heads]
    assert (min(tall) > 15) == largest  # points of a line set in 19 pt and in 11 pt or so


@pytest.mark.long
@needs_poppler
def test_letter_paper_takes_no_more_sheets(page: Page, sheets: list[str], tmp_path: Path) -> None:
    pages = printed(to_pdf(page, "us-letter"), tmp_path)
    assert len(pages) <= len(sheets)
    assert "The first page in numbers" not in pages[0]


LONG = "Wilhelmina Featherstonehaugh-Oddlethorpe of Upper and Lower Marshland, junior " * 2


@pytest.mark.long
@needs_poppler
@pytest.mark.parametrize("paper", ["a4", pytest.param("us-letter", marks=pytest.mark.long)])
def test_a_long_name_and_a_fitted_benchmark_take_no_sheet_more(
    asked: Asked, sheets: list[str], tmp_path: Path, paper: str
) -> None:
    longer = knowing(
        asked,
        player=LONG.strip(),
        curve=replace(asked.curve, name="the women of our club, 2024 to 2026"),
        parts=asked.parts.assign(basis="fitted"),
        grid=asked.grid.assign(basis="fitted"),
    )
    pages = printed(to_pdf(player_report(longer).page, paper), tmp_path)
    assert len(pages) == len(sheets)
    assert where_words.MARKED["all"] in pages[0]
    assert "Practice hours" in pages[0]
    assert pages[1].startswith("The first page in numbers")


@pytest.mark.long
def test_a_sheet_that_would_spill_is_set_smaller_and_keeps_its_words(
    page: Page, tmp_path: Path
) -> None:
    """The player's part with a summary three times as long is still one sheet."""
    made = to_pdf(replace(page, summary=page.summary * 3))
    if shutil.which("pdftotext"):
        first, second, *_ = printed(made, tmp_path)
        assert first.count("Most goes in approach 100-150 yd") == 3
        assert "never in lightning" in first
        assert second.startswith("The first page in numbers")


def test_the_first_sheet_has_every_part_with_verdict_and_n(sheets: list[str], asked: Asked) -> None:
    for row in asked.parts.itertuples():
        assert PART_WORDS[row.part] in sheets[0]
        assert f"{row.verdict}, {row.shots} shots" in sheets[0]


def test_every_printed_table_can_be_read_back(sheets: list[str], asked: Asked, page: Page) -> None:
    text = " ".join(sheets)
    tables = [table for section in on_paper(page).sections for table in section.tables]
    assert sum(len(table.rows) for table in tables) > 25
    for table in tables:
        assert " ".join(table.caption.split()) in text
        for row in table.typeset().rows:
            for cell in row:
                assert all(word in text for word in cell.split())
    worst = asked.parts.iloc[0]
    name = PART_WORDS[worst["part"]]
    value = f"{worst['gained_per_round']:.2f}".replace("-", "−")
    assert f"{name} {worst['shots']} {value}" in text


def test_charts_are_text_and_their_cells_the_grid(sheets: list[str], asked: Asked) -> None:
    text = " ".join(sheets)
    for row in asked.grid[asked.grid["shrunk_per_shot"].notna()].itertuples():
        assert f"{row.shrunk_per_shot:+.2f}".replace("-", "−") in text
        assert f"n {row.shots}" in text


def test_narrow_panels_name_0_and_no_more_ticks_than_have_room(sheets: list[str]) -> None:
    (near,) = (sheet for sheet in sheets if "fairway, 318 strokes" in sheet)
    assert near.count("0 20 75 ") == 5  # on a screen each has five labels more
    assert "35 50" not in near


def test_paper_says_nothing_of_screens_and_nothing_is_missing(sheets: list[str]) -> None:
    text = " ".join(sheets)
    assert grid_words.HOVER_GRID in grid_words.READ_GRID
    assert not re.search(r"\b(hover|tap|click)\b", text, re.IGNORECASE)
    assert "in this file" not in text
    assert not MISSING.search(text)


def test_no_heading_stands_at_the_foot_of_a_sheet(sheets: list[str], page: Page) -> None:
    sections = on_paper(page).sections
    for sheet in sheets:
        foot = sheet.rsplit(page.title, 1)[0].rstrip()
        for section in sections:
            assert not foot.endswith(section.title)


@pytest.mark.repeats
@needs_poppler
@pytest.mark.parametrize("name", [HOSTILE, MARKUP, "אדה לוי", "Zoë 🏌️ O'Hara"])
def test_what_a_card_says_comes_out_as_text(tmp_path: Path, name: str) -> None:
    with season(card(tmp_path, ONE_HOLE, name)) as store:
        page = player_report(ask(store)).page
    title, made = on_paper(page).title, to_pdf(page)
    assert title.startswith(name)
    text = printed(made, tmp_path)[0]
    plain = [word for word in name.split() if word.isascii()]
    assert all(word in text for word in plain)
    assert "root:" not in text
    if name == "אדה לוי":
        assert "לוי" in text or "יול" in text  # whichever way round it is read


@pytest.mark.repeats
@needs_poppler
@pytest.mark.parametrize(
    ("rows", "says"), [(ONE_HOLE, "too few to judge"), (ONLY_PUTTS, "putts 0-10 ft")]
)
def test_a_small_season_is_short_and_honest(tmp_path: Path, rows: str, says: str) -> None:
    with season(card(tmp_path, rows)) as store:
        sheets = printed(to_pdf(player_report(ask(store)).page), tmp_path)
    text = " ".join(sheets)
    assert len(sheets) <= 4
    assert says in text
    assert not MISSING.search(text)


@needs_poppler
def test_no_rounds_is_one_sheet(tmp_path: Path) -> None:
    with season() as store:
        sheets = printed(to_pdf(player_report(ask(store)).page), tmp_path)
    assert len(sheets) == 1
    assert season_words.NO_ROUNDS in sheets[0]


def test_two_single_charts_share_a_row(page: Page) -> None:
    sections = on_paper(page).sections
    rows = [[section.id for section in row] for row in in_rows(sections)]
    assert [name for row in rows for name in row] == [section.id for section in sections]
    assert [row for row in rows if len(row) > 1] == [["clubs", "trend"]]


@pytest.mark.long
def test_paper_is_a_closed_list(page: Page, tmp_path: Path) -> None:
    with pytest.raises(CallError, match='no paper "a0"; choose from a4, us-letter'):
        to_pdf(page, "a0")
    with season(card(tmp_path, ONE_HOLE)) as store:
        with pytest.raises(CallError, match="a0"):
            write_report(tmp_path / "x.pdf", store, paper="a0")
        assert not (tmp_path / "x.pdf").exists()
        (path,) = write_report(tmp_path / "x.PDF", store)
    assert path.read_bytes().startswith(b"%PDF-")
