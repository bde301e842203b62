"""The cards to write on: their measures, all of it black, the letters and the cautions on it.

What is drawn is read off the PDF itself, so that what is measured is what a printer gets.
"""

from __future__ import annotations

import re
import zlib
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from sgzone.errors import CallError, DataError
from sgzone.report.paper.stroke_card import BOXES, CARD, SHEETS, stroke_cards, write_stroke_cards
from sgzone.terms import LIES
from sgzone.words import paper as words
from sgzone.words.cautions import NO_HOLD_UP, NOT_THE_SCORE_CARD, RULES_LIMIT
from tests.report.paper.test_pdf import needs_poppler, printed

MM = 72 / 25.4
NEAR = 0.02  # mm
_LINE = re.compile(
    rb"q 1 0 0 -1 ([\d.]+) ([\d.]+) cm/c0 CS 0 SCN ([\d.]+) w[^\n]* 0 0 m ([\d.-]+) ([\d.-]+) l"
)
_COLOUR = re.compile(rb"([^\n]*?)\s(rg|RG|g|G|k|K|sc|SC|scn|SCN)\b")
Line = tuple[float, float, float, float]

papers = pytest.mark.parametrize("paper", SHEETS)


@cache
def drawing(paper: str) -> bytes:
    """Return what the one sheet draws, unpacked."""
    parts = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", stroke_cards(paper), re.DOTALL)
    (drawn,) = (made for part in parts if b" Tf" in (made := _unpacked(part)))
    return drawn


def _unpacked(part: bytes) -> bytes:
    try:
        return zlib.decompress(part)
    except zlib.error:
        return b""


def lines(paper: str) -> list[Line]:
    """Return every line as x and y of its upper left end, its width and height: mm, y downwards."""
    high = SHEETS[paper][1]
    found = (tuple(float(n) / MM for n in match) for match in _LINE.findall(drawing(paper)))
    return [(x, high - y, across, down) for x, y, _, across, down in found]


def corner(paper: str) -> tuple[float, float]:
    """Return where the left card begins: two by two faces stand in the middle of the sheet."""
    (wide, high), (card_wide, card_high) = SHEETS[paper], CARD
    return wide / 2 - card_wide, high / 2 - card_high


def outside(paper: str, line: Line) -> bool:
    """Return whether a line begins outside the cards."""
    (x0, y0), (wide, high) = corner(paper), CARD
    return not (x0 < line[0] < x0 + 2 * wide and y0 < line[1] < y0 + 2 * high)


def same(places: list[tuple[float, float]], others: list[tuple[float, float]]) -> bool:
    """Return whether two lists hold the same places, in any order."""
    return len(places) == len(others) and all(
        any(abs(x - a) < NEAR and abs(y - b) < NEAR for a, b in others) for x, y in places
    )


