"""How a season file may be called, who may read it, its log, links, and threads that share it."""

from __future__ import annotations

import os
import shutil
import signal
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import duckdb
import pytest

import sgzone
from sgzone.errors import CallError, DataError, SgzoneError
from sgzone.scoring import round_sums
from sgzone.season import making
from sgzone.season.naming import log_of
from sgzone.season.store import open_store
from tests.hard.calls import call, inside
from tests.season.cardfiles import card_text, write

CARD = card_text("1,1,fairway,100", "1,2,green,2")
SPECIAL = (
    *(":memory:", ":memory:season", "md:", "md:season", "motherduck:season", "s3://b/season"),
    *("https://example.org/s.duckdb", "ducklake:s", "sqlite:s.db", "postgres:dbname=s", "file:s"),
)
KILLED = (
    "import os, sys\n"
    "from sgzone.season.store import open_store\n"
    "store = open_store(sys.argv[1])\n"
    "store.load(sys.argv[2])\n"
    "os.kill(os.getpid(), 9)\n"
)


def killed_after_loading(path: Path, card: Path) -> None:
    """Load a card and be killed: it is in the log, not yet in the file."""
    done = subprocess.run([sys.executable, "-c", KILLED, path, card])
    assert done.returncode == -signal.SIGKILL
    assert log_of(path).stat().st_size


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.repeats
@pytest.mark.parametrize("name", SPECIAL)
def test_what_is_no_file_is_refused_by_every_way_in(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with inside(tmp_path):
        write(tmp_path, CARD)
        for words in (("load", "card.csv"), ("rounds",), ("gained",), ("fit", "--name", "own")):
            done = call(*words, "--db", name)
            assert (done.code, done.out, done.err.count("\n")) == (2, "", 1)
            assert "Name a file" in done.err
        monkeypatch.setenv("SGZONE_DB", name)
        assert call("load", "card.csv").code == 2
        monkeypatch.delenv("SGZONE_DB")
        for given in (name, Path(name)):
            with pytest.raises(CallError, match="Name a file"):
                sgzone.open_store(given)
        with open_store() as store, pytest.raises(CallError, match="Name a file"):
            store.backup(name)
        assert [path.name for path in tmp_path.iterdir()] == ["card.csv"]


@pytest.mark.repeats
@pytest.mark.parametrize("name", ["C:s", "a#b", "~me", "it's", 'a"b', "*.db", "system.duckdb"])
def test_what_is_only_an_odd_name_is_a_file(name: str, tmp_path: Path) -> None:
    with inside(tmp_path):
        write(tmp_path, CARD)
        assert call("load", "card.csv", "--db", name).code == 0
        assert Path(name).is_file()
        assert len(call("rounds", "--db", name, "--format", "json").json()) == 1
        whole = tmp_path / "s3:x"
        assert call("load", "card.csv", "--db", whole).code == 0
        assert whole.is_file()


@pytest.mark.parametrize("name", ["a\\b", "s?x=1", "f?/s"])
def test_a_name_that_duckdb_reads_otherwise_is_refused(name: str, tmp_path: Path) -> None:
    for folder in ("a", "f?"):
        (tmp_path / folder).mkdir()
    with pytest.raises(DataError, match="cannot name a season file"):
        open_store(tmp_path / name)
    with open_store() as store, pytest.raises(DataError, match="cannot name a season file"):
        store.backup(tmp_path / name)
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["a", "f?"]


NUL: dict[str, Callable[[str], object]] = {
    "open": open_store,
    "read": lambda name: open_store(name, read_only=True),
    "load": lambda name: open_store().load(name),
    "backup": lambda name: open_store().backup(name),
    "strokes": lambda name: open_store().write_strokes(name),
    "check": sgzone.check_card,
    "card": sgzone.read_card,
}


@pytest.mark.parametrize("way", NUL)
def test_a_nul_in_a_name_is_refused(way: str, tmp_path: Path) -> None:
    with pytest.raises(CallError, match=r's\\x00\.csv": no file can be called that'):
        NUL[way](str(tmp_path / "s\0.csv"))


@pytest.mark.long
def test_a_new_file_its_log_and_its_backup_are_the_owners_alone(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        path = tmp_path / "s"
        open_store(path).close()
        assert mode(path) == 0o600
        killed_after_loading(path, write(tmp_path, CARD))
        assert mode(tmp_path / "s.wal") == 0o600
        with open_store(path) as store:
            assert store.players() == ["Ada"]
            store.backup(tmp_path / "copy")
        assert mode(tmp_path / "copy") == 0o600
        assert sorted(p.name for p in tmp_path.iterdir()) == ["card.csv", "copy", "s"]
    finally:
        os.umask(before)


@pytest.mark.long
def test_a_file_that_others_may_read_stays_so_and_so_is_its_log(tmp_path: Path) -> None:
    path = tmp_path / "s"
    open_store(path).close()
    path.chmod(0o640)
    killed_after_loading(path, write(tmp_path, CARD))
    assert [mode(path), mode(tmp_path / "s.wal")] == [0o640, 0o640]


def test_a_refused_load_leaves_no_log(tmp_path: Path) -> None:
    path = tmp_path / "s"
    with open_store(path) as store:
        with pytest.raises(DataError):
            store.load(write(tmp_path, CARD.replace("green", "moon")))
        with pytest.raises(SgzoneError):
            store.rename("Ada", "Bo")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["card.csv", "s"]


@pytest.mark.long
def test_a_link_to_a_season_file_stays_one(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    path, link = tmp_path / "far" / "s", tmp_path / "link"
    open_store(path).close()
    link.symlink_to(path)
    killed_after_loading(link, write(tmp_path, CARD))
    assert not (tmp_path / "link.wal").exists()  # whoever opens the file itself needs it there
    with open_store(path, read_only=True) as store:
        assert store.players() == ["Ada"]
    assert link.is_symlink()


def test_a_link_to_nowhere_is_not_followed(tmp_path: Path) -> None:
    with inside(tmp_path):
        write(tmp_path, CARD)
        Path("link").symlink_to("nowhere")
        open_store("s").close()
        for words in (("load", "card.csv"), ("rounds",), ("fit", "--name", "own")):
            done = call(*words, "--db", "link")
            assert (done.code, done.err.count("\n")) == (1, 1)
            assert "is a link to nowhere, where there is no season file" in done.err
        done = call("backup", "link", "--db", "s")
        assert (done.code, "exists already" in done.err) == (1, True)
        assert Path("link").is_symlink()
        assert not Path("nowhere").exists()


def test_a_backup_never_replaces_what_came_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copied = making.published

    def later(made: Path, path: Path) -> bool:
        path.write_text("mine")
        return copied(made, path)

    monkeypatch.setattr("sgzone.season.backup.published", later)
    with open_store(tmp_path / "s") as store, pytest.raises(DataError, match="exists already"):
        store.backup(tmp_path / "copy")
    assert (tmp_path / "copy").read_text() == "mine"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["copy", "s"]


def test_no_link_that_was_laid_out_is_followed_by_a_backup(tmp_path: Path) -> None:
    path, prey = tmp_path / "s", write(tmp_path, "mine", "prey")
    (tmp_path / f".copy.{os.getpid()}.part").symlink_to(prey)
    (tmp_path / f".sgzone-{os.getpid()}.part").symlink_to(prey)
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))
        store.backup(tmp_path / "copy")
    assert prey.read_text() == "mine"
    with open_store(tmp_path / "copy", read_only=True) as store:
        assert store.players() == ["Ada"]


@pytest.mark.long
def test_a_backup_put_in_the_place_of_a_file_with_a_log(tmp_path: Path) -> None:
    path, log = tmp_path / "s", tmp_path / "s.wal"
    with open_store(path) as store:
        store.backup(tmp_path / "copy")
    killed_after_loading(path, write(tmp_path, CARD))
    shutil.copy(path, tmp_path / "before")
    shutil.copy(tmp_path / "copy", path)
    held = path.read_bytes(), log.read_bytes()
    with inside(tmp_path):
        for words in (("rounds",), ("load", "card.csv"), ("backup", "more")):
            done = call(*words, "--db", "s")
            assert (done.code, done.out, done.err.count("\n")) == (1, "", 1)
            assert "s.wal is the log of another file than s is now" in done.err
            assert (path.read_bytes(), log.read_bytes()) == held
        log.replace("aside")
        assert call("rounds", "--db", "s", "--format", "json").json() == []
        shutil.copy("before", path)
        Path("aside").replace(log)
        assert len(call("rounds", "--db", "s", "--format", "json").json()) == 1


def test_a_log_that_names_no_file_is_not_taken_for_that_of_a_new_one(tmp_path: Path) -> None:
    """DuckDB before 2.0 made files, unless told otherwise, whose logs do not say whose they are."""
    path, old = tmp_path / "s", str(tmp_path / "old")
    for name, version in ((old, "v1.0.0"), (str(path), "latest")):
        with duckdb.connect(name, config={"storage_compatibility_version": version}) as file:
            file.execute("CREATE TABLE t (a INTEGER)")
    code = "import sys, os, duckdb; c = duckdb.connect(sys.argv[1]); c.execute(sys.argv[2]); "
    code += "os.kill(os.getpid(), 9)"
    subprocess.run([sys.executable, "-c", code, old, "INSERT INTO t VALUES (1)"])
    (tmp_path / "old.wal").replace(tmp_path / "s.wal")
    for read_only in (True, False):
        with pytest.raises(DataError, match=r"s\.wal is the log of another file"):
            open_store(path, read_only=read_only)


def test_a_log_without_its_file_is_not_thrown_away(tmp_path: Path) -> None:
    path, log = tmp_path / "s", tmp_path / "s.wal"
    open_store(path).close()
    killed_after_loading(path, write(tmp_path, CARD))
    path.replace(tmp_path / "moved")
    held = log.read_bytes()
    with inside(tmp_path):
        done = call("load", "card.csv", "--db", "s")
        assert (done.code, "its log s.wal, which may hold rounds" in done.err) == (1, True)
        assert (path.exists(), log.read_bytes()) == (False, held)
        Path("moved").replace(path)
        assert len(call("rounds", "--db", "s", "--format", "json").json()) == 1


def test_a_damaged_log_is_named(tmp_path: Path) -> None:
    path, log = tmp_path / "s", tmp_path / "s.wal"
    open_store(path).close()
    killed_after_loading(path, write(tmp_path, CARD))
    data = bytearray(log.read_bytes())
    data[len(data) // 2] ^= 1
    log.write_bytes(data)
    with pytest.raises(DataError, match=r"damaged, or its log s\.wal is"):
        open_store(path, read_only=True)
    assert log.read_bytes() == bytes(data)


def in_threads(work: Callable[[int], object]) -> None:
    """Do a piece of work in eight threads at once; what one of them raises comes through."""
    together = threading.Barrier(8)

    def one(n: int) -> None:
        together.wait()
        for _ in range(5):
            work(n)

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(one, range(8)))


def test_a_store_is_of_the_thread_that_opened_it(tmp_path: Path) -> None:
    card = write(tmp_path, CARD.replace("Ada", "Bo"))
    with open_store(tmp_path / "s") as store:
        store.load(write(tmp_path, CARD, "first.csv"))
        ways: tuple[Callable[[], object], ...] = (
            *(lambda: store.load(card), lambda: store.rename("Ada", "Eve"), store.rounds),
            *(lambda: store.delete("Ada", "2026-05-14"), store.players, store.release),
            *(lambda: store.backup(tmp_path / "copy"), lambda: round_sums(store, by=["part"])),
            *(lambda: store.write_strokes(tmp_path / "p"), lambda: store.refuse_unknown("Ada")),
            *(lambda: store.execute("DELETE FROM rounds"), store.discard),
        )

        def refused(n: int) -> None:
            for way in ways:
                with pytest.raises(CallError, match="in another thread"):
                    way()

        in_threads(refused)
        assert store.players() == ["Ada"]
    assert sorted(p.name for p in tmp_path.iterdir()) == ["card.csv", "first.csv", "s"]


@pytest.mark.long
def test_eight_threads_read_through_a_store_each(tmp_path: Path) -> None:
    """They ask by different curves, through temporary tables of one name."""
    curves = ("tour", "scratch", "amateur-80", "amateur-90")
    path = tmp_path / "s"
    with open_store(path) as store:
        store.load(write(tmp_path, CARD))
        total = {c: round_sums(store, c, by=["part"])["total"].sum() for c in curves}

    def asked(n: int) -> None:
        with open_store(path, read_only=True) as store:
            curve = curves[n % len(curves)]
            assert round_sums(store, curve, by=["part"])["total"].sum() == total[curve]

    in_threads(asked)


@pytest.mark.long
def test_eight_threads_load_through_a_store_each(tmp_path: Path) -> None:
    """Each card is in the file, or was said to have failed."""
    path = tmp_path / "s"
    for n in range(8):
        write(tmp_path, CARD.replace("Ada", f"Player {n}"), f"card{n}.csv")
    loaded = set()

    def load(n: int) -> None:
        try:
            with open_store(path) as store:
                store.load(tmp_path / f"card{n}.csv")
        except DataError as wrong:
            assert "open already in this program" in str(wrong)  # noqa: PT017
        else:
            loaded.add(f"Player {n}")

    in_threads(load)
    with open_store(path, read_only=True) as store:
        assert store.players() == sorted(loaded) != []
        held = store.frame("SELECT count(DISTINCT round_key) AS n, count(*) AS m FROM strokes")
        assert held.to_numpy().tolist() == [[len(loaded), 2 * len(loaded)]]
