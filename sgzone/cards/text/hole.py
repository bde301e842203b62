"""One hole line: its number, then its strokes in whichever of two ways raises no question."""

from __future__ import annotations

import re
from dataclasses import dataclass

from sgzone.cards.text.atoms import NUMBER, WORD, Atom, atoms_of
from sgzone.cards.text.judge import judge
from sgzone.cards.text.phrases import phrase_at
from sgzone.cards.text.places import Question, Reading
from sgzone.cards.text.strokes import StrokeReader
from sgzone.cards.text.vocabulary import COUNT, DISTANCE_UNITS, LETTERS, LIE, MARK

MOST_HOLES = 36
_START = re.compile(
    r"(?:(?:hole|h|no)\b\.?\s*)?(\d{1,3})(?:\s*[:)]\s*|\s*[.,;-]\s+|[.-](?=[^\W\d_])|\s+|$)",
    re.IGNORECASE,
)
_TIME = re.compile(r"\d{1,2}[:.h]\d\d\b")


@dataclass(frozen=True, slots=True)
class HoleLine:
    """A line that begins with the number of a hole. ``rest``: what stands behind it."""

    line: int
    number: int
    rest: str


def hole_line(text: str, line: int) -> HoleLine | None:
    """Return the hole of a clean line, None where it begins with no number that may be one."""
    if _TIME.match(text):
        return None
    match = _START.match(text)
    return HoleLine(line, int(match[1]), text[match.end() :]) if match else None


def has_strokes(text: str) -> bool:
    """Return whether a text looks like strokes: a lie or a unit beside a number, a mark."""
    atoms = atoms_of(text)
    return any(_is_stroke(atoms, at) for at in range(len(atoms)))


def _is_stroke(atoms: list[Atom], at: int) -> bool:
    atom = atoms[at]
    before = atoms[at - 1] if at else None
    after = atoms[at + 1] if at + 1 < len(atoms) else None
    if atom.kind != WORD:
        return False
    numbers = [a for a in (before, after) if a is not None and a.kind == NUMBER]
    if not numbers:
        return False
    if atom.lower in LETTERS:
        return (after in numbers and after is not None and after.glued) or (
            before in numbers and atom.glued
        )
    meaning, _, _ = phrase_at(atoms, at)
    known = meaning is not None and meaning.kind in (LIE, COUNT, MARK) and len(atom.text) > 2
    return known or (before in numbers and atom.lower in DISTANCE_UNITS and len(atom.text) > 1)


def read_hole(hole: HoleLine, *, metres: bool) -> Reading:
    """Return what a hole line says, with the questions that are left."""
    atoms = atoms_of(hole.rest)
    before = _read(atoms, hole.number, metres, behind=False)
    if not _may_stand_behind(atoms):
        return before
    behind = _read(atoms, hole.number, metres, behind=True)
    if before.questions and behind.questions:
        return behind if _styled_behind(atoms) else before
    if before.questions:
        return behind
    if not behind.questions and _told(before) != _told(behind):
        one, two = (", ".join(p.said(metres) for p in r.places) for r in (before, behind))
        before.questions.append(Question("two ways", hole.rest[:60], {"one": one, "two": two}))
    return before


def _read(atoms: list[Atom], number: int, metres: bool, *, behind: bool) -> Reading:
    reading = StrokeReader(atoms, behind=behind, metres=metres, hole=number).read()
    judge(reading, metres=metres)
    return reading


def _told(reading: Reading) -> list[tuple[str | None, str | None, str | None, str]]:
    return [(p.lie, p.number, p.unit, p.mark) for p in reading.places]


def _may_stand_behind(atoms: list[Atom]) -> bool:
    """Return whether some lie has a distance before it."""
    return any(_lie_behind(atoms, at) for at in range(1, len(atoms)))


def _lie_behind(atoms: list[Atom], at: int) -> bool:
    atom, before = atoms[at], atoms[at - 1]
    if atom.kind != WORD or not (before.kind == NUMBER or before.lower in DISTANCE_UNITS
                                 or before.text in ("'", '"')):  # fmt: skip
        return False
    meaning, _, _ = phrase_at(atoms, at)
    return meaning is not None and meaning.kind == LIE


def _styled_behind(atoms: list[Atom]) -> bool:
    """Return whether letters are glued behind numbers, as in ``112f``, and none stands before."""
    behind = [
        at
        for at in range(1, len(atoms))
        if atoms[at].glued and _lie_behind(atoms, at) and not _number_glued(atoms, at + 1)
    ]
    ahead = [at for at in range(len(atoms)) if _letter_before(atoms, at)]
    return bool(behind) and not ahead


def _number_glued(atoms: list[Atom], at: int) -> bool:
    return at < len(atoms) and atoms[at].kind == NUMBER and atoms[at].glued


def _letter_before(atoms: list[Atom], at: int) -> bool:
    return (
        atoms[at].lower in LETTERS
        and _number_glued(atoms, at + 1)
        and not (atoms[at].glued and at and atoms[at - 1].kind == NUMBER)
    )