@papers
def test_one_sheet_of_that_paper(paper: str) -> None:
    pdf = stroke_cards(paper)
    (box,) = re.findall(rb"/MediaBox\[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert [float(size) / MM for size in box] == pytest.approx(SHEETS[paper], abs=NEAR)
    assert b"/Type/Pages/Count 1/" in pdf
    assert stroke_cards(paper) == pdf


def test_folded_it_fits_a_back_pocket() -> None:
    long, short = CARD
    assert 85 <= short <= 90
    assert 130 <= long <= 140


@papers
def test_all_of_it_is_black(paper: str) -> None:
    pdf, drawn = stroke_cards(paper), drawing(paper)
    assert not re.search(rb"/Device(RGB|CMYK)|/Pattern|/Shading|/XObject", pdf)
    assert re.findall(rb"/ICCBased[^/]*?(\d+) 0 R", pdf)  # one space, of one number: grey
    assert set(re.findall(rb"/N (\d)\b", pdf)) == {b"1"}
    used = {(numbers.split()[-1], sign.lower()) for numbers, sign in _COLOUR.findall(drawn)}
    assert used == {(b"0", b"scn")}
    assert b" gs" not in drawn  # nothing shines through


@papers
def test_a_box_has_room_for_a_stroke(paper: str) -> None:
    inside = [line for line in lines(paper) if not outside(paper, line)]
    rows = [line for line in inside if line[2] > 100]
    columns = [line for line in inside if line[3] > 60]
    assert (len(rows), len(columns)) == (4 * (9 + 1), 4 * (BOXES + 1))
    heights = {round(b - a, 1) for a, b in pairwise(sorted({round(y, 2) for _, y, _, _ in rows}))}
    widths = {round(b - a, 1) for a, b in pairwise(sorted({round(x, 2) for x, *_ in columns}))}
    assert min(heights) >= 7
    assert min(widths) >= 14
    assert len([h for h in heights if h < 10]) == 1, "every box is as high as the others"
    assert len([w for w in widths if w < 20]) == 1


@papers
def test_nothing_is_drawn_near_a_cut_or_the_fold(paper: str) -> None:
    (x0, y0), (wide, high) = corner(paper), CARD
    for x, y, across, down in lines(paper):
        if not outside(paper, (x, y, across, down)):
            left, top = (x - x0) % wide, (y - y0) % high
            assert 3 - NEAR <= left <= left + across <= wide - 3 + NEAR
            assert 3 - NEAR <= top <= top + down <= high - 3 + NEAR


@papers
def test_cut_marks_point_at_the_cards_and_stay_off_them(paper: str) -> None:
    (x0, y0), (wide, high) = corner(paper), CARD
    marks = {line for line in lines(paper) if outside(paper, line)}
    sides, ends = (x0 - 6, x0 + 2 * wide + 1), (y0 - 6, y0 + 2 * high + 1)
    lying = [(x, y0 + k * high) for k in (0, 1, 2) for x in sides]
    standing = [(x0 + k * wide, y) for k in (0, 1, 2) for y in ends]
    assert same(lying, [(x, y) for x, y, across, _ in marks if across])
    assert same(standing, [(x, y) for x, y, _, down in marks if down])
    assert {round(across + down, 2) for _, _, across, down in marks} == {5.0}
    assert min(x for x, *_ in marks) > 3, "printers leave so much of a sheet blank"


@papers
def test_the_words_are_large_enough(paper: str) -> None:
    sizes = {float(size) for size in re.findall(rb"/f\d+ ([\d.]+) Tf", drawing(paper))}
    assert sizes
    assert min(sizes) >= 6.5


@needs_poppler
@papers
def test_it_says_the_letters_and_the_cautions(paper: str, tmp_path: Path) -> None:
    (said,) = printed(stroke_cards(paper), tmp_path)
    for number in range(1, 19):
        assert len(re.findall(rf"\b{number}\b", said)) >= 2
    for sign, means in (*(e.split(" ", 1) for e in words.PLACES.split("; ")), *words.ENDS):
        on_all = re.findall(rf"(?<!\w){re.escape(f'{sign} {means}')}", said)
        assert len(on_all) == 4, "on the front and the back of each"
    for sign, means in words.SIGNS:
        assert said.count(f"{sign} {means}") == 4
    for label, _ in (*words.FRONT_LABELS, *words.BACK_LABELS):
        assert said.count(label) >= 2
    # along the edge a sentence is several lines, which are read in another order
    cautions = f"{RULES_LIMIT} {NO_HOLD_UP} {NOT_THE_SCORE_CARD}"
    assert {*cautions.split()} <= {*said.split()}


def test_every_lie_has_a_letter() -> None:
    pairs = [entry.split(" ", 1) for entry in words.PLACES.split("; ")]
    assert {lie for _, lie in pairs} == set(LIES)
    assert "".join(letter for letter, _ in pairs) == "tfrsveg"


def test_the_cautions_are_those_of_the_course() -> None:
    assert "limit devices and advice" in RULES_LIMIT
    assert "never hold up play" in NO_HOLD_UP


def test_it_overwrites_nothing_and_knows_its_papers(tmp_path: Path) -> None:
    path = write_stroke_cards(tmp_path / "card.pdf")
    assert path.read_bytes() == stroke_cards("a4")
    with pytest.raises(DataError, match="not overwritten"):
        write_stroke_cards(path, "letter")
    with pytest.raises(CallError, match="no paper"):
        stroke_cards("a5")
