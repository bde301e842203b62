"""A sign of life where somebody looks, and only there."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hard.calls import call, inside
from tests.hard.test_crash import card

pytestmark = pytest.mark.long

SCRIPT = (
    "import sys\n"
    "from sgzone import cli\n"
    "from sgzone.verbs import progress\n"
    "progress.PATIENCE = 0.0\n"
    "sys.argv = ['sgzone', *sys.argv[1:]]\n"
    "cli.main()\n"
)


def ask(home: Path, *words: str, terminal: bool) -> tuple[str, str]:
    """Return standard output (a pipe) and standard error (a terminal or a pipe) of a call."""
    ours, theirs = pty.openpty() if terminal else os.pipe()
    process = subprocess.Popen(
        [sys.executable, "-c", SCRIPT, *words],
        cwd=home,
        stdout=subprocess.PIPE,
        stderr=theirs,
        text=True,
        env={**os.environ, "TERM": "xterm"},
    )
    os.close(theirs)
    out, err = process.communicate()[0], b""
    try:
        while piece := os.read(ours, 65536):
            err += piece
    except OSError:  # a terminal whose other end is closed
        pass
    os.close(ours)
    assert process.returncode == 0, err
    return out, err.decode()


def test_only_on_a_terminal(tmp_path: Path) -> None:
    (tmp_path / "card.csv").write_text(card(60, 18, "Ada", 2020))
    _, err = ask(tmp_path, "load", "card.csv", "--db", "silent.duckdb", terminal=False)
    assert err == "card.csv: shot card, 3240 rows loaded\n"
    _, err = ask(tmp_path, "load", "card.csv", terminal=True)
    assert "Loading card.csv" in err
    assert "3240 rows loaded" in err
    shown, err = ask(tmp_path, "gained", "--format", "csv", terminal=True)
    assert "Reading sgzone.duckdb" in err
    with inside(tmp_path):
        assert shown == call("gained", "--format", "csv").out
    assert shown.startswith("player,date,")
