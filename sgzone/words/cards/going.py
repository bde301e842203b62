"""What would be deleted, in a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from sgzone.words.digits import count, listed

_NOUNS = {
    "rounds": "round",
    "strokes": "stroke",
    "entries": "practice session",
    "balls": "test ball",
    "clubs": "bag entry",
    "agreements": "agreement",
}


def going(what: Mapping[str, int], whose: str) -> str:
    """Return what would go: ``3 rounds and 141 strokes of Ned Farrow would be deleted.``

    ``what``: how many of each of ``rounds``, ``strokes``, ``entries``, ``balls``, ``clubs``,
    ``agreements``.
    """
    return f"{amounts(what)} of {whose} would be deleted."


def amounts(what: Mapping[str, int]) -> str:
    """Return the counts that are not 0, with their nouns."""
    return listed([_counted(number, name) for name, number in what.items() if number])


def _counted(number: int, name: str) -> str:
    if name == "clubs":
        return "1 bag entry" if number == 1 else f"{number} bag entries"
    return count(number, _NOUNS[name])
