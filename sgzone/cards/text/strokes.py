"""The strokes of one hole line, read with the letter of a lie before its distance, or behind it."""

from __future__ import annotations

from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.text import vocabulary as say
from sgzone.cards.text.atoms import GROUP, NOTE, NUMBER, PAIR, SIGN, WORD, Atom
from sgzone.cards.text.miss import read_miss
from sgzone.cards.text.phrases import phrase_at
from sgzone.cards.text.places import Place, Reading
from sgzone.cards.text.slash import slash_at
from sgzone.cards.text.walk import Walk
from sgzone.cards.tolerant.wording import folded, words_read
from sgzone.terms import GREEN

_SEPARATORS = {",", ";", ".", ":", "-", "|", "~", "&"}
_OF_A_STROKE = ("shot", "lie", "distance", "penalty", "result", "club", "swing")
_OWN_PLACE = ("player", "date", "round", "hole", "unit")
_NEAR_TAP_IN = 3.0
_MOST_QUESTIONS, _MOST_PLACES = 20, 60
"""Of a line: beyond it is no hole, and what is left of it is not looked at."""


class StrokeReader(Walk):
    """Reads the pieces of a line from left to right into a ``Reading``."""

    def read(self) -> Reading:
        """Return what the line says."""
        while self.at < len(self.atoms) and len(self.reading.questions) < _MOST_QUESTIONS:
            if len(self.reading.places) > _MOST_PLACES:
                self._ask("many strokes", self.atoms[self.at].text)
                break
            atom = self.atoms[self.at]
            before, fresh = self.at, self._fresh
            self._fresh = False
            _BY_KIND.get(atom.kind, StrokeReader._strange)(self, atom, fresh)
            self.at = max(self.at, before + 1)
        self._no_distance()
        if self._club is not None:
            self.reading.ask("no lie", self._club)
        return self.reading

    # words

    def _word(self, atom: Atom, fresh: bool) -> None:
        if atom.lower in say.NUMBER_WORDS and self._counted_in_words(atom):
            return
        meaning, text, used = phrase_at(self.atoms, self.at)
        if text.lower() == "in" and self._leads_on(used):
            self.at += used
            return
        behind = self._next(used)
        glued_on = behind is not None and behind.glued and behind.kind in (NUMBER, WORD)
        self.at += used
        if meaning is None or (glued_on and not self._may_be_glued(meaning, behind)):
            self._ask("other word", text + (behind.text if glued_on and behind else ""))
            self.at += glued_on
            return
        if len(text) > 1 and meaning.kind not in (say.LINK, say.PAR, say.REMARK):
            self.reading.liberties.append(("words", text))
        _BY_MEANING[meaning.kind](self, meaning, text, fresh)

    def _counted_in_words(self, atom: Atom) -> bool:
        more, used = self._next(), 2
        if more is not None and more.text == "-":
            more, used = self._next(2), 3
        if more is None or more.lower not in ("putt", "putts", "putted"):
            return False
        self.at += used
        self._putts(say.NUMBER_WORDS[atom.lower], f"{atom.text} {more.text}")
        return True

    def _leads_on(self, used: int) -> bool:
        """Return whether ``in`` goes on as ``in the bunker`` does: then nothing was holed."""
        place = self.at + used
        if place < len(self.atoms) and self.atoms[place].lower == "the":
            place += 1
        if place >= len(self.atoms) or self.atoms[place].kind != WORD:
            return False
        if self.atoms[place].glued:
            return False
        meaning, text, _ = phrase_at(self.atoms, place)
        kinds = (say.LIE, say.ASKED, say.PENALTY)
        return meaning is not None and meaning.kind in kinds and len(text) > 1

    def _may_be_glued(self, meaning: say.Meaning, behind: Atom | None) -> bool:
        """Return whether a number may be glued to a word: to a lie, to par."""
        number = behind is not None and behind.kind == NUMBER
        return number and meaning.kind in (say.LIE, say.PAR, say.ASKED)

    def _of_lie(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        number = self._next(0)
        leads = number is not None and number.kind == NUMBER and number.glued
        own, last = self.atoms[self.at - 1], self._last
        free = fresh and last is not None and last.text[:1].isdecimal()
        glued = len(text) == 1 and own.glued  # then the glue says which number is meant
        if free and last is not None and not leads and (glued or self.behind):
            self._behind(last, meaning.value, text)
            return
        self._no_distance()
        if self.behind and not (leads and len(text) == 1):
            self._ask("no distance", text)
        self._lie = meaning.value, text

    def _behind(self, place: Place, lie: str, text: str) -> None:
        small = place.feet(False) <= 50 * (1 if place.unit is None else 0)
        if text.lower() == "f" and place.unit is None and small and not self.metres:
            token = f"{place.text}{text}"
            self._ask("ft or fairway", token, number=place.number or "")
        glue = "" if len(text) == 1 else " "
        place.lie, place.sure, place.text = lie, True, f"{place.text}{glue}{text}"
        self.reading.liberties.append(("lie behind", place.text))
        self._fresh = False

    def _of_asked(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        number = self._next(0)
        near = number is not None and number.kind == NUMBER
        shown = number.text if near and number is not None else ""
        if not shown and self._last is not None and fresh:
            shown = self._last.number or ""
        self._ask(meaning.value, f"{text}{shown if near and number and number.glued else ''}",
                  number=shown or "40")  # fmt: skip
        if near and meaning.value != "provisional":
            self._lie = GREEN, text  # its distance is not asked about once more

    def _of_mark(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self._no_distance()
        last = self._last
        number = self._next(0)
        if (
            meaning.value == say.PICKED_UP
            and (last is None or last.penalty)
            and not (last is not None and last.mark)
        ):
            if last is None:
                self._ask("picked up where", text)
            self.reading.places.append(Place(text, None, None, mark=say.PICKED_UP))
        elif last is None:
            self._ask("no lie", text)
        elif last.mark and last.mark != meaning.value:
            self._ask("after the end", text, mark=last.mark)
        else:
            last.mark, last.in_words = meaning.value, len(text) > 1
        if (
            text != say.HOLED_THERE == meaning.value
            and number is not None
            and number.kind == NUMBER
        ):
            self._ask("in and a number", f"{text} {number.text}", number=number.text)
            self.at += 1

    def _of_penalty(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self._penalty(int(meaning.value), text)

    def _of_remark(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self.reading.notes.append(text)
        self.reading.liberties.append(("remarks", text))

    def _of_link(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        """Pass over a word that only joins others."""

    def _of_up_and_down(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self.reading.up_and_down = text

    def _of_tap_in(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        last = self._last
        near = last is not None and last.lie == GREEN and last.feet(self.metres) <= _NEAR_TAP_IN
        if fresh and near and last is not None:
            self._ask("tap in", f"{last.text} {text}", number=last.number or "")
        self.reading.places.append(Place(text, GREEN, "1", "ft", sure=True))

    def _of_drop(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self._dropped = text

    def _of_par(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        number = self._next(0)
        if number is None or number.kind != NUMBER:
            self._of_remark(meaning, text, fresh)
            return
        self.at += 1
        if number.text not in ("3", "4", "5", "6") or self.reading.par is not None:
            self._ask("other word", f"{text}{number.text}")
        self.reading.par = number.text

    def _of_count(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self._ask("other word", text)

    def _of_club(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        self._with_club(meaning.value)

    def _of_swing(self, meaning: say.Meaning, text: str, fresh: bool) -> None:
        if self._last is None or self._last.swing is not None:
            self._ask("other word", text)
        else:
            self._last.swing = meaning.value

    # signs

    def _sign(self, atom: Atom, fresh: bool) -> None:
        last, more = self._last, self._next()
        self.at += 1
        if atom.text == "/":
            if last is None or self._lie:
                self._no_distance()
                self._ask("no lie", "/")
            else:
                self.at += slash_at(self.reading, last, self.atoms, self.at - 1) - 1
                self._fresh = False
        elif atom.text == "*":
            if last is None or self._lie:
                self._ask("penalty first", "*")
            else:
                last.penalty = last.penalty + 1 if not self._by_word else last.penalty
        elif atom.text == "!":
            self._of_mark(say.Meaning(say.MARK, say.HOLED_THERE), "!", fresh)
        elif atom.text == "?" and more is not None and more.lower == say.PICKED_UP:
            self._no_distance()
            self.reading.places.append(Place("?x", None, None, mark=say.PICKED_UP))
            self.at += 1
        elif atom.text == "+" and more is not None and more.kind == NUMBER and more.glued:
            self._penalty(int(more.text) if more.text in "123" else 9, f"+{more.text}")
            self.at += 1
        else:
            self._separator(atom, more)

    def _separator(self, atom: Atom, more: Atom | None) -> None:
        arrow = atom.text.endswith(">")
        minus = atom.text == "-" and more is not None and more.glued and more.kind == NUMBER
        if atom.text == "[":
            self._ask("open bracket", "[")
            self.at = len(self.atoms)
        elif (minus and not atom.glued) or (atom.text not in _SEPARATORS and not arrow):
            self._ask("other word", atom.text)
        else:
            self._no_distance()

    # what stands in brackets, columns, notes

    def _group(self, atom: Atom, fresh: bool) -> None:
        cells = read_miss(atom.value, metres=self.metres)
        last = self._last
        if last is None or self._lie:
            self._ask("no lie", atom.text)
        elif cells is None:
            self._ask("miss", atom.text)
        elif last.has_miss:
            self._ask("second value", atom.text)
        else:
            last.cells |= cells
            last.has_miss = True
            if self.metres:
                self.reading.liberties.append(("miss in metres", atom.text))

    def _pair(self, atom: Atom, fresh: bool) -> None:
        self._no_distance()
        key = atom.key.strip()
        plain = key.lower().replace("-", "_")
        named = atom.text.startswith("[")
        known = plain in names_of("shot") and not named
        if not named and (
            plain in _OWN_PLACE or (plain in _OF_A_STROKE and not self._may_say(plain))
        ):
            self._ask("own column", atom.text)
        elif not named and not known and (atom.glued or any(map(str.isdecimal, key))):
            self._ask("glued column", atom.text, value=atom.text)
        elif not key or not atom.value:
            self._ask("other word", atom.text)
        elif not atom.text.endswith("]") and _runs_on(plain, atom.value):
            self._ask("glued value", atom.text, name=plain, value=atom.value)
        else:
            cells = self._last.cells if self._last else self.reading.cells
            name = plain if known else key
            if name in cells:
                self._ask("second value", atom.text)
            cells[name] = self._own_word(name, atom.value) if known else atom.value

    def _own_word(self, column: str, value: str) -> str:
        """Return the word of a card that a value means, as a table's cell is read."""
        word = known_word(column, value)
        if word is None:
            return value
        if word != value.lower():
            self.reading.liberties.append(("words", f"{column}={value}"))
        return word

    def _may_say(self, column: str) -> bool:
        """Return whether a stroke may have this column by name: its place, where it has none."""
        last = self._last
        return last is not None and (column not in ("lie", "distance") or last.number is None)

    def _note(self, atom: Atom, fresh: bool) -> None:
        if atom.value:
            self.reading.notes.append(atom.value)

    def _strange(self, atom: Atom, fresh: bool) -> None:
        self._ask("other word", atom.text)


def known_word(column: str, value: str) -> str | None:
    """Return what a word may be read as in a column of words, None where it is one's own.

    >>> known_word("wind", "Into"), known_word("wind", "howling")
    ('into', None)
    """
    kind = next((spec.kind for spec in columns_of("shot") if spec.name == column), "")
    return words_read("shot", column).get(folded(value)) if kind == "words" else None


def _runs_on(column: str, value: str) -> bool:
    """Return whether a value without brackets seems to have swallowed what stood behind it."""
    number = next(
        (c.kind in ("integer", "number") for c in columns_of("shot") if c.name == column), False
    )
    return bool(set(value) & set("=/(*!")) or (not number and any(map(str.isdecimal, value)))


_BY_KIND = {
    **{NUMBER: StrokeReader._number, WORD: StrokeReader._word, SIGN: StrokeReader._sign},
    **{GROUP: StrokeReader._group, PAIR: StrokeReader._pair, NOTE: StrokeReader._note},
}
_BY_MEANING = {
    **{say.LIE: StrokeReader._of_lie, say.ASKED: StrokeReader._of_asked},
    **{say.MARK: StrokeReader._of_mark, say.PENALTY: StrokeReader._of_penalty},
    **{say.REMARK: StrokeReader._of_remark, say.LINK: StrokeReader._of_link},
    **{say.UP_AND_DOWN: StrokeReader._of_up_and_down, say.TAP_IN: StrokeReader._of_tap_in},
    **{say.DROP: StrokeReader._of_drop, say.PAR: StrokeReader._of_par},
    **{say.COUNT: StrokeReader._of_count, say.CLUB: StrokeReader._of_club},
    **{say.SWING: StrokeReader._of_swing},
}
