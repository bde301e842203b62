"""Written days: every usual order, months named in seven languages, what is asked instead."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.cards.days import NONE, readings, said

TODAY = date(2026, 7, 1)
MAY_14 = date(2026, 5, 14)


@pytest.mark.parametrize(
    "text",
    [
        *("2026-05-14", "2026-5-14", "2026/5/14", "2026.05.14", "20260514", "2026-05-14T09:30"),
        *("14.5.26", "14.05.2026", "14. 5. 2026", "14/5/2026", "5/14/2026", "14-5-26"),
        *("14-May-26", "14 May 2026", "May 14th 2026", "May 14, 2026", "14th of May 2026"),
        *("14. Mai 2026", "14 mai 2026", "14 de mayo de 2026", "den 14 maj 2026", "14 mei 2026"),
        *("14 maggio 2026", "Thu 14 May 2026", "do 14 mei 2026", "jeudi 14 mai 2026", "thu 14 may"),
        *("14.05.2026 09:30:00", "5/14/2026 12:00:00 AM", " 14\u201105\u20112026 "),
    ],
)
def test_one_reading(text: str) -> None:
    assert readings(text, TODAY).only == MAY_14


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("3. März 2026", date(2026, 3, 3)),
        ("1er août 2025", date(2025, 8, 1)),
        ("mar 3 mar 2026", date(2026, 3, 3)),  # a Tuesday in March
        ("mar 12 mayo 2026", date(2026, 5, 12)),  # mar is the day of the week: a month is there
        ("30/12/69", date(2069, 12, 30)),
        ("30.12.70", date(1970, 12, 30)),
        ("26.05.14", MAY_14),  # 2014 is over ten years back
        ("12/5/26", date(2026, 5, 12)),  # 5 December is to come, 2012 is long ago
        ("29 Feb 2024", date(2024, 2, 29)),
    ],
)
def test_the_less_usual(text: str, day: date) -> None:
    assert readings(text, TODAY).only == day


def test_a_choice_is_asked_with_both_readings() -> None:
    found = readings("5/6/2026", TODAY)
    assert found.only is None
    assert found.days == {"dmy": date(2026, 6, 5), "mdy": date(2026, 5, 6)}
    assert found.question("5/6/2026") == "5/6/2026: is this 5 June 2026 or 6 May 2026?"
    assert set(readings("12-5-14", TODAY).days) == {"dmy", "mdy", "ymd"}  # all are long ago


def test_days_to_come_are_no_choice_but_stay_where_they_are_the_only_reading() -> None:
    assert readings("5/6/2026", date(2026, 5, 20)).only == date(2026, 5, 6)
    assert readings("2062-05-14", TODAY).only == date(2062, 5, 14)
    assert readings("5.6.2027", TODAY).only == date(2027, 6, 5)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("14 May", "the year is missing"),
        ("5-Jun", "the year is missing"),
        ("140526", "six digits can be read in three orders"),
        ("Fri 14 May 2026", "the day of the week and the date do not agree"),
        ("fri 14 may", "the day of the week and the date do not agree"),
    ],
)
def test_what_is_a_day_and_cannot_be_read(text: str, wrong: str) -> None:
    found = readings(text, TODAY)
    assert not found.days
    assert found.wrong == wrong


@pytest.mark.parametrize(
    "text",
    [
        *("", "Home", "9:40", "31.2.2026", "14 out 2026", "mar 14", "3/4", "46156", "May 2026"),
        *("x" * 90, "1" * 50 + " may", "14 5 2026", "14/5-2026", "2026-13-01"),
        *("2026-05-14T23:30Z", "2026-05-14 00:00:00+02:00"),
    ],
)
def test_what_is_no_day(text: str) -> None:
    assert not readings(text, TODAY).days


def test_a_spreadsheets_number_is_a_day_where_it_can_be_one() -> None:
    assert readings("46156", TODAY, serials=True).only == MAY_14
    assert readings("46156.0", TODAY, serials=True).only == MAY_14
    assert readings("12000", TODAY, serials=True) == NONE


WRITTEN = ("{0:%d.%m.%Y}", "{0:%Y-%m-%d}", "{0:%d %b %Y}", "{0:%B} {0.day}, {0.year}")


@given(st.integers(-1, 3650), st.sampled_from(WRITTEN))
def test_any_day_of_ten_years_is_read_back(back: int, form: str) -> None:
    day = TODAY - timedelta(days=back)
    assert readings(form.format(day), TODAY).only == day


@given(st.integers(-1, 3650), st.sampled_from(["{0:%d/%m/%Y}", "{0:%m/%d/%y}", "{0:%d-%m-%y}"]))
def test_a_swappable_day_is_never_read_as_another_alone(back: int, form: str) -> None:
    """The right day is always among the readings: what is asked offers it."""
    day = TODAY - timedelta(days=back)
    assert day in readings(form.format(day), TODAY).days.values()


@given(st.text(max_size=70))
def test_nothing_breaks_it(text: str) -> None:
    for day in readings(text, TODAY, serials=True).days.values():
        assert readings(said(day), TODAY).only == day
