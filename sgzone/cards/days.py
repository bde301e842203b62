"""A written day to the days it may mean: any usual order, month names of seven languages.

English, German, French, Spanish, Swedish, Italian and Dutch; accents and capitals do not count.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

DMY, MDY, YMD, NAMED, SERIAL = "dmy", "mdy", "ymd", "named", "serial"
ORDER_WORDS = {
    DMY: "day.month.year",
    MDY: "month/day/year",
    YMD: "year-month-day",
    NAMED: "day and month's name",
    SERIAL: "a spreadsheet's day number",
}
"""How a date may be written, in words."""

MAX_LETTERS = 60

_MONTHS = (
    "jan january januar janvier janv enero ene januari gennaio gen",
    "feb february februar fevrier fevr fev febrero februari febbraio",
    "mar march marz mrz mars marzo maart mrt",
    "apr april avril avr abril abr aprile",
    "may mai mayo maj maggio mag mei",
    "jun june juni juin junio giugno giu",
    "jul july juli juillet juil julio luglio lug",
    "aug august aout agosto ago augusti augustus",
    "sep sept september septembre septiembre settembre set",
    "oct october okt oktober octobre octubre ottobre ott",
    "nov november novembre noviembre",
    "dec december dez dezember decembre diciembre dic dicembre",
)
_WEEKDAYS = (
    "mon monday mo montag lun lundi lunes lunedi man mandag ma maandag",
    "tue tues tuesday di dienstag mar mardi martes martedi tis tisdag dinsdag",
    "wed weds wednesday mi mittwoch mer mercredi mie miercoles mercoledi ons onsdag wo woensdag",
    "thu thur thurs thursday do donnerstag jeu jeudi jue jueves gio giovedi tor torsdag donderdag",
    "fri friday fr freitag ven vendredi vie viernes venerdi fre fredag vr vrijdag",
    "sat saturday sa samstag sonnabend sam samedi sab sabado sabato lor lordag za zaterdag",
    "sun sunday so sonntag dim dimanche dom domingo domenica son sondag zo zondag",
)
_SMALL_WORDS = ("of the de del den der le la el il am on st nd rd th er e o z",)
_TIME = re.compile(
    r"[ ,t]+(\d{1,2}:\d\d(:\d\d(\.\d{1,9})?)?( ?[ap]m)?|00:00(:00(\.0+)?)? ?(z|utc))$"
)
"""A time behind a day; one of another zone could be another day here."""
_PACKED = re.compile(r"(19|20)\d{6}")
_SERIAL = re.compile(r"(\d{5})(?:\.\d*)?")
_NUMBERS = re.compile(r"(\d{1,4})\s*([./-])\s*(\d{1,2})\s*\2\s*(\d{4}|\d{1,2})\.?")
_PIECES = re.compile(r"\d+|[a-z]+")
_WORDED = re.compile(r"[a-z\d\s.,/'’-]+")
_FIRST_SERIAL = 25_569  # 1970-01-01; a smaller number is no day of a card
_EPOCH = date(1899, 12, 30)
_CENTURY, _TURN = 100, 70  # 69 is 2069, 70 is 1970
_YEARS_BACK = 10

_NO_YEAR = "the year is missing"
_WRONG_WEEKDAY = "the day of the week and the date do not agree"
_SIX_DIGITS = "six digits can be read in three orders"


def _numbered(words: tuple[str, ...], first: int) -> dict[str, int]:
    return {word: n for n, line in enumerate(words, first) for word in line.split()}


_MONTH, _WEEKDAY = _numbered(_MONTHS, 1), _numbered(_WEEKDAYS, 0)
_PASSED_OVER = frozenset(_numbered(_SMALL_WORDS, 0))


@dataclass(frozen=True, slots=True)
class Readings:
    """What one text may mean as a day.

    ``days``: the way in which it is written (one of ``ORDER_WORDS``) to the day that makes; empty
    where it is none. ``wrong``: what is wrong with a day that is meant all the same
    and cannot be read, such as one without a year. ``possible``: ``days`` and those that are to
    come or long ago, for whoever knows the order.
    """

    days: Mapping[str, date]
    wrong: str = ""
    possible: Mapping[str, date] = field(default_factory=dict)

    @property
    def only(self) -> date | None:
        """The day, where all readings are the same one; None where there is none or a choice."""
        different = set(self.days.values())
        return different.pop() if len(different) == 1 else None

    def question(self, text: str) -> str:
        """Return the question that a choice of days asks, both readings written out."""
        both = " or ".join(said(day) for day in sorted(set(self.days.values()), reverse=True))
        return f"{text}: is this {both}?"


NONE = Readings({})


def said(day: date) -> str:
    """Return a day in words that cannot be misread.

    >>> said(date(2026, 6, 5))
    '5 June 2026'
    """
    month = _MONTHS[day.month - 1].split()[1 if day.month != 5 else 0]
    return f"{day.day} {month.capitalize()} {day.year}"


def readings(text: str, today: date, *, serials: bool = False) -> Readings:
    """Return the days that a text may mean, on the day that is ``today``.

    To choose between readings, days to come and days over ten years back are none; a text with one
    reading has it, whatever day that is. ``serials``: five digits are a spreadsheet's day number.

    >>> readings("14.5.26", date(2026, 6, 1)).only
    datetime.date(2026, 5, 14)
    >>> sorted(readings("5/6/2026", date(2026, 7, 1)).days)
    ['dmy', 'mdy']
    """
    if len(text) > MAX_LETTERS:
        return NONE
    plain = _TIME.sub("", _plain(text))
    if _PACKED.fullmatch(plain):
        return _of({YMD: _day(plain[:4], plain[4:6], plain[6:])}, today)
    if serials and (match := _SERIAL.fullmatch(plain)):
        number = int(match[1])
        day = _EPOCH + timedelta(days=number) if number >= _FIRST_SERIAL else None
        return _of({SERIAL: day}, today)
    if plain.isdecimal() and len(plain) == len("140526"):
        return Readings({}, _SIX_DIGITS)
    if match := _NUMBERS.fullmatch(plain):
        return _of_numbers(match[1], match[3], match[4], match[2], today)
    return _of_words(plain, today) if _WORDED.fullmatch(plain) else NONE


def _plain(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text.strip().lower())
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return re.sub(r"[\s\u2010-\u2015\u2212]", lambda m: " " if m[0].isspace() else "-", plain)


def _day(year: str, month: str | int, day: str) -> date | None:
    number = int(year)
    if len(year) <= 2:
        number += 1900 if number >= _TURN else 2000
    try:
        return date(number, int(month), int(day))
    except ValueError:
        return None


def _of(days: Mapping[str, date | None], today: date) -> Readings:
    """Return the readings that are days; of several, those that are likely."""
    there = {order: day for order, day in days.items() if day is not None}
    if len(set(there.values())) > 1:
        likely = {order: day for order, day in there.items() if _is_likely(day, today)}
        return Readings(likely or there, possible=there)
    return Readings(there, possible=there)


def _is_likely(day: date, today: date) -> bool:
    return -1 <= (today - day).days <= _YEARS_BACK * 365.25


def _of_numbers(first: str, second: str, third: str, sign: str, today: date) -> Readings:
    if len(first) > 2:
        ymd = _day(first, second, third) if len(first) == 4 and len(third) <= 2 else None
        return _of({YMD: ymd}, today)
    day_first = _day(third, second, first)
    if sign == "." and day_first and (len(third) == 4 or _is_likely(day_first, today)):
        return _of({DMY: day_first}, today)
    found = {DMY: day_first, MDY: _day(third, first, second)}
    if len(third) <= 2:
        found[YMD] = _day(first, second, third)
    return _of(found, today)


def _of_words(plain: str, today: date) -> Readings:
    """Return the readings of a day whose month is named: the day before or behind the month."""
    pieces = _PIECES.findall(plain)
    numbers = [piece for piece in pieces if piece.isdecimal()]
    words = [p for p in pieces if not p.isdecimal() and p not in _PASSED_OVER]
    if (
        not 1 <= len(numbers) <= 2
        or max(map(len, numbers)) > 4
        or not all(w in _MONTH or w in _WEEKDAY for w in words)
    ):
        return NONE
    found = set(_months_and_weekdays(words))
    days = [_of_named(numbers, month, weekday, today) for month, weekday in found]
    right = [day for day in days if day.days] or days
    return right[0] if len(right) == 1 else NONE


def _months_and_weekdays(words: list[str]) -> Iterator[tuple[int, int | None]]:
    """Yield each way in which one word is the month and the other, if any, a day of the week."""
    if len(words) == 1 and words[0] in _MONTH:
        yield _MONTH[words[0]], None
    if len(words) == 2:
        for month, weekday in (words, words[::-1]):
            if month in _MONTH and weekday in _WEEKDAY:
                yield _MONTH[month], _WEEKDAY[weekday]


def _of_named(numbers: list[str], month: int, weekday: int | None, today: date) -> Readings:
    if len(numbers) == 1:
        return _without_year(numbers[0], month, weekday, today)
    first, second = numbers
    year_first = len(first) == 4
    day = _day(first, month, second) if year_first else _day(second, month, first)
    if day is None or len(second if year_first else first) > 2:
        return NONE
    if weekday is not None and day.weekday() != weekday:
        return Readings({}, _WRONG_WEEKDAY)
    return _of({NAMED: day}, today)


def _without_year(number: str, month: int, weekday: int | None, today: date) -> Readings:
    """Return the last such day, where its day of the week says that it is meant."""
    if len(number) > 2:
        return NONE
    years = (today.year, today.year - 1)
    past = [d for y in years if (d := _day(str(y), month, number)) and (today - d).days >= -1]
    if weekday is None or not past:
        return Readings({}, _NO_YEAR)
    if past[0].weekday() != weekday:
        return Readings({}, _WRONG_WEEKDAY)
    return _of({NAMED: past[0]}, today)
