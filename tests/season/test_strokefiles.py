"""Which files ``--in`` reads: each once, by its own name."""

from __future__ import annotations

import os
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.errors import CallError, DataError
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.store import open_store
from sgzone.season.strokefiles import parquet_files, passed_over
from tests.season.cardfiles import card_text, write

# as patterns, most of these names stand for the others too
NAMES = (
    *("*.parquet", "**.parquet", "?.parquet", "a?.parquet", "[a].parquet", "[!b].parquet"),
    *("{a,b}.parquet", "a.parquet", "b.parquet", "[*].parquet", "]x[.parquet", "[].parquet"),
    *("it's.parquet", "line\nbreak.parquet", "~.parquet", "$HOME.parquet", "a b.parquet"),
    *("file:x.parquet", "s3:.parquet", "%2a.parquet", "[a-z]*.parquet", "-a.parquet"),
)


@pytest.fixture(scope="module")
def one(tmp_path_factory: pytest.TempPathFactory) -> pa.Table:
    folder = tmp_path_factory.mktemp("one")
    with open_store() as store:
        store.load(write(folder, card_text("1,1,fairway,100", "1,2,green,20")))
        store.write_strokes(folder / "one.parquet")
    return pq.read_table(folder / "one.parquet")


def put(one: pa.Table, path: Path, player: str) -> Path:
    """Write the strokes as those of another player."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as file:
        pq.write_table(one.set_column(0, "player", pa.array([player] * len(one))), file)
    return path


def read(files: list[str]) -> list[str]:
    """Return the player of every stroke, in order."""
    with ParquetStrokes(files) as there:
        return sorted(there.reader("SELECT player FROM strokes", {}).read_all()[0].to_pylist())


@pytest.mark.repeats
@pytest.mark.parametrize("folder", ["plain", "[1]", "a[*]b", "*", "w?", "{x,y}", "[", "]"])
def test_a_name_is_no_pattern(one: pa.Table, tmp_path: Path, folder: str) -> None:
    players = [f"player {place}" for place in range(len(NAMES))]
    for name, player in zip(NAMES, players, strict=True):
        put(one, tmp_path / folder / name, player)
        put(one, tmp_path / "1" / name, "of another folder")  # what [1], * and w? would match
    assert read(parquet_files(str(tmp_path / folder))) == sorted(players * 2)


@pytest.mark.repeats
@pytest.mark.parametrize("name", [name for name in NAMES if not set("*?") & set(name)])
def test_a_file_that_is_there_is_itself(one: pa.Table, tmp_path: Path, name: str) -> None:
    for other in NAMES:
        put(one, tmp_path / "of[1]" / other, other)
    assert read(parquet_files(str(tmp_path / "of[1]" / name))) == [name] * 2


def test_a_pattern_of_the_user_is_one(one: pa.Table, tmp_path: Path) -> None:
    for name in ("a1.parquet", "a2.parquet", "b1.parquet", "*.parquet"):
        put(one, tmp_path / "of[1]" / name, name)
        put(one, tmp_path / "of1" / name, f"{name} of another folder")

    def found(pattern: str) -> list[str]:
        return sorted({Path(file).name for file in parquet_files(f"{tmp_path}/{pattern}")})

    assert found("of[1]/a*.parquet") == ["a1.parquet", "a2.parquet"]
    assert found("of[1]/a[1].parquet") == ["a1.parquet"]
    assert found("of[1]/*.parquet") == ["*.parquet", "a1.parquet", "a2.parquet", "b1.parquet"]
    assert found("of[1]/[*].parquet") == ["*.parquet"]
    assert all("of[1]" in file for file in parquet_files(f"{tmp_path}/of[1]/a*.parquet"))
    assert len(parquet_files(f"{tmp_path}/of*/a*.parquet")) == 4
    assert len(parquet_files(f"{tmp_path}/of*")) == 8  # a folder that a pattern matches is read
    assert all("of[1]" in file for file in parquet_files(f"{tmp_path}/of[1]/**"))
    assert found("**/of[1]/a*.parquet") == ["a1.parquet", "a2.parquet"]
    with pytest.raises(CallError, match="no Parquet file"):
        parquet_files(f"{tmp_path}/of1/**/of1/*.parquet")
    with pytest.raises(CallError, match=r"one \*\*"):
        parquet_files(f"{tmp_path}/**/**")


def test_a_file_reached_twice_counts_once(
    one: pa.Table, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = put(one, tmp_path / "strokes" / "a.parquet", "Ada")
    put(one, tmp_path / "strokes" / "sub" / "b.parquet", "Bea")
    (tmp_path / "strokes" / "link.parquet").symlink_to(first)
    os.link(first, tmp_path / "strokes" / "hard.parquet")
    (tmp_path / "strokes" / "up").symlink_to(tmp_path / "strokes")
    (tmp_path / "strokes" / "again").symlink_to(tmp_path / "strokes" / "sub")
    both = ["Ada"] * 2 + ["Bea"] * 2
    monkeypatch.chdir(tmp_path)
    for pattern in ("strokes", "strokes/../strokes", "strokes/**", "strokes/**/*.parquet", "*"):
        assert read(parquet_files(pattern)) == both, pattern
    assert read(parquet_files("strokes/sub/../*.parquet")) == ["Ada"] * 2


def test_what_other_programs_leave_is_passed_over_and_said(one: pa.Table, tmp_path: Path) -> None:
    put(one, tmp_path / "season=2026" / "part-0000.parquet", "Ada")
    put(one, tmp_path / "CAPITALS.PARQUET", "Bea")
    left = [
        put(one, tmp_path / name, "nobody")
        for name in ("._a.parquet", "_old.parquet", "_temporary/0/part.parquet")
    ]
    for name in ("_SUCCESS", "_metadata", ".part-0000.parquet.crc", "notes.txt"):
        (tmp_path / name).write_text("x")
    put(one, tmp_path / ".sgzone-4711.part", "half")
    (tmp_path / ".git").mkdir()
    assert read(parquet_files(str(tmp_path))) == ["Ada"] * 2 + ["Bea"] * 2
    assert passed_over(str(tmp_path)) == sorted(
        [str(left[0]), str(left[1]), str(tmp_path / "_temporary")]
    )
    assert passed_over(f"{tmp_path}/season=2026") == []
    assert passed_over(f"{tmp_path}/*.parquet") == [str(left[1])]
    assert read(parquet_files(f"{tmp_path}/_*.parquet")) == ["nobody"] * 2  # the pattern says so
    assert read(parquet_files(str(left[0]))) == ["nobody"] * 2
    for half in (f"{tmp_path}/.sgzone-4711.part", f"{tmp_path}/.sgzone*"):
        with pytest.raises(DataError, match="half written"):
            parquet_files(half)


@pytest.mark.parametrize("pattern", ["", "nowhere", "nowhere/*.parquet", "[", "x" * 5000])
def test_nothing_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pattern: str) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(CallError, match="no Parquet file in"):
        parquet_files(pattern)


def test_what_is_no_file_is_refused_and_not_left_out(one: pa.Table, tmp_path: Path) -> None:
    put(one, tmp_path / "a.parquet", "Ada")
    os.mkfifo(tmp_path / "pipe.parquet")
    with pytest.raises(DataError, match="device or a pipe"):
        parquet_files(str(tmp_path))
    (tmp_path / "pipe.parquet").unlink()
    (tmp_path / "gone.parquet").symlink_to("nowhere.parquet")
    with pytest.raises(DataError, match="no such file"):
        parquet_files(f"{tmp_path}/*")


def test_a_folder_that_may_not_be_read_is_not_left_out(one: pa.Table, tmp_path: Path) -> None:
    put(one, tmp_path / "a.parquet", "Ada")
    closed = put(one, tmp_path / "closed" / "b.parquet", "Bea").parent
    closed.chmod(0)
    try:
        if os.access(closed, os.R_OK):
            pytest.skip("this user may read everything")
        with pytest.raises(DataError, match="strokes could be missing"):
            parquet_files(str(tmp_path))
    finally:
        closed.chmod(0o700)


def test_a_name_that_is_not_utf_8(one: pa.Table, tmp_path: Path) -> None:
    put(one, tmp_path / os.fsdecode(b"\xff.parquet"), "Ada")
    with pytest.raises(DataError, match="not UTF-8"):
        parquet_files(str(tmp_path))
