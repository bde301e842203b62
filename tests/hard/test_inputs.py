"""Files of a user that are none: pipes, devices, sockets, folders, files without end."""

from __future__ import annotations

import os
import re
import socket
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

import sgzone as sg
from sgzone import inputs
from sgzone.errors import CallError, SgzoneError
from sgzone.inputs import UnreadError, opened, read_bytes, read_text
from sgzone.practice.settings import read_settings
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.strokefiles import parquet_files
from tests.hard.calls import call_apart, inside

CARD = "player,date,hole,shot,lie,distance,result\nAda,2026-05-14,1,1,green,3,holed\n"
SOON = 20  # seconds for a process of its own; what is waited for never ends


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season file and one of everything that is no file."""
    folder = tmp_path_factory.mktemp("inputs")
    (folder / "card.csv").write_text(CARD)
    with sg.open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    for ending in ("csv", "xlsx", "parquet", "toml"):
        os.mkfifo(folder / f"pipe.{ending}")
        (folder / f"folder.{ending}").mkdir()
        (folder / f"zero.{ending}").symlink_to("/dev/zero")
        (folder / f"tty.{ending}").symlink_to("/dev/ptmx")
        (folder / f"kernel.{ending}").symlink_to("/proc/self/environ")
        (folder / f"loop.{ending}").symlink_to(f"loop.{ending}")
        with socket.socket(socket.AF_UNIX) as there, inside(folder):
            there.bind(f"socket.{ending}")
    return folder


KINDS = ("pipe", "folder", "zero", "tty", "loop", "socket", "kernel")
READERS: dict[str, tuple[str, ...]] = {
    "check {}.csv": ("check", "{}.csv"),
    "check {}.xlsx": ("check", "{}.xlsx"),
    "check {}.parquet": ("check", "{}.parquet"),
    "load": ("load", "{}.csv"),
    "settings": ("practice", "--hours", "5", "--settings", "{}.toml"),
    "curve": ("gained", "--benchmark", "{}.csv"),
    "one curve": ("benchmarks", "{}.csv"),
    "practice": ("practice", "--hours", "5", "--benchmark", "{}.csv"),
    "against": ("report", "x.html", "--against", "{}.csv"),
    "strokes": ("gained", "--in", "{}.parquet"),
    "season file": ("rounds", "--db", "{}.csv"),
}


@pytest.mark.repeats
@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", ["pipe", "zero"])
def test_no_verb_waits_for_a_pipe_or_reads_a_device(home: Path, reader: str, kind: str) -> None:
    words = [word.format(kind) for word in READERS[reader]]
    done = call_apart(*words, cwd=home, timeout=SOON)
    assert done.code in (1, 2)
    assert "device or a pipe" in done.out + done.err


@pytest.mark.long
@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", KINDS)
def test_nothing_else_that_is_no_file_is_read_either(home: Path, reader: str, kind: str) -> None:
    words = [word.format(kind) for word in READERS[reader]]
    done = call_apart(*words, cwd=home, timeout=SOON)
    empty_settings = (kind, reader) == ("kernel", "settings")  # which change no assumption
    assert done.code in ((0,) if empty_settings else (1, 2))
    assert "PATH=" not in done.out + done.err


@pytest.mark.parametrize("kind", KINDS[:-1])
def test_each_kind_is_told(home: Path, kind: str) -> None:
    said = {"folder": "this is a folder", "loop": "cannot be opened"}.get(kind, "device or a pipe")
    with pytest.raises(UnreadError, match=said) as refused:
        opened(home / f"{kind}.csv")
    assert refused.value.fix.endswith(".")


def test_a_file_that_only_seems_empty_is_empty(home: Path) -> None:
    """The system makes it up as it is read, perhaps without end."""
    assert Path("/proc/self/environ").read_bytes()
    assert read_bytes(home / "kernel.toml") == b""


def test_what_counts_is_what_was_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A pipe put in the place of the file between the look and the opening is not waited for."""
    path, pipe = tmp_path / "card.csv", tmp_path / "pipe"
    path.write_text(CARD)
    os.mkfifo(pipe)
    as_it_was = path.stat()
    pipe.replace(path)
    monkeypatch.setattr(Path, "stat", lambda *_, **__: as_it_was)
    told: list[UnreadError] = []

    def read() -> None:
        try:
            opened(path)
        except UnreadError as wrong:
            told.append(wrong)

    thread = threading.Thread(target=read, daemon=True)
    thread.start()
    thread.join(SOON)
    assert "device or a pipe" in told[0].wrong


