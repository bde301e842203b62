"""A fork server for the command line: imports once, then one process per call.

A card of the large fuzz run must not pay for the start of Python. The server holds sgzone and what
it needs in memory and forks for every call; the child runs the console script's entry point. It
starts no thread and opens no database itself: a fork would take over neither.

``python -m tests.hard.server`` is the server; ``Server`` starts one and speaks to it.
"""

from __future__ import annotations

import gc
import importlib
import json
import os
import select
import signal
import subprocess
import sys
import traceback
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any, BinaryIO, NoReturn

from tests.hard.calls import Outcome, judged

ONE_THREAD = {
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "JE_ARROW_MALLOC_CONF": "background_thread:false",  # pyarrow's allocator
}
STILL_S = 60.0  # without a tick of processor time: hung, however starved this machine is
BUSY_S = 120.0  # of processor time: far above any call here
TICKS = os.sysconf("SC_CLK_TCK")
ROOT = Path(__file__).parents[2]
NEEDED = (
    *("numpy", "pandas", "pandas.io.formats.style", "pyarrow.parquet", "duckdb", "openpyxl"),
    *("rich.console", "rich.table", "rich.progress", "scipy.stats"),
    *("sgzone.season.store", "sgzone.season.reading", "sgzone.season.backup"),
    *("sgzone.scoring.gained", "sgzone.review.where.summary", "sgzone.review.where.counts"),
    *("sgzone.benchmarks.saved", "sgzone.cards.reader", "sgzone.cards.template"),
)
THEMES = ("files", "gained", "summary", "why", "compare", "clubs", "practice")


class HangError(AssertionError):
    """A call did not end in time."""


class Server:
    """Starts the fork server and sends calls to it; a context manager.

    ``call`` has the signature and the assertions of ``tests.hard.calls.call``; a child that hangs
    is killed and raises ``HangError``; one that dies of a signal fails the assertion on its code.
    """

    def __init__(self) -> None:
        environment = {**os.environ, "PYTHONPATH": str(ROOT)}
        environment.pop("SGZONE_DB", None)
        environment |= ONE_THREAD
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.hard.server"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=environment,
            text=True,
        )

    def __enter__(self) -> Server:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.communicate()  # the end of its input is the end of the server

    def call(self, *words: str | Path, still: float = STILL_S) -> Outcome:
        """Run ``sgzone WORDS`` in the present folder, in a process of its own.

        It hangs where it does nothing for ``still`` seconds, or works for ``BUSY_S``.
        """
        reply = self._ask(words, still=still)
        if reply["killed"]:
            raise HangError(f"no end of {words}")
        return judged(reply["code"], reply["out"], reply["err"])

    def kill_after(self, seconds: float, *words: str | Path) -> bool:
        """Run a call and SIGKILL it at that moment; return whether it was still running."""
        return bool(self._ask(words, kill_after=seconds)["killed"])

    def _ask(self, words: tuple[str | Path, ...], **limit: float) -> dict[str, Any]:
        question = {"words": [*map(str, words)], "folder": str(Path.cwd()), **limit}
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps(question) + "\n")
        self._process.stdin.flush()
        reply: dict[str, Any] = json.loads(self._process.stdout.readline())
        return reply


def serve() -> None:
    """Answer one question per line of standard input until it ends."""
    questions = os.fdopen(os.dup(0), "rb")
    replies = os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDWR)
    os.dup2(nothing, 0)
    os.dup2(nothing, 1)
    (script,) = entry_points(group="console_scripts", name="sgzone")
    enter = script.load()
    # statsmodels takes it up where it is installed, and it starts threads; sgzone needs it nowhere
    sys.modules["polars"] = None  # type: ignore[assignment]
    for name in (*NEEDED, *(f"sgzone.verbs.{theme}" for theme in THEMES)):
        importlib.import_module(name)
    gc.collect()
    gc.freeze()  # or the first collection in each child would copy every page
    for line in iter(questions.readline, b""):
        assert len([*Path("/proc/self/task").iterdir()]) == 1, "threads do not survive a fork"
        reply = _forked(enter, json.loads(line), (questions, replies))
        replies.write(json.dumps(reply).encode() + b"\n")
        replies.flush()


def _forked(enter: Any, question: dict[str, Any], ours: tuple[BinaryIO, ...]) -> dict[str, Any]:
    outputs = [os.memfd_create(name) for name in ("out", "err")]
    child = os.fork()
    if child == 0:
        for stream in ours:
            os.close(stream.fileno())
        _child(enter, question, outputs)
    ended = os.pidfd_open(child)
    if "kill_after" in question:
        killed = not select.select([ended], [], [], question["kill_after"])[0]
    else:
        killed = _hangs(child, ended, question["still"])
    if killed:
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    os.close(ended)
    return {
        "code": os.waitstatus_to_exitcode(status),
        "killed": killed,
        **{name: _written(output) for name, output in zip(("out", "err"), outputs, strict=True)},
    }


def _hangs(child: int, ended: int, still: float) -> bool:
    """Wait for a child; return whether it must be killed."""
    worked = 0.0
    while not select.select([ended], [], [], still)[0]:
        before, worked = worked, _worked(child)
        if worked == before or worked > BUSY_S:
            return True
    return False


def _worked(process: int) -> float:
    """Return the processor time of a process and its threads, in seconds."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / TICKS


def _written(output: int) -> str:
    with os.fdopen(output, "rb") as file:
        file.seek(0)
        return file.read().decode()


def _child(enter: Any, question: dict[str, Any], outputs: list[int]) -> NoReturn:
    """Be the console script: the words, the folder, the streams, the exit code."""
    os.chdir(question["folder"])
    for place, output in enumerate(outputs, start=1):
        os.dup2(output, place)
    sys.argv = ["sgzone", *question["words"]]
    code: object = 0
    try:
        code = enter()
    except SystemExit as stop:
        code = stop.code
    except BaseException:
        traceback.print_exc()
        code = 1
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        code = 120  # as the interpreter ends then
    os._exit(code if isinstance(code, int) else int(code is not None))


if __name__ == "__main__":
    serve()
