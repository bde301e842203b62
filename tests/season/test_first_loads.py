"""A season file that is just being made, deleted, or opened elsewhere: nothing is lost of it."""

from __future__ import annotations

import os
import signal
import stat
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import duckdb
import pytest

from sgzone.errors import DataError
from sgzone.season import making, opening
from sgzone.season.store import open_store
from tests.hard.calls import call, inside
from tests.season.cardfiles import card_text, write

CARD = card_text("1,1,green,2")
TAKES = "import sys, duckdb; duckdb.connect(sys.argv[1]); print('open')"


def taken_elsewhere(path: Path) -> bool:
    """Return whether another process can open the file for writing now."""
    done = subprocess.run([sys.executable, "-c", TAKES, path], capture_output=True)
    return done.returncode == 0


def deleted_at(monkeypatch: pytest.MonkeyPatch, path: Path) -> list[str]:
    """Let another program delete the file right before DuckDB opens it, once; return what opened.

    What DuckDB then makes under that name is taken away too, as by the next deletion.
    """
    opened: list[str] = []
    real = opening._open

    def late(name: str, *rest: Any, **named: Any) -> duckdb.DuckDBPyConnection:
        opened.append(name)
        if name != str(path) or opened.count(name) > 1:
            return real(name, *rest, **named)
        kept = path.with_name("kept")
        os.link(path, kept)  # its number is not given to the next file
        connection = real(name, *rest, **named)
        path.unlink()
        return connection

    monkeypatch.setattr(opening, "_open", late)
    return opened


def test_what_was_deleted_before_it_was_opened_takes_no_rounds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "s"
    open_store(path).close()
    opened = deleted_at(monkeypatch, path)
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))
    assert opened.count(str(path)) == 2
    with open_store(path, read_only=True) as store:
        assert store.players() == ["Ada"]


@pytest.mark.long
def test_a_file_that_is_always_gone_again_is_an_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = opening._made

    def gone(path: Path) -> Any:
        made = real(path)
        path.unlink()
        return made

    monkeypatch.setattr(opening, "_made", gone)
    with pytest.raises(DataError, match="keeps being moved or deleted"):
        open_store(tmp_path / "s")
    assert not list(tmp_path.iterdir())


def test_killed_while_it_is_made_it_is_not_there(tmp_path: Path) -> None:
    code = (
        "import os, sys\n"
        "from sgzone.season import opening\n"
        "from sgzone.season.store import open_store\n"
        "opening.published = lambda *given: os.kill(os.getpid(), 9)\n"
        "open_store(sys.argv[1])\n"
    )
    path = tmp_path / "s"
    done = subprocess.run([sys.executable, "-c", code, path])
    assert done.returncode == -signal.SIGKILL
    assert not path.exists()
    [left] = tmp_path.iterdir()
    assert stat.S_IMODE(left.stat().st_mode) == 0o700
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))


@pytest.mark.parametrize("linked", [True, False])
def test_whoever_is_second_uses_the_file_of_the_first(
    linked: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also on a disk where no file can have two names."""
    path = tmp_path / "s"
    real = opening.new_file

    def slow(*given: Path) -> duckdb.DuckDBPyConnection:
        monkeypatch.setattr(opening, "new_file", real)
        with open_store(path) as store:
            store.load(write(tmp_path, CARD))
        return real(*given)

    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    if not linked:
        monkeypatch.setattr(os, "link", refused)
    monkeypatch.setattr(opening, "new_file", slow)
    with open_store(path) as store:
        assert store.players() == ["Ada"]
        store.execute("DELETE FROM loads")
        store.discard()
    assert path.exists()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert sorted(p.name for p in tmp_path.iterdir()) == ["card.csv", "s"]


@pytest.mark.long
def test_discard_deletes_what_this_store_made_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "s"
    with open_store(path) as store:
        store.discard()
    assert not list(tmp_path.iterdir())
    store.discard()  # closed: nobody holds it any more
    open_store(path).close()
    with open_store(path) as store:  # made by another
        store.discard()
    assert path.exists()
    path.unlink()
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))
        store.discard()
    with open_store(path) as store:
        assert store.players() == ["Ada"]


def test_discard_leaves_what_has_taken_its_name(tmp_path: Path) -> None:
    path, other = tmp_path / "s", tmp_path / "other"
    with open_store(other) as store:
        store.load(write(tmp_path, CARD))
    with open_store(path) as store:
        path.replace(tmp_path / "moved")
        other.replace(path)
        store.discard()
    with open_store(path, read_only=True) as store:
        assert store.players() == ["Ada"]


def test_a_file_moved_while_it_is_open_here_is_not_taken_for_the_next(tmp_path: Path) -> None:
    """DuckDB knows the files that a process has open by their names."""
    path, other = tmp_path / "s", tmp_path / "other"
    open_store(other).close()
    with open_store(path):
        path.replace(tmp_path / "moved")
        other.replace(path)
        with pytest.raises(DataError, match="or was moved while open here"):
            open_store(path)
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))
    assert (tmp_path / "moved").exists()


def test_closing_a_discarded_file_leaves_the_log_of_the_next(tmp_path: Path) -> None:
    path = tmp_path / "s"
    store = open_store(path)
    store.execute("CREATE TABLE mine (a INTEGER)")  # in the log, and to be written when it closes
    store.discard()
    write(tmp_path, "rounds of another program", "s.wal")
    store.close()
    assert (tmp_path / "s.wal").read_text() == "rounds of another program"
    assert not path.exists()


def test_a_second_look_keeps_the_lock_of_the_first(tmp_path: Path) -> None:
    """POSIX drops every lock of a process on a file that it opens once more and closes."""
    path = tmp_path / "s"
    with open_store(path):
        with pytest.raises(DataError, match="open already in this program"):
            open_store(path, read_only=True)
        with open_store(path) as again, ThreadPoolExecutor(1) as pool:
            again.load(write(tmp_path, CARD))
            with pytest.raises(DataError, match="open already in this program"):
                pool.submit(open_store, path).result()
        assert not taken_elsewhere(path)
    with open_store(path, read_only=True):
        open_store(path, read_only=True).close()
        assert not taken_elsewhere(path)
    assert taken_elsewhere(path)


def test_a_second_name_of_an_open_file_is_refused(tmp_path: Path) -> None:
    path, other = tmp_path / "s", tmp_path / "other"
    with open_store(path) as store:
        os.link(path, other)
        with pytest.raises(DataError, match="open already in this program"):
            open_store(other)
        store.load(write(tmp_path, CARD))
        assert not taken_elsewhere(path)
    with open_store(other, read_only=True) as store:
        assert store.players() == ["Ada"]


def test_a_system_that_does_not_show_open_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(making, "_OPEN_FILES", tmp_path / "none")
    with open_store(tmp_path / "s") as store:
        store.load(write(tmp_path, CARD))
        assert store.players() == ["Ada"]


def test_a_first_load_that_comes_to_nothing_leaves_no_file(tmp_path: Path) -> None:
    with inside(tmp_path):
        write(tmp_path, CARD.replace("green", "moon"), "bad.csv")
        assert call("load", "bad.csv").code == 1
        assert [path.name for path in tmp_path.iterdir()] == ["bad.csv"]
        open_store("sgzone.duckdb").close()
        assert call("load", "bad.csv").code == 1
        assert Path("sgzone.duckdb").exists()
