"""Every answer in a terminal of 80 columns: one table in one block, colour on verdicts alone."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import struct
import subprocess
import sys
import termios
from functools import cache

import pytest

from sgzone.stats.verdict import GAIN, LOSS, SIDES
from tests.demo_season import demo_file

WIDTH, HEIGHT = 80, 24
CALLS = (
    *("summary", "summary --by month", "counts", "gained", "why", "compare --by swing", "trend"),
    *("trend --split-date 2026-07-20", "clubs", "number 88", "practice --hours 4", "field"),
    *("rounds", "summary --by band,lie", "practice --hours 4 --detail", "summary --plays-like"),
)
"""Answers whose short table is one block."""
COLOUR = re.compile(r"\x1b\[([0-9;]*)m([^\x1b]*)")


@cache
def shown(call: str, **environment: str) -> str:
    """Return what a terminal of 80 columns and 24 rows is sent on standard output."""
    ours, its = pty.openpty()
    fcntl.ioctl(its, termios.TIOCSWINSZ, struct.pack("HHHH", HEIGHT, WIDTH, 0, 0))
    known = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "LINES", "NO_COLOR")}
    words = [sys.executable, "-m", "sgzone", *call.split()]
    words += ["--db", str(demo_file())] if call else []
    with subprocess.Popen(
        words,
        stdout=its,
        stdin=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        env={**known, "TERM": "xterm-256color", **environment},
    ) as asked:
        os.close(its)
        sent = b"".join(iter(lambda: _read(ours), b""))
        assert asked.stderr is not None
        complaint = asked.stderr.read().decode()
    os.close(ours)
    assert asked.returncode == 0, complaint
    return sent.decode().replace("\r\n", "\n")


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:  # the other end is closed
        return b""


def plain(text: str) -> str:
    """Return a text without its colours."""
    return COLOUR.sub(lambda found: found[2], text)


@pytest.mark.repeats
@pytest.mark.parametrize("call", CALLS)
def test_the_table_is_one_block_and_no_line_is_too_long(call: str) -> None:
    lines = plain(shown(call)).splitlines()
    assert max(map(len, lines)) <= WIDTH
    rules = [line for line in lines if line and not line.strip("─ ")]
    assert len(rules) == 1, "a table in blocks has a rule for each"
    assert "…" not in "".join(lines)
    assert lines[0][0].isupper() or lines[0][0].isdigit()  # a sentence answers first


def test_the_summary_fits_one_screen() -> None:
    assert len(plain(shown("summary")).splitlines()) <= HEIGHT


@pytest.mark.long
def test_colour_is_on_verdicts_alone() -> None:
    text = shown("summary")
    coloured = [(code, words) for code, words in COLOUR.findall(text) if re.search(r"\b3\d", code)]
    assert len(coloured) >= 10
    sides = {words.strip(): code for code, words in coloured}
    assert {SIDES[word] for word in sides} == {LOSS}
    assert {sides[word] for word in sides} == {"31"}
    gains = shown("summary --no-measuring --benchmark amateur-90")
    sides = {words.strip(): code for code, words in COLOUR.findall(gains) if code == "32"}
    assert {SIDES[word] for word in sides} == {GAIN}


@pytest.mark.long
def test_without_colour_none_is_sent() -> None:
    text = shown("summary", NO_COLOR="1")
    assert not [code for code, _ in COLOUR.findall(text) if re.search(r"\b[349]\d", code)]
    assert plain(text) == plain(shown("summary"))


@pytest.mark.long
def test_a_pipe_is_sent_no_colour() -> None:
    words = [sys.executable, "-m", "sgzone", "summary", "--db", str(demo_file())]
    assert "\x1b" not in subprocess.run(words, capture_output=True, text=True, check=True).stdout


def test_alone_it_shows_the_way_in() -> None:
    said = shown("")
    assert len(said.splitlines()) < HEIGHT
    for verb in ("demo", "template", "load", "summary", "why", "number", "practice", "--help"):
        assert f"sgzone {verb}" in said
