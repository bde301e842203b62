"""Written distances."""

from __future__ import annotations

import pytest

from sgzone.units import parse_distance, split_distance


@pytest.mark.parametrize(
    ("text", "default", "feet"),
    [
        ("87", "yd", 261.0),
        (" 14 ", "ft", 14.0),
        ("87.5yd", "ft", 262.5),
        ("87 y", "ft", 261.0),
        ("87 Yards", "ft", 261.0),
        ("137.16 m", "ft", 450.0),
        ("100", "m", 328.083989501),
        ("14 ft", "yd", 14.0),
        ("14'", "yd", 14.0),
        (".5 ft", "yd", 0.5),
        ("7'10\"", "yd", 7.833333333),
        ("7’10”", "yd", 7.833333333),
        ("7' 10", "yd", 7.833333333),
        ("7 ft 10 in", "yd", 7.833333333),
        ("7'0\"", "yd", 7.0),
    ],
)
def test_reads(text: str, default: str, feet: float) -> None:
    assert parse_distance(text, default) == feet


@pytest.mark.parametrize(
    "text", ["", "yd", "-5", "+5", "1e3", "nan", "87 miles", "7'12\"", "87,5", "8 7", "7 ft 10 yd"]
)
def test_refuses(text: str) -> None:
    with pytest.raises(ValueError, match=r"not a distance|comma|12 inches"):
        parse_distance(text, "yd")


def test_says_which_unit_was_written() -> None:
    assert split_distance("87") == (87.0, None)
    assert split_distance("7'6\"") == (7.5, "ft")
