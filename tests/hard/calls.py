"""The real command line called inside this process, thousands of times."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from sgzone import cli

FINE, DATA_AT_FAULT, CALL_AT_FAULT = 0, 1, 2


@dataclass(frozen=True)
class Outcome:
    """How a call ended and what it printed."""

    code: int
    out: str
    err: str

    def json(self) -> Any:
        """Return standard output, which must be JSON."""
        return json.loads(self.out)


def call(*words: str | Path) -> Outcome:
    """Run ``sgzone WORDS`` here; whatever it raises but its exit code comes through.

    Asserts what holds for every call: an exit code of 0, 1 or 2, a sentence where it is not 0,
    no traceback, no control character.
    """
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="") for _ in range(2))
    with (
        patch.object(sys, "argv", ["sgzone", *map(str, words)]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        code = FINE
        try:
            cli.main()
        except SystemExit as stop:
            code = int(stop.code or 0)
    return judged(code, *(_text(stream) for stream in (out, err)))


def call_apart(*words: str | Path, cwd: Path, **options: Any) -> Outcome:
    """Run ``sgzone WORDS`` as a process of its own, with the same assertions."""
    done = subprocess.run(
        [sys.executable, "-m", "sgzone", *map(str, words)],
        cwd=cwd,
        **{"capture_output": True, "timeout": 120, **options},
    )
    return judged(done.returncode, done.stdout.decode(), done.stderr.decode())


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    assert isinstance(stream.buffer, io.BytesIO)
    return stream.buffer.getvalue().decode()


def judged(code: int, out: str, err: str) -> Outcome:
    """Return how a call ended, once what holds for every call has been asserted."""
    assert code in (FINE, DATA_AT_FAULT, CALL_AT_FAULT), f"exit {code}: {err}"
    assert "Traceback" not in err, err
    assert code == FINE or err.strip(), "no word of what was wrong"
    dangerous = {sign for sign in out + err if is_control(sign)}
    assert not dangerous, f"control characters reach the terminal: {dangerous}"
    return Outcome(code, out, err)


def is_control(sign: str) -> bool:
    """Return whether a terminal may take this character for a command (newline and tab aside)."""
    return (sign < " " and sign not in "\n\t\r") or "\x7f" <= sign <= "\x9f"


@contextlib.contextmanager
def inside(folder: Path) -> Iterator[Path]:
    """Work in a folder, without anything that a person set in the environment."""
    before = Path.cwd()
    os.chdir(folder)
    try:
        with patch.dict(os.environ):
            for name in ("DB", "UNITS", "BENCHMARK", "PLAYER"):
                os.environ.pop(f"SGZONE_{name}", None)
            yield folder
    finally:
        os.chdir(before)
