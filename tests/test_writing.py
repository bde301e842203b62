"""A file is whole or not there, what it replaces stays until then, and nobody's own is replaced."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from sgzone.errors import CallError, DataError, SgzoneError
from sgzone.writing import Kind, Output, Reads, headings, make_folder, refuse_twice, unwritten
from tests.hard.denied import no_rights

WORDS = Kind("a list of words", lambda held: held.startswith(b"words"))
DUCKDB = b"\0" * 8 + b"DUCK" + b"\0" * 100


def output(path: Path, **given: object) -> Output:
    return Output(path, **{"kind": WORDS, **given})  # type: ignore[arg-type]


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_it_gets_its_name_at_the_end(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("words old")
    with output(path).file() as half:
        half.write(b"words new")
        assert (path.read_text(), len(names(tmp_path))) == ("words old", 2)
    assert (path.read_text(), names(tmp_path)) == ("words new", ["a.csv"])


def fail(path: Path, stop: type[BaseException]) -> None:
    with output(path).file() as half:
        half.write(b"words ne")
        raise stop("stopped")


@pytest.mark.parametrize("stop", [OSError, KeyboardInterrupt, DataError])
def test_nothing_is_left_of_half_a_file(tmp_path: Path, stop: type[BaseException]) -> None:
    (tmp_path / "a.csv").write_text("words old")
    for name in ("a.csv", "b.csv"):
        with pytest.raises(DataError if stop is OSError else stop):
            fail(tmp_path / name, stop)
    assert names(tmp_path) == ["a.csv"]
    assert (tmp_path / "a.csv").read_text() == "words old"


def test_the_longest_name_and_line_ends_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / ("x" * 251 + ".csv")
    output(path).write("ä,1\r\nb,2\n")
    assert path.read_bytes() == b"\xc3\xa4,1\r\nb,2\n"


def test_a_link_stays_one(tmp_path: Path) -> None:
    """One that leads to nothing leads to the new file, as the shell's own would."""
    (tmp_path / "link").symlink_to("there.csv")
    for text in ("words one", "words two"):
        output(tmp_path / "link").write(text)
        assert (tmp_path / "link").is_symlink()
        assert (tmp_path / "there.csv").read_text() == text
    assert names(tmp_path) == ["link", "there.csv"]


def test_a_private_file_takes_the_place_of_a_link(tmp_path: Path) -> None:
    (tmp_path / "there").write_text("words of another")
    (tmp_path / "link").symlink_to("there")
    output(tmp_path / "link", private=True).write("words")
    assert not (tmp_path / "link").is_symlink()
    assert (tmp_path / "there").read_text() == "words of another"
    assert stat.S_IMODE((tmp_path / "link").stat().st_mode) == 0o600


def test_a_device_is_written_to() -> None:
    output(Path("/dev/null")).write("gone")
    with pytest.raises(DataError, match=r"/dev/full cannot be written \(No space left"):
        output(Path("/dev/full")).write("gone")


def test_a_file_that_may_not_be_written_is_not_replaced(tmp_path: Path) -> None:
    kept, folder = tmp_path / "kept", tmp_path
    kept.write_text("words old")
    with no_rights(folder):
        folder.chmod(0o700)  # the file alone is closed
        with pytest.raises(DataError, match="Permission denied"):
            output(kept).write("words new")
    assert kept.read_text() == "words old"


def test_new_means_new(tmp_path: Path) -> None:
    output(tmp_path / "a", kind=None).write(b"one")
    (tmp_path / "dangling").symlink_to("nowhere")
    (tmp_path / "empty").touch()
    for name in ("a", "dangling", "empty"):
        with pytest.raises(DataError, match="exists already and is not overwritten"):
            output(tmp_path / name, kind=None).write(b"two")
    assert (tmp_path / "a").read_bytes() == b"one"
    assert names(tmp_path) == ["a", "dangling", "empty"]


def late(slow: Output) -> None:
    """Put a file of somebody's own there while the output is made."""
    with slow.file() as half:
        half.write(b"words")
        slow.path.write_bytes(b"somebody's own")


