"""What is read of one hole line: the places where the ball lay, and what has to be asked."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field

from sgzone.cards.text.vocabulary import LETTER_OF
from sgzone.terms import GREEN, LIE
from sgzone.units import parse_distance

PACES, FEET_AND_INCHES = "paces", "'"
"""Units beside those of a card: a yard each; the number itself says feet and inches."""


@dataclass(slots=True)
class Place:
    """Where the ball lay before a stroke, and that stroke.

    ``number``: the distance as it was typed, in ``unit``; none: a bare number. ``sure``: the lie or
    the unit was written with it. ``mark``: how the hole ended there (``c``, ``x``, ``!``); with
    ``in_words`` where it was a word. ``cells``: every other column of the stroke.
    """

    text: str
    lie: str | None
    number: str | None
    unit: str | None = None
    sure: bool = False
    penalty: int = 0
    club: str | None = None
    swing: str | None = None
    mark: str = ""
    in_words: bool = False
    has_miss: bool = False
    cells: dict[str, str] = field(default_factory=dict)

    def feet(self, metres: bool) -> float:
        """Return how far it is to the hole, in feet; a bare number by the rule of the card."""
        feet = 0.0
        if self.number is not None:
            with suppress(ValueError):  # the rules of a card say what is wrong with it
                feet = parse_distance(self.number[:20], self.written_unit(metres))
        return feet

    def written_unit(self, metres: bool) -> str:
        """Return the unit of its distance: ``yd``, ``ft`` or ``m``."""
        if self.unit is not None:
            return {PACES: "yd", FEET_AND_INCHES: "ft"}.get(self.unit, self.unit)
        if metres:
            return "m"
        return (LIE[self.lie].bare_unit if self.lie else None) or "ft"

    def distance(self, metres: bool) -> str:
        """Return the cell of its distance, with the unit."""
        if self.unit == FEET_AND_INCHES:
            return self.number or ""
        return f"{self.number} {self.written_unit(metres)}"

    def said(self, metres: bool) -> str:
        """Return it in words for a question: ``fairway 112 yd``, ``18 ft``."""
        if self.number is None:
            return "a place not written down"
        length = self.distance(metres)
        told = length if self.lie in (GREEN, None) else f"{self.lie} {length}"
        return f"{told} with the {self.club}" if self.club else told

    def sure_form(self) -> str:
        """Return how it is typed so that only one reading is left."""
        letter = LETTER_OF.get(self.lie or "", "")
        unit = "" if self.unit in (None, FEET_AND_INCHES) else self.unit
        return f"{letter}{self.number or ''}{unit}"


@dataclass(frozen=True, slots=True)
class Question:
    """What a line could mean in two ways, or does not say.

    ``kind``: of ``questions.QUESTIONS``, which holds its words; ``token``: what was typed;
    ``fields``: what the words name. ``after``: how many places had been read.
    """

    kind: str
    token: str
    fields: dict[str, str] = field(default_factory=dict)
    after: int = 0


@dataclass(slots=True)
class Reading:
    """One way to read a hole line.

    ``cells``: columns of the whole hole. ``notes``: remarks and what stands behind a #.
    ``stated_putts``: a number of putts that the line says; ``up_and_down``: the words
    that say so. ``liberties``: what was read in a way that is noted, as (kind, what was typed).
    """

    first: int = 1
    par: str | None = None
    places: list[Place] = field(default_factory=list)
    cells: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    stated_putts: int | None = None
    putts_text: str = ""
    up_and_down: str = ""
    liberties: list[tuple[str, str]] = field(default_factory=list)

    def ask(self, kind: str, token: str, /, **fields: str) -> None:
        """Keep a question, with how far the line was understood."""
        self.questions.append(Question(kind, token, fields, len(self.places)))
