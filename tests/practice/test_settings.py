"""Settings files: read whole, refused whole, every problem at once."""

from __future__ import annotations

import pytest

from sgzone.errors import CallError, DataError
from sgzone.practice.settings import Settings, read_settings

GOOD = """
recoverable = 0.3
rate_hours = 25
largest_change = 0.2
parts = ["putt_0_10", "wedge_50_100"]

[part.wedge_50_100]
recoverable = 0.5
ceiling_hours = 20
"""

BAD = """
recoverable = 1.5
rate_hours = true
speed = 3

[part.wedge_50_100]
floor_hours = -1
ceiling = 4

[part.bunker]
floor_hours = 1
"""


def write(folder, text):
    path = folder / "assumptions.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_good_file(tmp_path):
    settings = read_settings(write(tmp_path, GOOD))
    assert settings.parts == ("wedge_50_100", "putt_0_10")  # the order of the game
    assert settings.of("recoverable_by_part", settings.recoverable) == [0.5, 0.3]
    assert settings.ceiling_by_part == {"wedge_50_100": 20.0}
    assert (settings.rate_hours, settings.largest_change) == (25, 0.2)
    assert settings.floor_hours == Settings().floor_hours


def test_every_problem_at_once(tmp_path):
    with pytest.raises(DataError, match="6 settings") as caught:
        read_settings(write(tmp_path, BAD))
    assert [p.column for p in caught.value.problems] == [
        *("recoverable", "rate_hours", "speed"),
        *("part.wedge_50_100.floor_hours", "part.wedge_50_100.ceiling", "part.bunker"),
    ]
    assert all(p.wrong and p.fix and p.file == "assumptions.toml" for p in caught.value.problems)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("recoverable = ", "no TOML"),
        ("parts = []", "wrong"),
        ('parts = ["x"]', "wrong"),
        ("part = 3", "wrong"),
        ("part.putt_0_10 = 3", "wrong"),
    ],
)
def test_other_faults_are_said_too(tmp_path, text, said):
    with pytest.raises(DataError, match=said):
        read_settings(write(tmp_path, text))


def test_no_such_file(tmp_path):
    with pytest.raises(DataError, match="there is no such file"):
        read_settings(tmp_path / "none.toml")


def test_flags_override_and_are_checked():
    assert Settings().with_flags(recoverable=0.2, rate_hours=None).recoverable == 0.2
    with pytest.raises(CallError, match="from 0 to 1"):
        Settings().with_flags(recoverable=2.0)
