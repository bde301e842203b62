"""Hypothesis strategies of text cards: as the program writes them, and with slips of the thumb."""

from __future__ import annotations

from hypothesis import strategies as st

from sgzone.cards.given import NOTHING
from sgzone.cards.text.card import card_of, lines_of
from sgzone.cards.text.writer import card_text
from tests.hard.hostile import HOSTILE
from tests.strategies import Row, valid_cards

PIECES = (
    *(
        "",
        " ",
        "  ",
        "\n",
        ",",
        ";",
        ".",
        "/",
        "*",
        "!",
        "?",
        "(",
        ")",
        "[",
        "]",
        "=",
        "#",
        "-",
        ">",
    ),
    *("'", '"', "\u2019", "\u201d", "\u2013", "\u00bd", "\u00a0", "1", "18", "4.51", "22,3", "0"),
    *("f", "g", "x", "c", "q", "ft", "yd", "m", "in", "12f", "e8", "trees", "water", "OB", "gimme"),
    *("tap in", "2 putts", "u/d", "par3", "3rd", "/50", "/3/4", "(-8,4)", "wind=into", "note=[a]"),
    *("round 2", "14 May 2026", "5/6/26", "Home", "In 41", "7-9 not recorded", "# a note", "8i"),
    *(
        "On 14 May 2026, Ned wrote:",
        "-- ",
        "From: a@example.invalid",
        "9:40",
        "drop",
        "provisional",
    ),
)


def as_rows(rows: list[Row]) -> list[dict[str, object]]:
    """Return drawn rows in canonical values."""
    return [
        {
            **{"player": row.player, "date": row.date, "round": row.round, "hole": row.hole},
            **{"shot": row.shot, "lie": row.lie, "distance_ft": float(row.feet)},
            **{"penalty": row.penalty, "result": row.result or None},
        }
        for row in rows
    ]


@st.composite
def plain_text_cards(draw: st.DrawFn) -> str:
    """Draw a valid card as the program writes it."""
    return card_text(as_rows(draw(valid_cards(max_rounds=2, max_holes=3))))


@st.composite
def spoiled_text_cards(draw: st.DrawFn) -> str:
    """Draw a card with slips: signs put in, left out, written over; lines moved and repeated."""
    text = draw(plain_text_cards())
    for _ in range(draw(st.integers(1, 6))):
        place = draw(st.integers(0, max(len(text) - 1, 0)))
        piece = draw(st.one_of(st.sampled_from(PIECES), st.sampled_from(HOSTILE)))
        how = draw(st.sampled_from(("in", "in", "over", "out", "line", "swap")))
        if how == "in":
            text = text[:place] + piece + text[place:]
        elif how == "over":
            text = text[:place] + piece + text[place + len(piece) :]
        elif how == "out":
            text = text[:place] + text[place + draw(st.integers(1, 3)) :]
        else:
            lines = text.split("\n")
            one, other = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
            if how == "line":
                lines.insert(one, lines[other])
            else:
                lines[one], lines[other] = lines[other], lines[one]
            text = "\n".join(lines)
    return text


def lines_lost(text: str) -> set[int]:
    """Return the lines of a card that are neither read, nor asked about, nor passed over."""
    card = card_of(text, NOTHING)
    there = {line for line, *_ in card.asked} | {hole.at.line for hole in card.holes}
    there |= {read.line for read in card.headings} | {*card.passed, *card.mail}
    filled = {n for n, line in enumerate(lines_of(text), 1) if line.strip(" \t\ufeff\u200b")}
    return {n for n in filled - there if not _says_nothing(lines_of(text)[n - 1], card.asked)}


def _says_nothing(line: str, asked: list[object]) -> bool:
    """Return whether a line is a remark of its own or has no sign that means anything.

    Of some questions the first stands for all: then a line may be asked about by another.
    """
    plain = "".join(sign for sign in line if sign.isalnum())
    return line.lstrip().startswith("#") or not plain or bool(asked)
