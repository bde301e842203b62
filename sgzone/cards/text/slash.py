"""What stands behind a slash: a club, then a swing; or a stroke that lost its blank."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sgzone.cards.text.atoms import NUMBER, QUOTED, WORD, Atom
from sgzone.cards.text.places import Place, Reading
from sgzone.cards.text.vocabulary import LETTERS, as_club, as_swing

_BEHIND = ("iron", "wood", "hybrid", "wedge", "deg", "degree", "degrees", "°")
_PLACE = re.compile(rf"[{''.join(LETTERS)}]\d.*|\d+(ft|yds?|y|m|feet)")


def slash_at(reading: Reading, place: Place, atoms: Sequence[Atom], at: int) -> int:
    """Read what stands behind the slash at ``at`` into a place; return how many pieces it takes."""
    if at + 1 >= len(atoms):
        reading.ask("slash word", "/", value="")
        return 1
    first = atoms[at + 1]
    if first.kind == QUOTED:
        _named(reading, place, first.value)
        return 2
    if fraction := _fraction(atoms, at + 1):
        _swing(reading, place, as_swing(fraction) or fraction)
        return 4
    text, used = _run(atoms, at + 1)
    if not used:
        reading.ask("slash word", f"/{first.text}", value=first.text)
        return 1
    _judge(reading, place, text)
    return 1 + used


def _fraction(atoms: Sequence[Atom], at: int) -> str | None:
    """Return ``3/4`` or ``1/2`` where it stands there and nothing is glued to its end."""
    text = "".join(atom.text for atom in atoms[at : at + 3])
    after = atoms[at + 3] if at + 3 < len(atoms) else None
    glued = after is not None and after.glued and after.kind in (NUMBER, WORD)
    return text if text in ("3/4", "1/2") and not glued else None


def _run(atoms: Sequence[Atom], at: int) -> tuple[str, int]:
    """Return what is glued together from a place on, with a word that belongs to a club."""
    text, used = "", 0
    for place in range(at, len(atoms)):
        atom = atoms[place]
        inner = atom.kind in (NUMBER, WORD) or atom.text == "°"
        dash = atom.text == "-" and atom.glued and place + 1 < len(atoms)
        dash = dash and atoms[place + 1].kind == WORD and atoms[place + 1].glued
        if not (inner or dash) or (place > at and not atom.glued):
            break
        text, used = text + atom.text, used + 1
    more = atoms[at + used] if used and at + used < len(atoms) else None
    if more is not None and not more.glued and more.lower in _BEHIND:
        longer = f"{text} {more.text}"
        if as_club(longer, slashed=True):
            return longer, used + 1
    return text, used


def _judge(reading: Reading, place: Place, text: str) -> None:
    swing, club = as_swing(text), as_club(text, slashed=True)
    if swing and not (club and place.club is None and text.lower() not in "hqf"):
        _swing(reading, place, swing)
    elif place.club is not None or place.swing is not None:
        if text[0].isalpha() and text.isalpha():
            _swing(reading, place, text)
        else:
            kind = "slash place" if _PLACE.fullmatch(text.lower()) else "slash"
            reading.ask(kind, f"/{text}", value=text)
    elif club:
        place.club = club
    elif _PLACE.fullmatch(text.lower()):
        reading.ask("slash place", f"/{text}", value=text)
    else:
        kind = "slash" if text.replace(".", "").isdecimal() else "slash word"
        reading.ask(kind, f"/{text}", value=text)


def _named(reading: Reading, place: Place, text: str) -> None:
    if place.club is None:
        place.club = text
    else:
        _swing(reading, place, text)


def _swing(reading: Reading, place: Place, swing: str) -> None:
    if place.swing is not None:
        reading.ask("second value", f"/{swing}")
    place.swing = swing
