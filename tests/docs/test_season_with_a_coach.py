"""The guide to a season with a coach: every command runs, and says what the page shows of it."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from tests.demo_season import demo_file
from tests.docs.pages import ROOT
from tests.hard.calls import FINE, call, inside

PAGE = ROOT / "docs" / "season-with-a-coach.md"
_STEP = re.compile(r"```sh\n(sgzone [^\n]+)\n```\n\n```text\n(.*?)\n```", re.DOTALL)
LEFT_OUT = "..."


def steps() -> list[tuple[str, list[str]]]:
    """Return each command of the page with the lines it shows."""
    text = PAGE.read_text(encoding="utf-8")
    return [(command, shown.split("\n")) for command, shown in _STEP.findall(text)]


def test_the_page_has_its_steps() -> None:
    text = PAGE.read_text(encoding="utf-8")
    assert len(steps()) == text.count("```sh\n") >= 12
    assert {command.split()[1] for command, _ in steps()} >= {
        *("summary", "why", "agree", "debrief", "practice", "trend", "report"),
    }


@pytest.mark.long
def test_every_command_says_what_the_page_shows(tmp_path: Path) -> None:
    """One after the other on one season file, as a reader would."""
    shutil.copyfile(demo_file(), tmp_path / "sgzone.duckdb")
    with inside(tmp_path):
        for command, shown in steps():
            done = call(*shlex.split(command)[1:])
            assert done.code == FINE, (command, done.err)
            said = [line.rstrip() for line in f"{done.err}{done.out}".rstrip().split("\n")]
            whole = shown[-1] != LEFT_OUT
            wanted = shown if whole else shown[:-1]
            assert said[: len(wanted)] == wanted, command
            assert not whole or len(said) == len(shown), command