def test_a_file_that_grows_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "log.csv"
    path.write_text(CARD)
    look = os.fstat

    def then_grow(number: int) -> os.stat_result:
        state = look(number)
        with path.open("a") as file:
            file.write("more\n")
        return state

    monkeypatch.setattr(inputs.os, "fstat", then_grow)
    with pytest.raises(UnreadError, match="grew while it was read"):
        read_bytes(path)


def test_a_file_up_to_the_limit_and_not_beyond(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(b" " * 1_000_000)
    assert len(read_bytes(path, 1_000_000, "settings")) == 1_000_000
    path.write_bytes(b" " * 1_000_001)
    with pytest.raises(UnreadError, match="has 1000001 bytes; settings may have 1 MB"):
        read_bytes(path, 1_000_000, "settings")


def test_no_right_to_read(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("x")
    path.chmod(0)
    if os.access(path, os.R_OK):
        pytest.skip("this user may read everything")
    with pytest.raises(UnreadError, match="Permission denied"):
        read_bytes(path)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("recoverable = 0.3".encode("utf-16"), "UTF-16"),
        ("recoverable = 0.3".encode("utf-16-be"), "UTF-16"),
        (b"recoverable = 0.3\x00", "binary data"),
        ('# "Übung"\nrecoverable = 0.3'.encode("latin-1"), "not UTF-8"),
        (b"PK\x03\x04", "a workbook or an archive"),
    ],
)
def test_settings_and_curves_in_other_encodings(tmp_path: Path, data: bytes, said: str) -> None:
    (tmp_path / "own.toml").write_bytes(data)
    (tmp_path / "own.csv").write_bytes(data)
    with pytest.raises(SgzoneError, match=said):
        read_settings(tmp_path / "own.toml")
    with pytest.raises(SgzoneError, match=said):
        sg.benchmark(tmp_path / "own.csv")


def test_a_byte_order_mark_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_bytes(b"\xef\xbb\xbfrecoverable = 0.3\n")
    assert read_settings(path).recoverable == 0.3
    assert read_text(path) == "recoverable = 0.3\n"


NO_SUCH_NAME = re.compile("no file can be called that|No benchmark is called")
NO_NAMES = ("a\0b", "\ud800")


@pytest.mark.parametrize("name", NO_NAMES)
@pytest.mark.parametrize(
    "read",
    [
        lambda name: sg.read_card(f"{name}.csv"),
        lambda name: sg.check_card(f"{name}.xlsx").pipe(_raise_its_problem),
        lambda name: read_settings(f"{name}.toml"),
        lambda name: sg.benchmark(f"{name}.csv"),
        lambda name: parquet_files(f"{name}.parquet"),
        lambda name: parquet_files(f"{name}/*.parquet"),
        lambda name: ParquetStrokes(parquet_files(name)),
        lambda name: _written(lambda store: sg.write_report(f"{name}.html", store)),
        lambda name: _written(lambda store: sg.write_report([], store, export=name)),
        lambda name: _written(lambda store: store.load(f"{name}.csv")),
    ],
)
def test_a_name_that_no_file_can_have(name: str, read: Callable[[str], object]) -> None:
    with pytest.raises(SgzoneError, match=NO_SUCH_NAME):
        read(name)


def _written(write: Callable[[object], object]) -> None:
    with sg.open_store() as store:
        write(store)


def _raise_its_problem(problems: object) -> None:
    raise CallError(str(problems["wrong"][0]))  # type: ignore[index]
