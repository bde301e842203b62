"""The copy of the charts' script: the same text, and nothing but what this user wrote whole."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Callable
from pathlib import Path

import altair as alt
import pandas as pd
import pytest
import vl_convert

from sgzone.report.page import Figure, Page, Panel, Section, Table
from sgzone.report.screen import script as bundle
from sgzone.report.screen.html import to_html
from sgzone.report.screen.script import CACHE, vega_bundle
from tests.shared import FOLDER

SCRIPT = "window.vegaEmbed = () => 'äöü';"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let copies be kept in a new folder, and a short script stand for the long one."""
    where = tmp_path / "cache" / "sgzone"
    monkeypatch.setenv(CACHE, str(where))
    monkeypatch.setattr(vl_convert, "javascript_bundle", lambda: SCRIPT)
    return where


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch, folder: Path) -> list[str]:
    """Return what is made from now on, once for each time it is."""
    made: list[str] = []

    def making() -> str:
        made.append(SCRIPT)
        return SCRIPT

    monkeypatch.setattr(vl_convert, "javascript_bundle", making)
    return made


def asked() -> str:
    """Ask as a process of its own would, and leave no text of these tests behind."""
    vega_bundle.cache_clear()
    try:
        return vega_bundle()
    finally:
        vega_bundle.cache_clear()


def copy_in(folder: Path) -> Path:
    [copy] = folder.iterdir()
    return copy


def signed(script: bytes) -> bytes:
    return hashlib.sha256(script).hexdigest().encode() + b"\n" + script


def test_no_test_keeps_a_copy_in_the_users_own_folder() -> None:
    assert Path(os.environ[CACHE]).parent == Path(os.environ[FOLDER])


def test_the_second_call_reads_what_the_first_one_kept(folder: Path, calls: list[str]) -> None:
    assert [asked(), asked(), asked()] == [SCRIPT] * 3
    assert len(calls) == 1
    copy = copy_in(folder)
    assert copy.read_bytes() == signed(SCRIPT.encode())
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_the_real_script_comes_back_to_the_letter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(CACHE, str(tmp_path))
    made = asked()
    monkeypatch.setattr(vl_convert, "javascript_bundle", None)  # asking it would fail
    assert asked() == made
    assert "vegaEmbed" in made


def test_a_page_is_the_same_bytes_with_a_copy_and_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(CACHE, str(tmp_path))
    chart = alt.Chart(pd.DataFrame({"x": [1, 2]})).mark_point().encode(x=alt.X("x:Q"))
    figure = Figure((Panel("one", chart, "Two points."),), ("Points.",), Table("", (), (), (), ()))
    page = Page("A page", "", (), (Section(figures=(figure,), id="s", title="A section"),))
    vega_bundle.cache_clear()
    cold = to_html(page)
    assert copy_in(tmp_path).is_file()
    vega_bundle.cache_clear()
    monkeypatch.setattr(vl_convert, "javascript_bundle", None)  # asking it would fail
    assert to_html(page) == cold
    assert vega_bundle() in cold


def _half(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes()[:-3])


def _other_text(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes().replace(b"window", b"widnow"))


def _empty(copy: Path) -> None:
    copy.write_bytes(b"")


def _not_utf8(copy: Path) -> None:
    copy.write_bytes(signed(b"\xff\xfe"))


def _ends_its_element(copy: Path) -> None:
    copy.write_bytes(signed(b"</script><script>alert(1)"))


def _ends_it_in_capitals(copy: Path) -> None:
    copy.write_bytes(signed(b"</SCRIPT>"))


def _opens_a_comment(copy: Path) -> None:
    copy.write_bytes(signed(b"<!--"))


def _too_large(copy: Path) -> None:
    copy.write_bytes(signed(b" " * 8_000_000))


def _writable_by_others(copy: Path) -> None:
    copy.write_bytes(signed(b"not ours"))
    copy.chmod(0o620)


def _a_link(copy: Path) -> None:
    other = copy.parent.parent / "other.js"
    other.write_bytes(signed(b"not ours"))
    copy.unlink()
    copy.symlink_to(other)


def _a_pipe(copy: Path) -> None:
    copy.unlink()
    os.mkfifo(copy)


WRONG = (
    *(_half, _other_text, _empty, _not_utf8, _ends_its_element, _ends_it_in_capitals),
    *(_opens_a_comment, _too_large, _writable_by_others, _a_link, _a_pipe),
)


@pytest.mark.parametrize("spoil", WRONG)
def test_a_copy_that_is_not_as_it_was_written_is_made_anew(
    folder: Path, calls: list[str], spoil: Callable[[Path], None]
) -> None:
    asked()
    copy = copy_in(folder)
    spoil(copy)
    assert asked() == SCRIPT
    assert len(calls) == 2
    assert copy.read_bytes() == signed(SCRIPT.encode())
    assert not copy.is_symlink()
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert asked() == SCRIPT
    assert len(calls) == 2


def test_what_a_link_leads_to_is_left_alone(folder: Path) -> None:
    asked()
    _a_link(copy_in(folder))
    asked()
    assert (folder.parent / "other.js").read_bytes() == signed(b"not ours")


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="this system has no owners of files")
def test_a_copy_of_another_user_is_not_read(
    folder: Path, calls: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked()
    me = os.getuid()
    monkeypatch.setattr(os, "getuid", lambda: me + 1)
    assert asked() == SCRIPT
    assert len(calls) == 2


def test_where_nothing_can_be_kept_nothing_is_said(
    tmp_path: Path,
    calls: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    for place in (tmp_path / "file", tmp_path / "file" / "below", "\0", "/proc/nowhere"):
        monkeypatch.setattr(bundle, "_place", lambda place=place: Path(place, "vega.js"))
        assert asked() == SCRIPT
    assert len(calls) == 4
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"
    assert capsys.readouterr() == ("", "")


def test_an_empty_name_keeps_none_and_no_name_means_the_users_folder(
    tmp_path: Path, calls: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setenv(CACHE, "")
    asked()
    assert not list(tmp_path.iterdir())
    monkeypatch.delenv(CACHE)
    asked()
    asked()
    assert len(calls) == 2
    [copy] = list(tmp_path.rglob("*.js"))
    assert copy.parent.name == "sgzone"


def _raises(_: str) -> Path:
    raise RuntimeError("no home")


@pytest.mark.parametrize("told", [_raises, lambda _: Path("~/.cache/sgzone")])
def test_a_user_without_a_home_has_no_copy(
    told: Callable[[str], Path],
    tmp_path: Path,
    calls: list[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv(CACHE)
    monkeypatch.setattr("platformdirs.user_cache_path", told)
    monkeypatch.chdir(tmp_path)
    assert [asked(), asked()] == [SCRIPT] * 2
    assert len(calls) == 2
    assert not list(tmp_path.iterdir())
