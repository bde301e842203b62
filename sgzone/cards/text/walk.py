"""A hole line walked through piece by piece: distances become places, one after the other."""

from __future__ import annotations

from collections.abc import Sequence

from sgzone.cards.text import vocabulary as say
from sgzone.cards.text.atoms import WORD, Atom
from sgzone.cards.text.measure import Measure, measure_at
from sgzone.cards.text.phrases import club_at, phrase_at
from sgzone.cards.text.places import PACES, Place, Reading
from sgzone.terms import GREEN, TEE

_MOST_PUTTS = 9
_FAR_TEE = 60.0


class Walk:
    """Where a reader of a line is, and what it keeps in mind.

    ``behind``: a lie stands behind its distance (``112f``). ``metres``: bare numbers are metres.
    """

    def __init__(self, atoms: Sequence[Atom], *, behind: bool, metres: bool, hole: int) -> None:
        self.atoms, self.behind, self.metres, self.hole = atoms, behind, metres, hole
        self.reading = Reading()
        self.at = 0
        self._lie: tuple[str, str] | None = None  # written, and its distance is still to come
        self._club: str | None = None  # written before the first place
        self._dropped = ""
        self._by_word = 0  # penalty strokes that words gave the last place
        self._fresh = False  # the last piece was a distance: a lie may follow it

    @property
    def _last(self) -> Place | None:
        return self.reading.places[-1] if self.reading.places else None

    def _ask(self, kind: str, token: str, **fields: str) -> None:
        self.reading.ask(kind, token, **fields)

    def _next(self, offset: int = 1) -> Atom | None:
        place = self.at + offset
        return self.atoms[place] if place < len(self.atoms) else None

    def _number(self, atom: Atom, fresh: bool) -> None:
        if club := club_at(self.atoms, self.at):
            self._with_club(club[0])
            self.at += club[1]
            return
        if self._ordinal(atom) or self._counted(atom):
            return
        measure = measure_at(self.atoms, self.at, metres=self.metres)
        self.at += measure.used
        if measure.comma:
            self.reading.liberties.append(("decimal comma", measure.text))
        if measure.question:
            kind, token, fields = measure.question
            self._ask(kind, token, **fields)
        self._place(measure)

    def _ordinal(self, atom: Atom) -> bool:
        more = self._next()
        if more is None or not more.glued or more.lower not in say.ORDINALS:
            return False
        self.at += 2
        word = self._next(0)
        if word is not None and word.lower in say.STROKE_WORDS:
            self.at += 1
        if self.reading.places or self._lie or self.reading.first != 1:
            self._ask("ordinal", f"{atom.text}{more.text}", hole=str(self.hole))
        self.reading.first = int(atom.text[:4]) if atom.text.isdecimal() else 0
        return True

    def _counted(self, atom: Atom) -> bool:
        """Read ``2 putts``, ``2-putt``, ``2 pen``."""
        more, used = self._next(), 2
        if more is not None and more.text == "-" and more.glued:
            more, used = self._next(2), 3
        if more is None or more.kind != WORD or not atom.text.isdecimal():
            return False
        if more.lower in ("putt", "putts", "putted") and int(atom.text[:4]) <= _MOST_PUTTS:
            self._putts(int(atom.text), f"{atom.text} {more.text}")
        elif more.lower in say.PENALTY_WORDS and int(atom.text[:4]) <= _MOST_PUTTS:
            self._penalty(int(atom.text), f"{atom.text} {more.text}")
            behind = self._next(used)
            used += behind is not None and behind.lower in say.STROKE_WORDS
        else:
            return False
        self.at += used
        return True

    def _putts(self, number: int, text: str) -> None:
        if self.reading.stated_putts is not None:
            self._ask("second value", text)
        self.reading.stated_putts, self.reading.putts_text = number, text
        self.reading.liberties.append(("words", text))

    def _place(self, measure: Measure) -> None:
        lie, token = self._lie or (None, "")
        sure = lie is not None or measure.unit not in (None, PACES)
        place = Place(f"{token}{measure.text}", lie, measure.number, measure.unit, sure)
        if measure.mark:
            place.mark = measure.mark
        if measure.unit == PACES:
            place.cells["measured"] = "paced"
        place.club, self._club = self._club, None
        if lie is None:
            self._bare(place)
        self._lie, self._by_word, self._fresh, self._dropped = None, 0, True, ""
        self.reading.places.append(place)

    def _bare(self, place: Place) -> None:
        """Settle where a number without a lie lay: on the green, but for the first of a par 3."""
        place.lie = GREEN
        if self._dropped and not self._lie_follows():
            self._ask("drop", f"{self._dropped} {place.text}", number=place.text)
        far = place.feet(self.metres) > _FAR_TEE
        if self.reading.par == "3" and not self.reading.places and self.reading.first == 1:
            more = self._next(0)
            clubbed = place.club or (more is not None and more.text == "/")
            if (far or clubbed) and place.unit != "ft" and not self._lie_follows():
                place.lie, place.sure = TEE, True
                self.reading.liberties.append(("from the tee", place.text))

    def _lie_follows(self) -> bool:
        atom = self._next(0)
        if atom is None or atom.kind != WORD or not (self.behind or atom.glued):
            return False
        meaning, _, _ = phrase_at(self.atoms, self.at)
        return meaning is not None and meaning.kind == say.LIE

    def _no_distance(self) -> None:
        if self._lie is not None:
            self._ask("no distance", self._lie[1])
            self._lie = None

    def _penalty(self, number: int, text: str) -> None:
        """Charge the stroke before; words and stars for one stroke say the same penalty."""
        self._no_distance()
        if self._last is None:
            self._ask("penalty first", text)
            return
        if number > 1 or not self._by_word:
            self._last.penalty = max(self._last.penalty, number)
        self._by_word = max(self._by_word, number)
        self.reading.liberties.append(("words", text))

    def _with_club(self, club: str) -> None:
        """Give a club without a slash to the stroke before it, or to the first one."""
        self._no_distance()
        if self._last is None and self._club is None:
            self._club = club
        elif self._last is not None and self._last.club is None and not self._last.mark:
            self._last.club = club
        else:
            self._ask("second value", club)
