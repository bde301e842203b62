"""Ctrl-C at any moment of a call: one sentence, exit 130, the season file whole."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import duckdb
import pytest

from sgzone import cli, start
from sgzone.errors import INTERRUPTED, STOPPED, DataError
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.store import Store, open_store
from tests.hard.test_crash import card

MOMENTS = int(os.environ.get("SGZONE_STOPS", "8"))
TOLD = f"{STOPPED}\n"
LOAD = ("load", "card.csv", "--db", "season.duckdb")
# what the console script does, with a word on the pipe as soon as Ctrl-C is answered
SCRIPT = (
    "import sys, os\n"
    "from sgzone.start import start\n"
    "class Told:\n"
    "    def find_spec(self, name, path=None, target=None):\n"
    "        if name == 'sgzone.cli':\n"
    "            os.write(1, b'in\\n')\n"
    "sys.meta_path.insert(0, Told())\n"
    "start()\n"
)


def interrupted(home: Path, after: float) -> tuple[int, str]:
    """Return how a load ends that is interrupted so many seconds after it can be."""
    process = subprocess.Popen(
        [sys.executable, "-c", SCRIPT, *LOAD],
        cwd=home,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"in\n"
    time.sleep(after)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    return process.returncode, err.decode().lstrip("\n")


@pytest.mark.long
def test_at_any_moment(tmp_path: Path) -> None:
    (tmp_path / "card.csv").write_text(card(40, 18, "Ada", 2020))
    begin = time.monotonic()
    process = subprocess.run(
        [sys.executable, "-c", SCRIPT, *LOAD], cwd=tmp_path, capture_output=True, check=True
    )
    length = time.monotonic() - begin
    assert b"2160 rows loaded" in process.stderr
    ends = []
    for moment in range(MOMENTS):
        (tmp_path / "season.duckdb").unlink(missing_ok=True)
        code, err = interrupted(tmp_path, length * moment / MOMENTS)
        ends.append(code)
        if code:
            assert code == INTERRUPTED
            before, told, after = err.partition(TOLD)  # it can come when all is done and said
            assert (told, after) == (TOLD, "")
            assert not before or before.endswith("2160 rows loaded\n\n")
        else:
            assert "2160 rows loaded" in err
        if (tmp_path / "season.duckdb").exists():
            with open_store(tmp_path / "season.duckdb", read_only=True) as store:
                assert len(store.rounds()) in ((0, 40) if code else (40,))
    assert ends[0] == INTERRUPTED


def _half_loaded() -> None:
    try:
        raise KeyboardInterrupt
    except KeyboardInterrupt as stop:
        raise ImportError("Encountered an error while initializing the extension.") from stop


def _half_registered() -> None:
    raise ValueError("reading the schema of the object registered as 'x' failed: KeyboardInterrupt")


@pytest.mark.parametrize("half", [_half_loaded, _half_registered])
def test_a_library_that_turns_it_into_its_own_error(
    half: Callable[[], None], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr("sgzone.cli.main", half)
    try:
        with pytest.raises(SystemExit) as end:
            start.start()
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)
    assert (end.value.code, capsys.readouterr().err) == (INTERRUPTED, TOLD)


def test_an_error_of_ours_is_not_taken_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken() -> None:
        raise ZeroDivisionError

    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr("sgzone.cli.main", broken)
    try:
        with pytest.raises(ZeroDivisionError):
            start.start()
    finally:
        signal.signal(signal.SIGINT, before)


@pytest.mark.parametrize("name", ["KeyboardInterrupt.parquet", "Query interrupted.parquet"])
def test_the_name_of_a_file_is_not_taken_for_it(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(b"no strokes")
    with pytest.raises(DataError, match="cannot be read"), ParquetStrokes([str(tmp_path / name)]):
        pass


NAMED = "Invalid Input Error: reading the object registered as 'x' failed: KeyboardInterrupt"


class Interrupted:
    """A connection in whose queries Ctrl-C came at a moment when DuckDB makes it its own error."""

    def sql(self, text: str, **_: object) -> None:
        raise duckdb.InvalidInputException(NAMED)

    def execute(self, text: str, *_: object) -> None:
        if "TEMP TABLE" not in text:  # the curve, before the strokes are read
            raise duckdb.InvalidInputException(NAMED)

    def register(self, *_: object) -> None:
        pass

    unregister = register

    def close(self) -> None:
        pass


@pytest.mark.repeats
@pytest.mark.parametrize(
    "words",
    [
        ("gained", "--in", "strokes.parquet", "--format", "csv"),
        ("gained", "--in", "strokes.parquet", "--out", "out"),
        ("gained", "--db", "season.duckdb"),
        ("rounds", "--db", "season.duckdb"),
    ],
    ids=lambda words: "-".join(words[:2]),
)
def test_it_is_not_taken_for_a_fault_of_the_file(
    words: tuple[str, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("card.csv").write_text(card(1, 1, "Ada", 2020))
    with open_store("season.duckdb") as store:
        store.load("card.csv")
        store.write_strokes("strokes.parquet")
    init = {ParquetStrokes: ParquetStrokes.__init__, Store: Store.__init__}
    for kind, whole in init.items():

        def then(self: Any, *given: Any, whole: Any = whole, **named: Any) -> None:
            whole(self, *given, **named)
            self._connection.close()
            self._connection = Interrupted()

        monkeypatch.setattr(kind, "__init__", then)
    monkeypatch.setattr(sys, "argv", ["sgzone", *words])
    with pytest.raises(SystemExit) as end:
        cli.main()
    assert (end.value.code, capsys.readouterr().err.lstrip("\n")) == (INTERRUPTED, TOLD)
    assert not Path("out").exists()
