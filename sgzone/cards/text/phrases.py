"""The longest phrase that begins at a word of a hole line, and what it means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sgzone.cards.text.atoms import NUMBER, SIGN, WORD, Atom
from sgzone.cards.text.vocabulary import CLUB, MOST_WORDS, PHRASES, Meaning, as_club

_JOINS = ("-", "/", ".", "&", "'")
_LOFT = ("°", "deg", "degree", "degrees")


def phrase_at(atoms: Sequence[Atom], at: int) -> tuple[Meaning | None, str, int]:
    """Return what the longest known phrase at a word means, its text, and how many pieces it has.

    Where none is known: None and the word with what is glued to it.
    """
    found: tuple[Meaning | None, str, int] | None = None
    for text, used in _runs(atoms, at):
        plain = text.lower()
        meaning = PHRASES.get(plain) or PHRASES.get(plain.replace("-", " "))
        if meaning is None and as_club(text, slashed=False):
            meaning = Meaning(CLUB, as_club(text, slashed=False) or "")
        if meaning:
            found = meaning, text, used
    return found or (None, atoms[at].text, 1)


def _runs(atoms: Sequence[Atom], at: int) -> Iterator[tuple[str, int]]:
    """Yield the texts of one word, two words, ... from a place on, joined as they were typed."""
    text, place = atoms[at].text, at + 1
    yield text, 1
    for _ in range(MOST_WORDS - 1):
        if place >= len(atoms):
            return
        one = atoms[place]
        if one.kind == SIGN and one.text in _JOINS and place + 1 < len(atoms):
            more = atoms[place + 1]
            loose = one.text == "&" and not one.glued
            if more.kind != WORD or not (loose or (one.glued and more.glued)):
                return
            text += f" & {more.text}" if loose else one.text + more.text
            place += 2
        elif one.kind == WORD and not one.glued:
            text, place = f"{text} {one.text}", place + 1
        else:
            return
        yield text, place - at


def club_at(atoms: Sequence[Atom], at: int) -> tuple[str, int] | None:
    """Return the club that begins with the number at ``at`` and how many pieces it has, or None."""
    if at + 1 >= len(atoms):
        return None
    more = atoms[at + 1]
    loft = more.text in _LOFT or more.lower in _LOFT
    if not (loft or more.kind == WORD or (more.kind == SIGN and more.text == "-")):
        return None
    text, used = atoms[at].text + ("" if more.glued else " ") + more.text, 2
    if more.text == "-" and at + 2 < len(atoms):
        text, used = text + atoms[at + 2].text, 3
    behind = atoms[at + used] if at + used < len(atoms) else None
    if behind is not None and behind.glued and behind.kind in (WORD, NUMBER):
        return None
    club = as_club(text, slashed=False)
    return (club, used) if club else None
