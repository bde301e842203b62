"""A number of a hole line with its unit: how far the ball lay from the hole."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from sgzone.cards.text.atoms import NUMBER, SIGN, WORD, Atom
from sgzone.cards.text.places import FEET_AND_INCHES
from sgzone.cards.text.vocabulary import DISTANCE_UNITS

_UNIT_AND_MARK = re.compile(r"(yds?|y|ft|m|feet|foot)([cx])")
_INCHES_PER_FT = 12
_INCH_WORDS = ("in", "inch", "inches")


@dataclass(slots=True)
class Measure:
    """One distance: the number as a card writes it, its unit, a mark glued to the unit.

    ``used``: how many pieces of the line it takes. ``question``: kind, token and fields of what has
    to be asked about it. ``comma``: it was written with a decimal comma.
    """

    number: str
    unit: str | None = None
    mark: str = ""
    used: int = 1
    question: tuple[str, str, dict[str, str]] | None = None
    comma: bool = False
    text: str = field(default="")


def measure_at(atoms: Sequence[Atom], at: int, *, metres: bool) -> Measure:
    """Return the distance that begins with the number at ``at``."""
    found = Measure(_plain(atoms[at].text))
    _comma(found, atoms, at, metres=metres)
    _range(found, atoms, at)
    if not found.question or found.question[0] == "comma":
        _unit(found, atoms, at)
    found.text = "".join(
        ("" if atom.glued or not place else " ") + atom.text
        for place, atom in enumerate(atoms[at : at + found.used])
    )
    return found


def _plain(text: str) -> str:
    return f"0{text}" if text.startswith(".") else text


def _at(atoms: Sequence[Atom], place: int) -> Atom | None:
    return atoms[place] if place < len(atoms) else None


def _is(atom: Atom | None, kind: str, *texts: str, glued: bool | None = None) -> bool:
    if atom is None or atom.kind != kind or (texts and atom.lower not in texts):
        return False
    return glued is None or atom.glued == glued


def _comma(found: Measure, atoms: Sequence[Atom], at: int, *, metres: bool) -> None:
    mark, more = _at(atoms, at + 1), _at(atoms, at + 2)
    if not (_is(mark, SIGN, ",", glued=True) and _is(more, NUMBER, glued=True)) or more is None:
        return
    third = _is(_at(atoms, at + 3), SIGN, ",", glued=True)
    third = third and _is(_at(atoms, at + 4), NUMBER, glued=True)
    whole, part = atoms[at].text, more.text
    found.used = 3
    if whole.isdecimal() and part.isdecimal():
        found.number, found.comma = f"{whole}.{part}", True
    if not (metres and found.comma) or third:
        fields = {"one": f"{whole}.{part}", "two": f"{whole}, {part}"}
        found.question = ("comma", f"{whole},{part}", fields)


def _range(found: Measure, atoms: Sequence[Atom], at: int) -> None:
    place = at + found.used
    mark, more = _at(atoms, place), _at(atoms, place + 1)
    if _is(mark, SIGN, "-", glued=True) and _is(more, NUMBER, glued=True) and more is not None:
        one = atoms[place - 1].text
        found.question = ("range", f"{one}-{more.text}", {"one": one, "two": more.text})
        found.used += 2
        if _is(_at(atoms, at + found.used), WORD, *DISTANCE_UNITS):
            found.used += 1


def _unit(found: Measure, atoms: Sequence[Atom], at: int) -> None:
    place = at + found.used
    atom = _at(atoms, place)
    if _is(atom, SIGN, "'", glued=True):
        found.used += 1
        if _is(_at(atoms, place + 1), SIGN, "'", glued=True):
            found.used += 1
            _inches(found)
        else:
            found.unit = "ft"
            _inches_behind(found, atoms, at, sign=True)
    elif _is(atom, SIGN, '"', glued=True):
        found.used += 1
        _inches(found)
    elif _is(atom, WORD) and atom is not None:
        _unit_word(found, atoms, at, atom)


def _unit_word(found: Measure, atoms: Sequence[Atom], at: int, atom: Atom) -> None:
    word = atom.lower
    if word == "in" and atom.glued:
        found.used += 1
        fields = {"number": found.number}
        found.question = ("inches or in", f"{atoms[at].text}in", fields)
    elif word in DISTANCE_UNITS:
        found.used += 1
        found.unit = DISTANCE_UNITS[word]
        if found.unit == "in":
            _inches(found)
        elif found.unit == "ft":
            _inches_behind(found, atoms, at, sign=False)
    elif atom.glued and (match := _UNIT_AND_MARK.fullmatch(word)):
        found.used += 1
        found.unit, found.mark = DISTANCE_UNITS[match[1]], match[2]


def _inches(found: Measure) -> None:
    """Make feet and inches of inches alone."""
    feet, inches = divmod(float(found.number), _INCHES_PER_FT)
    found.number, found.unit = f"{feet:.0f}'{inches:g}\"", FEET_AND_INCHES


def _inches_behind(found: Measure, atoms: Sequence[Atom], at: int, *, sign: bool) -> None:
    """Take the inches behind feet; ask where they may be another putt."""
    place = at + found.used
    more, mark = _at(atoms, place), _at(atoms, place + 1)
    if not _is(more, NUMBER) or more is None or "." in found.number or "." in more.text:
        return
    said = _is(mark, WORD, *_INCH_WORDS) or _is(mark, SIGN, '"', glued=True)
    said = said or (
        _is(mark, SIGN, "'", glued=True) and _is(_at(atoms, place + 2), SIGN, "'", glued=True)
    )
    clear = said and (mark is not None and mark.glued)
    if clear or (more.glued and sign):
        found.used += 1 + _length_of_mark(atoms, place + 1)
        found.number, found.unit = f"{found.number}'{more.text}\"", FEET_AND_INCHES
        return
    another = _is(mark, SIGN, "'", glued=True) or _is(mark, WORD, *DISTANCE_UNITS)
    if int(more.text[:4]) < _INCHES_PER_FT and not another and (sign or said or more.glued):
        fields = {"feet": found.number, "inches": more.text}
        found.used += 1
        found.question = ("feet and inches", f"{found.number}' {more.text}", fields)


def _length_of_mark(atoms: Sequence[Atom], place: int) -> int:
    """Return how many pieces say inches: ``"``, two apostrophes, ``in``; none: 0."""
    if _is(_at(atoms, place), SIGN, '"', glued=True):
        return 1
    if _is(_at(atoms, place), SIGN, "'", glued=True):
        return 2 if _is(_at(atoms, place + 1), SIGN, "'", glued=True) else 0
    return 1 if _is(_at(atoms, place), WORD, *_INCH_WORDS, glued=True) else 0
