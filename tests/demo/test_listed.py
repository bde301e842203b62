"""A demo's folder: written over as it was left, never what somebody put there or changed."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest

from sgzone.demo.listed import LIST, refuse_changed, write_listed
from sgzone.errors import DataError
from sgzone.writing import Output
from tests.hard.denied import no_rights

ONE = {"a.csv": b"one", "b.pdf": b"two"}
OTHER = {"a.csv": b"one more", "b.pdf": b"two more"}


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_what_it_wrote_is_written_again(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert write_listed(folder, ONE, ["b.pdf"]) == (folder / "a.csv", folder / "b.pdf")
    write_listed(folder, {"c.csv": b"three"})
    write_listed(folder, OTHER, ["b.pdf"])
    assert {name: held for name, held in files(folder).items() if name != LIST} == {
        **OTHER,
        "c.csv": b"three",
    }
    assert (folder / LIST).read_text().count("\n") == 4  # each file once
    assert stat.S_IMODE((folder / "b.pdf").stat().st_mode) == 0o600


@pytest.mark.parametrize("change", ["changed", "put there", "without its list", "a folder"])
def test_what_it_did_not_write_stays(tmp_path: Path, change: str) -> None:
    if change != "put there":
        write_listed(tmp_path, ONE)
    if change == "without its list":
        (tmp_path / LIST).unlink()
    elif change == "a folder":
        (tmp_path / "a.csv").unlink()
        (tmp_path / "a.csv").mkdir()
        (tmp_path / "b.pdf").write_bytes(b"mine")
    else:
        for name in ONE:
            (tmp_path / name).write_bytes(b"mine")
    before = {path.name for path in tmp_path.iterdir()}
    for ask in (lambda: refuse_changed(tmp_path, OTHER), lambda: write_listed(tmp_path, OTHER)):
        with pytest.raises(DataError, match=r"holds a\.csv, b\.pdf, not written by the demo"):
            ask()
    assert {path.name for path in tmp_path.iterdir()} == before
    if change != "a folder":
        held = {"without its list": ONE}.get(change, dict.fromkeys(ONE, b"mine"))
        assert {name: (tmp_path / name).read_bytes() for name in ONE} == held


def test_the_same_bytes_need_no_list(tmp_path: Path) -> None:
    """Nothing is lost by them: so a folder of before there was a list goes on."""
    for name, held in ONE.items():
        (tmp_path / name).write_bytes(held)
    refuse_changed(tmp_path, ONE, ONE)
    write_listed(tmp_path, ONE)
    write_listed(tmp_path, OTHER)
    assert (tmp_path / "a.csv").read_bytes() == b"one more"


def test_a_list_of_somebodys_own_stays(tmp_path: Path) -> None:
    (tmp_path / LIST).write_text("my,list\n")
    with pytest.raises(DataError, match="is not the list of a demo's files"):
        write_listed(tmp_path, ONE)
    assert files(tmp_path) == {LIST: b"my,list\n"}


@pytest.mark.parametrize("written", [0, 1, 2, 3, 4])
def test_stopped_at_any_moment_it_goes_on(
    tmp_path: Path, written: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_listed(tmp_path, ONE)
    real, times = Output.write, []

    def stopping(self: Output, made: bytes | str) -> None:
        if len(times) == written:
            raise KeyboardInterrupt
        times.append(self.path)
        real(self, made)

    with monkeypatch.context() as moment:
        moment.setattr(Output, "write", stopping)
        if written < 4:  # the list, two files, the list
            with pytest.raises(KeyboardInterrupt):
                write_listed(tmp_path, OTHER)
        else:
            write_listed(tmp_path, OTHER)
    third = {name: held + b" and more" for name, held in OTHER.items()}
    write_listed(tmp_path, third)
    assert {name: (tmp_path / name).read_bytes() for name in third} == third


def test_a_folder_that_may_not_be_written_is_said(tmp_path: Path) -> None:
    write_listed(tmp_path, ONE)
    with no_rights(tmp_path), pytest.raises(DataError, match="Permission denied"):
        write_listed(tmp_path, OTHER)
    assert (tmp_path / "a.csv").read_bytes() == b"one"
