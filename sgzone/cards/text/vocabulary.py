"""What words and letters mean on a text card. Lies and units themselves: ``terms``, ``units``."""

from __future__ import annotations

import re
from dataclasses import dataclass

from sgzone.cards.shot_rules import TREES
from sgzone.terms import (
    FAIRWAY,
    FRINGE,
    GREEN,
    LIE_ALIASES,
    LIE_LETTERS,
    LIES,
    LIES_ABROAD,
    ROUGH,
    SAND,
    TEE,
)
from sgzone.units import UNIT_WORDS

LETTERS = LIE_LETTERS
"""Letter -> lie; the same letters as on the printed pocket card."""
LETTER_OF = {lie: letter for letter, lie in LETTERS.items()}

CONCEDED, PICKED_UP, HOLED_THERE = "c", "x", "!"
RESULT_OF = {CONCEDED: "conceded", PICKED_UP: "picked_up", HOLED_THERE: "holed"}
"""Sign behind the last place -> the word of the column ``result``."""

SWING_OF = {"f": "full", "q": "three-quarter", "h": "half"}
_SWINGS = {
    **dict.fromkeys(("h", "half", "1/2"), "half"),
    **dict.fromkeys(
        ("q", "three-quarter", "three quarter", "3/4", "quarter three"), "three-quarter"
    ),
    **dict.fromkeys(("f", "full"), "full"),
}
DISTANCE_UNITS = {
    **{word: unit for word, unit in UNIT_WORDS.items() if word.isalpha()},
    **dict.fromkeys(("pace", "paces"), "paces"),
    **dict.fromkeys(("inch", "inches"), "in"),
}
"""Word behind a number -> unit; paces are a yard each."""

_CLUB = re.compile(
    r"([2-9]|1[0-2]?)[- ]?(i|iron|w|wood|h|hy|hyb|hybrid|u|ut)|[2-9]|4\d|5\d|6[0-8]"
    r"|p|s|d|pw|sw|gw|aw|lw|uw|dw|dr|driver|pt|putter|chipper|wedge"
    r"|(pitching|sand|gap|approach|lob|utility|dual)[- ]wedge|(4\d|5\d|6[0-8])( ?(°|deg|degrees?))"
)
_SURE_CLUB = re.compile(
    r"[2-9][- ]?(i|iron|wood|hybrid|hy|hyb)|[3579][- ]?w|pw|sw|gw|aw|lw|uw|driver|putter|chipper"
    r"|(pitching|sand|gap|approach|lob|utility|dual)[- ]wedge|(4\d|5\d|6[0-8]) ?(°|deg|degrees?)"
)
_DEGREES = re.compile(r"\s*(°|deg|degrees?)$")

MOST_WORDS = 4
"""Words of the longest phrase."""

