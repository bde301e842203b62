"""Columns of latitude and longitude in another table: of the ball, the pin, the finish."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sgzone.cards.mapping.fits import filled, number
from sgzone.terms import GREEN

_SPOT = re.compile(r"(?<![a-z])(lat|latitude|lon|long|lng|longitude)(?![a-z])")
_CASES = re.compile(r"(?<=[a-z])(?=[A-Z])")
_OF = {
    "ball": {"ball", "start", "from", "shot", "position", "before"},
    "pin": {"pin", "hole", "flag", "target", "cup", GREEN},
    "finish": {"finish", "end", "to", "landing", "after", "stop"},
}
_MOST = (90, 180)


def pairs(headers: Sequence[str], columns: Sequence[Sequence[str]]) -> dict[str, tuple[int, int]]:
    """Return ball, pin and finish -> the places of latitude and longitude, where headers say so.

    ``columns``: the cells under each header. A pair that says of nothing is the ball's, where no
    other is.
    """
    spots: dict[str, dict[str, int]] = {}
    for place, header in enumerate(headers):
        words = _CASES.sub(" ", header).replace("_", " ").lower()
        found = _SPOT.findall(words)
        if len(found) == 1 and _are_degrees(columns[place], found[0]):
            spots.setdefault(_of(_SPOT.sub(" ", words)), {})[found[0][:3].replace("lng", "lon")] = (
                place
            )
    both = {of: (two["lat"], two["lon"]) for of, two in spots.items() if len(two) == 2}
    if "" in both:
        both.setdefault("ball", both.pop(""))
    return {of: both[of] for of in _OF if of in both}


def _of(rest: str) -> str:
    words = set(re.findall(r"[a-z]+", rest))
    return next((of for of, known in _OF.items() if words & known), "")


def _are_degrees(cells: Sequence[str], spot: str) -> bool:
    most = _MOST[not spot.startswith("lat")]
    numbers = [number(cell) for cell in filled(cells)]
    return bool(numbers) and all(n is not None and abs(n) <= most for n in numbers)
