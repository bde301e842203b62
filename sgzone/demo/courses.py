"""Invented courses. None of them exists; lengths in yards, greens in feet."""

from __future__ import annotations

from dataclasses import dataclass

from sgzone.demo.green import DEEP_FT, LEFT, NO_HAZARD, OUT_OF_BOUNDS, RIGHT, SHORT, WATER, WIDE_FT

_HAZARDS = {
    ".": (NO_HAZARD, SHORT),
    "f": (WATER, SHORT),
    "l": (WATER, LEFT),
    "r": (WATER, RIGHT),
    "L": (OUT_OF_BOUNDS, LEFT),
    "R": (OUT_OF_BOUNDS, RIGHT),
}


@dataclass(frozen=True, slots=True)
class Course:
    """Par, length (yd) and green of each hole.

    ``hazards``: one letter a hole: ``f``, ``l``, ``r`` water in front, left or right of the green;
    ``L``, ``R`` out of bounds there; ``.`` none.
    """

    name: str
    par: tuple[int, ...]
    yards: tuple[float, ...]
    hazards: str = "." * 18
    size: tuple[float, ...] = (1.0,) * 18  # of the green, times the usual

    @property
    def hazard(self) -> tuple[tuple[int, int], ...]:
        """Kind and side of the hazard of each hole."""
        return tuple(_HAZARDS[letter] for letter in self.hazards)

    @property
    def wide_ft(self) -> tuple[float, ...]:
        """Width of each green."""
        return tuple(WIDE_FT * size for size in self.size)

    @property
    def deep_ft(self) -> tuple[float, ...]:
        """Depth of each green, front to back."""
        return tuple(DEEP_FT * size for size in self.size)


CHAMPIONSHIP = (
    Course(
        "Invented Championship, par 71",
        (*(4, 4, 3, 5, 4, 4, 3, 4, 4), *(4, 5, 4, 3, 4, 4, 3, 5, 4)),
        (
            *(455, 420, 205, 585, 475, 395, 180, 490, 445),
            *(465, 560, 410, 225, 500, 435, 165, 600, 470),
        ),
    ),
    Course(
        "Invented Championship, par 70",
        (*(4, 4, 3, 4, 4, 4, 3, 4, 5), *(4, 4, 3, 4, 4, 5, 3, 4, 4)),
        (
            *(470, 430, 210, 485, 455, 400, 185, 500, 590),
            *(445, 490, 225, 465, 420, 570, 175, 505, 440),
        ),
    ),
)
"""7,480 and 7,460 yards: long courses for tour-level rounds."""

_SMALL, _USUAL, _LARGE = 0.90, 1.0, 1.12

CLUB_COURSES = (
    Course(
        "Tindlewick Hollow",
        (*(4, 4, 3, 5, 4, 4, 3, 4, 5), *(4, 3, 4, 5, 4, 4, 3, 4, 5)),
        (
            *(372, 341, 142, 508, 398, 318, 168, 421, 531),
            *(355, 127, 402, 489, 366, 410, 149, 384, 517),
        ),
        "f.fR..l..rf..L.fr.",
        (*(_USUAL, _SMALL, _USUAL, _LARGE, _USUAL, _SMALL) * 3,),
    ),
    Course(
        "Quorrabeck Heath",
        (*(4, 5, 4, 3, 4, 4, 5, 3, 4), *(4, 4, 3, 4, 5, 4, 3, 4, 4)),
        (
            *(388, 497, 352, 155, 407, 329, 522, 138, 391),
            *(376, 345, 171, 418, 505, 361, 133, 399, 409),
        ),
        ".R.f.f..l..f.l..Rf",
        (*(_LARGE, _USUAL, _USUAL) * 6,),
    ),
    Course(
        "Ysmerel Dunes",
        (*(4, 3, 4, 5, 4, 3, 4, 4, 4), *(5, 4, 3, 4, 4, 4, 3, 5, 4)),
        (
            *(401, 148, 363, 529, 347, 176, 415, 382, 335),
            *(511, 394, 131, 371, 426, 358, 160, 498, 405),
        ),
        "f..L..r...fR...r.l",
        (*(_USUAL, _LARGE) * 9,),
    ),
    Course(
        "Plovenmarch Old Quarry",
        (*(4, 4, 5, 3, 4, 4, 4, 3, 5), *(4, 4, 3, 5, 4, 4, 4, 3, 4)),
        (
            *(359, 412, 486, 145, 377, 322, 396, 163, 514),
            *(368, 349, 152, 503, 385, 403, 337, 129, 419),
        ),
        "f..r.f..Ll..f.R.rf",
        (*(_SMALL, _USUAL, _USUAL) * 6,),
    ),
)
"""The courses of the demo season."""
