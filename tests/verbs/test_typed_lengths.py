"""Lengths on the command line: bare ones in the units asked for, others in the unit they name."""

from __future__ import annotations

import io

import click
import pandas as pd
import pytest

from sgzone.cli import sgzone
from sgzone.units import FT_PER_YD, M_PER_YD
from sgzone.verbs.options import Length
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, FINE, call

LENGTHS = {
    ("clubs", "--gap"),
    ("compare", "--at"),
    *(("number", f"--{name}") for name in ("from", "to", "step", "on", "deep", "left")),
    *(("number", f"--green-{name}") for name in ("on", "deep", "left", "wide")),
    ("number", "yards"),
}


def ask(*words: str) -> str:
    done = call(*words, "--db", str(demo_file()))
    assert done.code == FINE, done.err
    return done.out


def data(*words: str) -> pd.DataFrame:
    return pd.read_csv(io.StringIO(ask(*words, "--format", "csv")))


def test_every_length_that_is_typed_is_of_the_one_kind() -> None:
    found = {
        (verb, param.opts[0])
        for verb in sgzone.list_commands(click.Context(sgzone))
        if (command := sgzone.get_command(click.Context(sgzone), verb)) is not None
        for param in command.params
        if isinstance(param.type, Length)
    }
    assert found == LENGTHS


METRIC = ("--units", "metric")


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("typed", "more", "yards", "echo"),
    [
        ("96", (), 96, "96 yd: "),
        ("96yd", (), 96, "96 yd: "),
        ("88 m", (), 88 / M_PER_YD, "96 yd (88 m): "),
        ("288ft", (), 288 / FT_PER_YD, "96 yd: "),
        ("88", METRIC, 88 / M_PER_YD, "88 m (96 yd): "),
        ("88m", METRIC, 88 / M_PER_YD, "88 m (96 yd): "),
        ("96 yd", METRIC, 96, "88 m (96 yd): "),
        ("88.5", METRIC, 88.5 / M_PER_YD, "88.5 m (97 yd): "),
    ],
)
def test_a_number_is_read_in_its_unit_and_said_in_both(
    typed: str, more: tuple[str, ...], yards: float, echo: str
) -> None:
    before, after = ask("number", typed, *more), ask("number", *more, typed)
    assert before == after  # wherever the units stand
    assert before.startswith(echo)
    # lengths are rounded on entry
    pd.testing.assert_frame_equal(data("number", typed, *more), data("number", f"{yards}"))


def test_every_length_of_a_sheet_is_in_metres() -> None:
    sheet = data("number", "--from", "60", "--to", "70", *METRIC)
    assert sheet["number_yd"].unique() * M_PER_YD == pytest.approx([60, 65, 70])
    sheet = data("number", "--from", "60", "--to", "70", "--step", "2", *METRIC)
    assert sheet["number_yd"].unique() * M_PER_YD == pytest.approx([60, 62, 64, 66, 68, 70])
    mixed = data("number", "--from", "80yd", "--to", "90 yd", "--step", "5yd", *METRIC)
    assert mixed["number_yd"].unique().tolist() == [80, 85, 90]


def test_a_pin_is_in_metres() -> None:
    pin = ("--green-on", "9.144", "--green-deep", "27.432", "--green-left", "9.144")
    yards = ("--green-on", "10", "--green-deep", "30", "--green-left", "10")
    there = data("number", "96yd", *pin, "--green-wide", "18.288", *METRIC)
    assert there.equals(data("number", "96", *yards, "--green-wide", "20"))
    old = data("number", "96yd", "--on", "9.144", "--deep", "27.432", "--left", "9.144", *METRIC)
    assert old.equals(data("number", "96", *yards))


@pytest.mark.long
def test_a_gap_and_a_number_to_compare_at_are_in_metres() -> None:
    wide = [data("clubs", "--gap", gap, *more) for gap, more in (("12.2", METRIC), ("12.2m", ()))]
    assert wide[0].equals(wide[1])
    assert not wide[0].equals(data("clubs", "--gap", "12.2"))
    assert data("clubs", *METRIC).equals(data("clubs", "--gap", "12"))  # nobody typed it
    at = data("compare", "--by", "club", "--at", "82.296", *METRIC)
    assert at.equals(data("compare", "--by", "club", "--at", "90"))
    assert at["at_yd"].eq(90).all()


@pytest.mark.parametrize(
    ("typed", "more", "said"),
    [
        ("170", METRIC, "170: the number in metres must be from 18.288 to 164.592, such as 89"),
        ("170m", (), "170m: the number in metres must be from 18.288 to 164.592, such as 89"),
        ("181yd", METRIC, "181yd: the number in yards must be from 20 to 180, such as 97"),
        ("88 steps", METRIC, "88 steps: the number in metres must be from 18.288 to 164.592"),
        ("nan", METRIC, "nan: the number in metres must be from"),
    ],
)
def test_what_is_out_of_range_is_said_in_the_unit_that_was_typed(
    typed: str, more: tuple[str, ...], said: str
) -> None:
    done = call("number", typed, *more)
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert said in done.err


def test_the_edge_of_the_zone_is_its_edge_in_metres() -> None:
    assert data("compare", "--by", "club", "--at", "137.16", *METRIC)["at_yd"].eq(150).all()
    assert call("compare", "--by", "club", "--at", "137.17", *METRIC).code == CALL_AT_FAULT