@pytest.mark.parametrize("links", ["as usual", "none on this disk"])
def test_what_came_meanwhile_is_not_replaced(
    tmp_path: Path, links: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    if links != "as usual":
        monkeypatch.setattr(Path, "hardlink_to", no_links)
    for kind in (WORDS, None):
        path = tmp_path / "came"
        with pytest.raises(DataError, match="exists already"):
            late(output(path, kind=kind))
        assert path.read_bytes() == b"somebody's own"
        path.unlink()
        output(path, kind=kind).write("words")
        path.unlink()
    assert names(tmp_path) == []


def test_the_last_moment_is_exclusive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Even between the last look and the name."""
    path = tmp_path / "came"
    real = Path.hardlink_to

    def late(self: Path, half: Path) -> None:
        path.write_bytes(b"somebody's own")
        real(self, half)

    monkeypatch.setattr(Path, "hardlink_to", late)
    with pytest.raises(DataError, match="exists already"):
        output(path, kind=None).write(b"words")
    assert (path.read_bytes(), names(tmp_path)) == (b"somebody's own", ["came"])


def test_another_kind_stays_whatever_its_name(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    for held, said in ((b"player,date\n", "is not a list of words"), (DUCKDB, "is a database")):
        path.write_bytes(held)
        for ask in (output(path).check, lambda: output(path).write("words")):
            with pytest.raises(DataError, match=said):
                ask()
        assert (path.read_bytes(), names(tmp_path)) == (held, ["words.csv"])
    for held in (b"", b"words, and more"):
        path.write_bytes(held)
        output(path).write("words")
    greedy = Kind("anything", lambda _: True)
    path.write_bytes(DUCKDB)
    with pytest.raises(DataError, match="is a database"):
        output(path, kind=greedy).write("words")


def _itself(path: Path) -> Path:
    return path


def _link(path: Path) -> Path:
    other = path.with_name("link")
    other.symlink_to(path.name)
    return other


def _hard_link(path: Path) -> Path:
    other = path.with_name("hard")
    other.hardlink_to(path)
    return other


def _spelling(path: Path) -> Path:
    return path.parent / "below" / ".." / "below" / ".." / path.name


@pytest.mark.parametrize("way", [_itself, _link, _hard_link, _spelling])
def test_what_the_call_reads_stays(tmp_path: Path, way: Callable[[Path], Path]) -> None:
    (tmp_path / "below").mkdir()
    season, curve = tmp_path / "s.duckdb", tmp_path / "curve.csv"
    for path in (season, curve):
        path.write_bytes(b"words")  # of the very kind
    reads = Reads(season, (curve,))
    with pytest.raises(CallError, match="is the season file that is read"):
        output(way(season), reads=reads).write("words new")
    for left in ("link", "hard"):
        (tmp_path / left).unlink(missing_ok=True)
    with pytest.raises(CallError, match="is read by this very call"):
        output(way(curve), reads=reads).write("words new")
    assert (season.read_bytes(), curve.read_bytes()) == (b"words", b"words")


def test_the_log_of_a_season_file_is_nobodys_place(tmp_path: Path) -> None:
    season = tmp_path / "s.duckdb"
    season.write_bytes(DUCKDB)
    (tmp_path / "to").symlink_to("s.duckdb")
    (tmp_path / "other.wal").symlink_to("s.duckdb.wal")
    reads = Reads(tmp_path / "to")
    for name, given in (
        *((name, reads) for name in ("to.wal", "s.duckdb.wal", "other.wal")),
        *((name, Reads()) for name in ("s.duckdb.wal", "other.wal")),  # of any season file
    ):
        for kind in (WORDS, None):
            with pytest.raises(SgzoneError, match=r"is where the database keeps|exists already"):
                output(tmp_path / name, kind=kind, reads=given).write("words")
    assert names(tmp_path) == ["other.wal", "s.duckdb", "to"]


def test_two_outputs_are_two_files(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to("a")
    one, other = output(tmp_path / "a"), output(tmp_path / "b")
    refuse_twice([one, other])
    for twin in (one, output(tmp_path / "link"), output(tmp_path / "." / "a")):
        with pytest.raises(CallError, match="Two files would be written"):
            refuse_twice([other, one, twin])


@pytest.mark.parametrize("umask", [0o022, 0o077])
def test_a_new_file_has_the_mode_of_any_other_and_an_old_one_keeps_its(
    tmp_path: Path, umask: int
) -> None:
    before = os.umask(umask)
    try:
        output(tmp_path / "new").write("words")
        (tmp_path / "old").write_text("words")
        (tmp_path / "old").chmod(0o640)
        output(tmp_path / "old").write("words new")
    finally:
        os.umask(before)
    modes = {name: stat.S_IMODE((tmp_path / name).stat().st_mode) for name in names(tmp_path)}
    assert modes == {"new": 0o666 & ~umask, "old": 0o640}


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give files away")
def test_root_gives_a_file_back_to_its_owner(tmp_path: Path) -> None:
    (tmp_path / "theirs").write_text("words")
    os.chown(tmp_path / "theirs", 1234, 2345)
    output(tmp_path / "theirs").write("words new")
    state = (tmp_path / "theirs").stat()
    assert (state.st_uid, state.st_gid) == (1234, 2345)


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give links away")
@pytest.mark.parametrize("mode", [0o1777, 0o777])
def test_a_link_of_another_user_in_a_shared_folder_is_not_followed(
    tmp_path: Path, mode: int
) -> None:
    shared = tmp_path / "shared"
    shared.mkdir()
    (tmp_path / "mine").write_text("words mine")
    for name, leads in (("full", "../mine"), ("dangling", "../nothing")):
        (shared / name).symlink_to(leads)
        os.lchown(shared / name, 1234, 1234)
        (tmp_path / f"to-{name}").symlink_to(shared / name)
    (shared / "own").symlink_to("../by-own")
    shared.chmod(mode)
    for path in (shared / "full", shared / "dangling", tmp_path / "to-full"):
        with pytest.raises(DataError, match="is a link of another user"):
            output(path).write("words")
    output(shared / "own").write("words")
    shared.chmod(0o755)
    output(shared / "full").write("words")
    assert (tmp_path / "mine").read_text() == "words"
    assert not (tmp_path / "nothing").exists()


def test_a_planted_link_is_not_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody can guess the temporary name; even one who did would not be written through."""
    (tmp_path / "precious").write_text("mine")
    for guess in (f".sgzone-{os.getpid()}.part", ".sgzone-guessed.part"):
        (tmp_path / guess).symlink_to("precious")
    output(tmp_path / "a").write("words")
    monkeypatch.setattr("secrets.token_hex", lambda _: "guessed")
    with pytest.raises(DataError, match="exists already"):
        output(tmp_path / "b").write("words")
    assert (tmp_path / "precious").read_text() == "mine"
    assert (tmp_path / ".sgzone-guessed.part").is_symlink()


WRITER = (
    "import sys\n"
    "from pathlib import Path\n"
    "from sgzone.writing import Kind, Output\n"
    "kind = Kind('words', lambda held: held.startswith(b'words'))\n"
    "for _ in range(50):\n"
    "    Output(Path('a'), kind).write('words ' + sys.argv[1] * 100_000)\n"
)


def test_writers_at_once_leave_one_whole_file(tmp_path: Path) -> None:
    at_once = [
        subprocess.Popen([sys.executable, "-c", WRITER, sign], cwd=tmp_path) for sign in "1234"
    ]
    assert [process.wait(60) for process in at_once] == [0] * 4
    assert names(tmp_path) == ["a"]
    text = (tmp_path / "a").read_text()
    assert text in {"words " + sign * 100_000 for sign in "1234"}


@pytest.mark.parametrize("name", ["a\0b", "\ud800"])
def test_what_cannot_name_a_file(name: str) -> None:
    with pytest.raises(CallError, match="no file can be called that"):
        output(Path(name)).check()


def test_headings_are_read_plainly() -> None:
    assert headings(b'\xef\xbb\xbfLie, Distance ,"unit"\r\n1,2,3\n') == ["lie", "distance", "unit"]
    assert headings(b"") == headings(b"\n") == []
    assert headings(b"\0\xff" * 50_000)  # odd bytes are a heading like any other


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    make_folder(tmp_path / "a" / "b")
    (tmp_path / "file").touch()
    with pytest.raises(DataError, match=r"The demo cannot be written to .*file"):
        make_folder(tmp_path / "file", "The demo")


def test_the_sentence_says_what_where_why_and_the_way_out(tmp_path: Path) -> None:
    ways = {
        (28, tmp_path / "r"): "No space left on device). Make room on that disk, or name",
        (30, tmp_path / "r"): "Read-only file system). Name a folder that you may write into.",
        (2, tmp_path / "no" / "r"): f"There is no folder {tmp_path / 'no'}: make it first, or",
        (21, tmp_path / "r"): "Is a directory). Name another place.",
    }
    for (number, path), said in ways.items():
        told = unwritten(path, OSError(number, ""), "The report")
        assert isinstance(told, DataError)
        assert str(told).startswith(f"The report cannot be written to {path} (")
        assert said in str(told)
    assert str(unwritten(tmp_path, OSError("odd"))) == f"{tmp_path} cannot be written (odd). " + (
        "Name another place."
    )
