"""Clubs and swings: one club under one name, and dates that a spreadsheet made of a fraction."""

from __future__ import annotations

import re

from sgzone.cards.days import readings
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.numbers import unlike
from sgzone.cards.tolerant.wording import folded

_LOFT = re.compile(r"(\d{2})(?:\.0+)?\s*(?:°|º|˚|deg\.?|degrees?|grad|grader|grados|degrés)?")
_LOFTS = range(40, 70)  # of wedges: a number here is a loft and nothing else
_WORDS = {
    **{"iron": "i", "irons": "i", "eisen": "i", "fer": "i", "hierro": "i", "jarn": "i"},
    **{"wood": "w", "holz": "w", "bois": "w", "madera": "w", "hybrid": "h", "hyb": "h"},
    **{"putter": "putter", "driver": "driver", "deg": "", "degree": "", "degrees": ""},
}
_NO_DATE = r"^(\d+\.?\d*|\D*)( ?(yd|m|ft))?$"
_PIECES = re.compile(r"[a-z]+|\d+")
_FRACTIONS = {(3, 4): "three-quarter", (4, 3): "three-quarter", (1, 2): "half", (2, 1): "half"}
"""Day and month that a spreadsheet makes of 3/4 and 1/2, whichever of the two it reads first."""
_STAND_IN = {"distance": "1 ft", "hole": "1"}
_MOST_LISTED = 6


def read_clubs(draft: Draft) -> None:
    """Read clubs that are one under one name; list those that may be."""
    if "club" not in draft.columns:
        return
    new: dict[str, str | None] = {}
    for text in draft.texts("club"):
        match = _LOFT.fullmatch(text.lower())
        if match and int(match[1]) in _LOFTS and match[1] != text:
            new[text] = match[1]
    draft.read_as("club", new)
    _list_alike(draft)


def _list_alike(draft: Draft) -> None:
    alike: dict[str, list[str]] = {}
    for text in draft.texts("club"):
        alike.setdefault(_key(text), []).append(text)
    groups = [" and ".join(texts) for texts in alike.values() if len(texts) > 1]
    if groups:
        more = f", and {len(groups) - _MOST_LISTED} more" if len(groups) > _MOST_LISTED else ""
        draft.note(
            f"clubs that may be one: {', '.join(groups[:_MOST_LISTED])}{more}; they count apart",
            "Write each club one way.",
            "club",
        )


def _key(club: str) -> str:
    """Return what clubs written in several ways have in common.

    >>> _key("8 Iron") == _key("8i"), _key("sand wedge") == _key("SW")
    (True, True)
    """
    pieces = [_WORDS.get(piece, piece) for piece in _PIECES.findall(folded(club))]
    if len(pieces) == 2 and pieces[1] == "wedge":
        pieces = [piece[0] for piece in pieces]
    if len(pieces) == 2 and pieces[0] == "i" and pieces[1].isdecimal():
        pieces.reverse()
    return "".join(pieces) or club


def read_fractions(draft: Draft) -> None:
    """Read the swings that a spreadsheet turned into a date; ask of other cells it did that to."""
    for name in ("swing", "club", "hole", "distance"):
        new: dict[str, str | None] = {}
        if name not in draft.columns:
            continue
        for text in unlike(draft.columns[name].dictionary, _NO_DATE):
            day = _day_and_month(draft, text)
            if day is None:
                continue
            swing = _FRACTIONS.get(day) if name == "swing" else None
            if swing is None:
                _ask(draft, name, text)
            new[text] = swing
        draft.read_as(name, {text: word for text, word in new.items() if word})
        # a question refuses the file: anything will do that keeps the rules from asking again
        asked = [text for text, word in new.items() if word is None]
        draft.replace(name, dict.fromkeys(asked, _STAND_IN.get(name)))


def _day_and_month(draft: Draft, text: str) -> tuple[int, int] | None:
    found = readings(text, draft.today)
    if found.wrong:
        found = readings(f"{text} {draft.today.year}", draft.today)
    day = found.days.get("ymd") or found.days.get("named") or found.days.get("dmy")
    return (day.day, day.month) if day else None


def _ask(draft: Draft, name: str, text: str) -> None:
    draft.ask(
        draft.first_row(name, [text]),
        name,
        text,
        "a date: a spreadsheet may have made it of what was typed",
        f"Write the {name} again in a cell that is text.",
    )
