"""A file is whole or not there; what it replaces stays until then."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.errors import DataError
from sgzone.writing import unwritten, whole, write_whole
from tests.hard.denied import no_rights


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_it_gets_its_name_at_the_end(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("old")
    with whole(path) as half:
        half.write_text("new")
        assert (path.read_text(), half.parent) == ("old", tmp_path)
    assert (path.read_text(), names(tmp_path)) == ("new", ["a.csv"])


def fail(path: Path, stop: type[BaseException]) -> None:
    with whole(path) as half:
        half.write_text("ne")
        raise stop


@pytest.mark.parametrize("stop", [OSError, KeyboardInterrupt])
def test_nothing_is_left_of_half_a_file(tmp_path: Path, stop: type[BaseException]) -> None:
    (tmp_path / "a.csv").write_text("old")
    for name in ("a.csv", "b.csv"):
        with pytest.raises(stop):
            fail(tmp_path / name, stop)
    assert names(tmp_path) == ["a.csv"]
    assert (tmp_path / "a.csv").read_text() == "old"


def test_the_longest_name_and_line_ends_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / ("x" * 251 + ".csv")
    write_whole(path, "ä,1\r\nb,2\n")
    assert path.read_bytes() == b"\xc3\xa4,1\r\nb,2\n"


def test_a_link_stays_one(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to("there.csv")
    write_whole(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "there.csv").read_text() == "new"


def test_a_device_is_written_to(tmp_path: Path) -> None:
    write_whole(Path("/dev/null"), "gone")
    with pytest.raises(OSError, match="No space left"):
        write_whole(Path("/dev/full"), "gone")


def test_a_file_that_may_not_be_written_is_not_replaced(tmp_path: Path) -> None:
    kept, folder = tmp_path / "kept", tmp_path
    kept.write_text("old")
    with no_rights(folder):
        folder.chmod(0o700)  # the file alone is closed
        with pytest.raises(PermissionError):
            write_whole(kept, "new")
    assert kept.read_text() == "old"


def test_new_means_new(tmp_path: Path) -> None:
    write_whole(tmp_path / "a", b"one", new=True)
    (tmp_path / "dangling").symlink_to("nowhere")
    for name in ("a", "dangling"):
        with pytest.raises(FileExistsError):
            write_whole(tmp_path / name, b"two", new=True)
    assert (tmp_path / "a").read_bytes() == b"one"
    assert names(tmp_path) == ["a", "dangling"]


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