LIE, ASKED, MARK, PENALTY, REMARK, LINK, UP_AND_DOWN, TAP_IN, DROP, PAR, COUNT, CLUB, SWING = (
    *("lie", "asked", "mark", "penalty", "remark", "link", "up and down", "tap in", "drop", "par"),
    *("count", "club", "swing"),
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a word or phrase is, and which one: a lie, a mark, the name of a question."""

    kind: str
    value: str = ""


def _phrases() -> dict[str, Meaning]:
    lies = {**LIES_ABROAD, **{lie: lie for lie in LIES}, **LIE_ALIASES, **LETTERS}
    lies |= {
        **dict.fromkeys(("fwy", "fway", "frwy", "fairways"), FAIRWAY),
        **dict.fromkeys(("semi", "semirough", "first cut of rough", "in the rough"), ROUGH),
        **dict.fromkeys(("in the bunker", "in bunker", "in sand", "in the sand", "traps"), SAND),
        **dict.fromkeys(("on the green", "on green", "putt from"), GREEN),
        **dict.fromkeys(("on the fringe", "off the fringe", "frg"), FRINGE),
        **dict.fromkeys(("off the tee", "from the tee", "tee shot"), TEE),
        **dict.fromkeys(("on the fairway", "in the fairway"), FAIRWAY),
    }
    found = {phrase: Meaning(LIE, lie) for phrase, lie in lies.items()}
    for kind, phrases in _PLAIN.items():
        found |= {phrase: Meaning(kind) for phrase in phrases}
    for kind, values in _VALUED.items():
        found |= {phrase: Meaning(kind, value) for value, all_ in values.items() for phrase in all_}
    return found


_PLAIN = {
    REMARK: (
        *("plugged", "buried", "birdie", "bogey", "double bogey", "eagle", "ace"),
        *("hit tree", "hit the tree", "hit a tree", "hit flag", "hit the flag", "hit pin"),
        *("hit the pin", "lip out", "lipped out", "lip", "thin", "fat", "thinned", "fatted"),
        *("duff", "duffed", "topped", "shank", "shanked", "chunked", "chunk", "bladed", "nice"),
        *("great", "bad", "pin high", "hole high", "for par", "for birdie", "for bogey"),
        *("uphill", "downhill", "mud", "windy", "rain", "wet", "divot", "in a divot", "missed"),
        *("chip", "chipped", "pitch", "pitched", "putted", "layup", "lay up", "laid up", "splash"),
        *("free drop", "no penalty", "relief", "into wind", "downwind"),
    ),
    LINK: (
        *("to", "then", "and", "from", "the", "a", "with", "at", "hit", "left with", "leaves"),
        *("leaving", "on to", "onto", "out to", "away"),
    ),
    UP_AND_DOWN: ("u/d", "ud", "up and down", "up & down", "sandy", "sand save"),
    TAP_IN: ("tap in", "tapin", "tap-in", "tapped in"),
    DROP: ("drop", "dropped", "drop at", "dropped at", "dropping"),
    PAR: ("par",),
    COUNT: ("putt", "putts"),
}
_VALUED = {
    MARK: {
        CONCEDED: ("c", "gimme", "given", "conceded", "concede", "good good"),
        PICKED_UP: ("x", "picked up", "pick up", "pickup", "pu", "p/u", "picked it up", "nr"),
        HOLED_THERE: (
            *("in", "holed", "holed out", "holed it", "made", "made it", "hole out", "sunk"),
            *("sank", "sank it", "drained", "drained it", "went in", "in the hole"),
        ),
    },
    PENALTY: {
        "1": (
            *(
                "water",
                "in water",
                "in the water",
                "into water",
                "into the water",
                "hazard",
                "pond",
            ),
            *("in the hazard", "ob", "o.b.", "oob", "out of bounds", "lost ball", "ball lost"),
            *("lost", "unplayable", "pen", "penalty", "penalty stroke", "penalty drop"),
            *("in the pond", "wet ball"),
        ),
        "2": ("double penalty",),
    },
    ASKED: {
        "trees": (*TREES, "in the wood", "in woods", "in the woods", "behind tree"),
        "greenside": ("greenside", "green side", "by the green", "next to the green"),
        "fr": ("fr",),
        "provisional": ("provisional", "prov", "provisional ball", "3 off the tee"),
    },
    SWING: {
        "half": ("half", "half swing"),
        "three-quarter": ("three-quarter", "three quarter", "three quarters"),
        "full": ("full", "full swing"),
    },
}
NUMBER_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5}
PHRASES = _phrases()
ORDINALS = {"st", "nd", "rd", "th"}
PENALTY_WORDS = {"pen", "pens", "penalty", "penalties", "penalty strokes", "penalty stroke"}
STROKE_WORDS = {"shot", "shots", "stroke", "strokes"}


def as_swing(word: str) -> str | None:
    """Return the swing that a word behind a slash means, None where it is another word.

    >>> as_swing("H"), as_swing("3/4"), as_swing("punch")
    ('half', 'three-quarter', None)
    """
    return _SWINGS.get(word.lower())


def as_club(word: str, *, slashed: bool) -> str | None:
    """Return a club as a card writes it, None where a word is none; a loft loses its sign.

    ``slashed``: behind a slash a number alone may be a club.

    >>> as_club("54°", slashed=False), as_club("8 iron", slashed=True), as_club("22", slashed=True)
    ('54', '8 iron', None)
    """
    plain = " ".join(word.split())
    if not (_CLUB if slashed else _SURE_CLUB).fullmatch(plain.lower()):
        return None
    return _DEGREES.sub("", plain)
