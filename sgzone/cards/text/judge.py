"""What a person would ask about a hole that can be read: does one stroke follow from another?"""

from __future__ import annotations

from itertools import pairwise

from sgzone.cards.text.places import FEET_AND_INCHES, Place, Reading
from sgzone.cards.text.vocabulary import CONCEDED, PICKED_UP
from sgzone.terms import EVERY_LIE, GREEN, SURE_PUTT_FT, TEE
from sgzone.units import FT_PER_YD

FAR_PUTT_FT = 60.0
"""A bare number over this is asked about; in metres 18."""
_METRES_FAR_FT = 18 / 0.3048
GROWS_FT = 6.0
"""A putt that leaves so much more than it had is rare."""
GIVEN_FT = 10.0
NEAR_UP_AND_DOWN_FT = 50 * FT_PER_YD
_SCORES = range(2, 16)
_NO_BARE_UNIT = tuple(lie.name for lie in EVERY_LIE if lie.bare_unit is None)


def judge(reading: Reading, *, metres: bool) -> None:
    """Add to a reading the questions that its places raise, each once."""
    for place in reading.places:
        _alone(reading, place, metres)
    for one, two in pairwise(reading.places):
        _pair(reading, one, two, metres)
    _first(reading)
    _counts(reading, metres)
    if reading.places:
        _last(reading, reading.places[-1], metres)


def is_bare(place: Place) -> bool:
    """Return whether a place is a number alone: no lie, no unit."""
    return place.number is not None and not place.sure


def _alone(reading: Reading, place: Place, metres: bool) -> None:
    if place.number is None or any(place.text in q.token for q in reading.questions):
        return
    if place.lie in _NO_BARE_UNIT and place.unit is None and not metres:
        reading.ask("fringe unit", place.text, token=place.text)
    if place.lie == GREEN and not place.text[:1].isalpha():
        off = place.unit in ("yd", "paces") or (place.club and not _is_putter(place.club))
        far = place.feet(metres) > (_METRES_FAR_FT if metres else FAR_PUTT_FT)
        if off or (far and place.unit != FEET_AND_INCHES and not _in_feet(place)):
            number = f"{place.number}{place.unit or ''}"
            reading.ask("from what lie", place.text, number=number, token=place.text)
    if not place.sure and len(place.number.partition(".")[2]) > 1:
        reading.ask("decimals", place.text, number=place.number)


def _in_feet(place: Place) -> bool:
    return place.unit == "ft"


def _is_putter(club: str) -> bool:
    return club.lower() in ("putter", "p", "pt")


def _pair(reading: Reading, one: Place, two: Place, metres: bool) -> None:
    if one.mark:
        reading.ask("after the end", two.text, mark=one.mark)
        return
    if two.lie == TEE and not one.penalty:
        reading.ask("tee again", two.text)
    between = one.lie == two.lie == GREEN and two is not reading.places[-1]
    if between and is_bare(one) and two.number is not None:
        _growing(reading, one, two, metres)


def _growing(reading: Reading, one: Place, two: Place, metres: bool) -> None:
    if two.feet(metres) - one.feet(metres) >= GROWS_FT:
        fields = {"number": one.number or "", "next": two.number or ""}
        reading.ask("putt grows", f"{one.text} {two.text}", **fields)


def _first(reading: Reading) -> None:
    """Ask about a bare number before the first place off the green: a par, a score?"""
    if len(reading.places) > 1:
        one, two = reading.places[:2]
        if is_bare(one) and one.lie == GREEN and two.lie not in (GREEN, None):
            reading.ask("number first", one.text, number=one.number or "", next=two.text)


def _last(reading: Reading, last: Place, metres: bool) -> None:
    if last.lie is not None and not last.mark:
        far = last.lie != GREEN or last.feet(metres) > SURE_PUTT_FT
        if far and not reading.questions and not set(last.cells) & {"to_lie", "to_distance"}:
            fields = {"place": last.said(metres), "token": last.text}
            reading.ask("how did it end", last.text, **fields)
    given = last.mark == CONCEDED and last.in_words and last.lie == GREEN
    if given and last.feet(metres) > GIVEN_FT:
        reading.ask("given", last.text, number=last.number or "")
    before = reading.places[-2] if len(reading.places) > 1 else None
    if before is not None and before.lie == last.lie == GREEN and is_bare(last):
        longer = last.feet(metres) > before.feet(metres)
        if longer and (last.number or "").isdecimal() and int(last.number or 0) in _SCORES:
            reading.ask("number last", last.text, number=last.number or "")
        elif is_bare(before):
            _growing(reading, before, last, metres)


def _counts(reading: Reading, metres: bool) -> None:
    """Hold a number of putts, and an up-and-down, to the places that are there."""
    places = reading.places
    putts = sum(place.lie == GREEN for place in places)
    given = bool(places) and places[-1].mark in (CONCEDED, PICKED_UP) and places[-1].lie == GREEN
    there = "1 putt" if putts == 1 else f"{putts} putts"
    if reading.stated_putts is not None and reading.stated_putts not in (putts, putts - given):
        kind = "putts missing" if reading.stated_putts > putts else "putts too many"
        reading.ask(kind, reading.putts_text, there=there)
    if reading.up_and_down:
        near = [p for p in places if p.lie != GREEN and p.feet(metres) <= NEAR_UP_AND_DOWN_FT]
        if len(near) < 1 or putts - given > 1:
            reading.ask("up and down", reading.up_and_down, there=there)
