"""The verbs report and demo, from the outside."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner

from sgzone.cli import sgzone
from sgzone.errors import CallError, DataError
from sgzone.report.write import write_report
from sgzone.season.store import open_store
from tests.report.seasons import ONE_HOLE, card


def _run(*words: str | Path) -> tuple[str, str]:
    done = CliRunner().invoke(sgzone, [str(word) for word in words], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.stdout, done.stderr


@pytest.fixture(scope="module")
def db(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season file of one hole; a report only reads it."""
    folder = tmp_path_factory.mktemp("season")
    _run("load", card(folder, ONE_HOLE), "--db", folder / "s.duckdb")
    return folder / "s.duckdb"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str, str]:
    """Run the demo once: its folder, standard output and standard error."""
    folder = tmp_path_factory.mktemp("demo") / "new"
    return folder, *_run("demo", "--out", folder)


@pytest.mark.long
def test_demo_loads_prints_and_writes_and_can_be_run_again(
    demo: tuple[Path, str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Files that the demo left there itself, by its list, are written again."""
    folder, out, err = demo
    assert "approach 100-150 yd" in out
    assert "clear loss" in out
    assert "season.csv: shot card" in err
    reports = ("report.html", "report.pdf")
    assert all((folder / name).stat().st_size > 100_000 for name in reports)

    def write(again: list[Path], *_: object, **__: object) -> list[Path]:
        for file in again:  # that a report has the same bytes again is tested with the report
            file.write_bytes(b"again")
        return again

    before = {path.name for path in folder.iterdir()}
    monkeypatch.setattr("sgzone.report.write.write_report", write)
    assert _run("demo", "--out", folder)[0] == out
    assert {(folder / name).read_bytes() for name in reports} == {b"again"}
    assert {path.name for path in folder.iterdir()} == before
    assert stat.S_IMODE((folder / "demo.duckdb").stat().st_mode) == 0o600


def test_report_tells_data_from_messages(db: Path, tmp_path: Path) -> None:
    _run("report", tmp_path / "r.html", "--kind", "team", "--db", db)  # is written over
    out, err = _run("report", tmp_path / "r.html", tmp_path / "s.HTML", "--db", db)
    assert out == ""
    assert err.count("Wrote") == 2
    assert (tmp_path / "r.html").read_bytes() == (tmp_path / "s.HTML").read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["r.docx"], "must end in"),
        ([], "needs a FILE"),
        (["r.html", "--kind", "team", "--with-notes"], "is for --export"),
        (["r.html", "--each", "players"], "--kind team"),
        (["r.html", "--names"], "for a team's report"),
        (["r.html", "--against", "2026-05-01..x"], "names no days"),
        (["r.html", "--against", "2026-09-01..2026-01-01"], "is after 2026-01-01"),
    ],
)
def test_what_cannot_be_written_is_the_fault_of_the_call(
    db: Path, tmp_path: Path, words: list[str], said: str
) -> None:
    done = CliRunner().invoke(sgzone, ["report", *words, "--db", str(db)])
    assert isinstance(done.exception, CallError)
    assert said in str(done.exception)
    assert not (tmp_path / "r.html").exists()


def test_what_would_be_lost_is_seen_before_the_work(
    db: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sgzone.report.write._made", None)  # asking it would fail
    (tmp_path / "mine.html").write_text("my own page", encoding="utf-8")
    (tmp_path / "season.pdf").hardlink_to(db)
    curve = "lie,distance,unit,strokes,source\nfairway,10,yd,2.2,me\nfairway,150,yd,3,me\n"
    (tmp_path / "curve.html").write_text(curve, encoding="utf-8")
    (tmp_path / "contents.csv").write_text("my,list\n", encoding="utf-8")
    new = tmp_path / "new.html"
    with open_store(db, read_only=True) as store:
        for path, given, wrong, said in (
            (tmp_path / "mine.html", {}, DataError, "is not a report"),
            (tmp_path / "season.pdf", {}, CallError, "is the season file"),
            (tmp_path / "curve.html", {"benchmark": tmp_path / "curve.html"}, CallError, "is read"),
            (tmp_path / "curve.html", {"against": str(tmp_path / "curve.html")}, CallError, "read"),
            (new, {"export": tmp_path}, DataError, "is not the list of an export"),
            ([new, new], {}, CallError, "Two files would be written"),
        ):
            with pytest.raises(wrong, match=said):
                write_report(path, store, **given)
    assert not new.exists()


def test_kind_paper_and_export_reach_the_files(db: Path, tmp_path: Path) -> None:
    asked = ("--kind", "block", "--paper", "us-letter", "--export", tmp_path / "out")
    out, err = _run("report", tmp_path / "r.pdf", *asked, "--db", db)
    assert out == ""
    assert b"/MediaBox[0 0 612 792]" in (tmp_path / "r.pdf").read_bytes()
    files = list((tmp_path / "out").iterdir())
    assert f"Wrote {len(files)} files into" in err
    assert "contents.csv" in {path.name for path in files}
    assert (tmp_path / "out" / "where.csv").exists()


def test_a_page_too_large_for_a_mail_is_written_and_said(
    db: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = (tmp_path / "r.html", tmp_path / "r.pdf")
    assert "mail" not in _run("report", *files, "--db", db)[1]
    monkeypatch.setattr("sgzone.report.screen.html.MOST_BYTES", 1000)
    said = _run("report", *files, "--kind", "team", "--db", db)[1]
    assert said.count("that mail") == 1  # of the page, not of the PDF
    assert "each group of players" in said


def test_the_fault_of_the_demo_player_is_found(demo: tuple[Path, str, str]) -> None:
    """The player was made weak in the sand; of all parts a sand shot loses most."""
    out, _ = _run("summary", "--db", demo[0] / "demo.duckdb", "--format", "json")
    rows = {row["part"]: row for row in json.loads(out)}
    worst = min(rows, key=lambda part: rows[part]["shrunk_per_shot"])
    assert worst == "sand_0_50"
    assert rows["sand_0_50"]["verdict"] == "clear loss"


@pytest.mark.long
def test_each_player_has_a_file_and_since_is_said_to_mark_the_meeting(
    db: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "players"
    words = ("--kind", "team", "--each", folder, "--since", "2026-05-01", "--db", db)
    said = _run("report", *words)[1]
    [made] = folder.iterdir()
    assert made.suffix == ".html"
    assert f"Wrote 1 file into {folder}, each for its own player alone." in said
    assert "--since marks the meeting of a team; the grid covers all rounds." in said
    both = _run("report", tmp_path / "t.pdf", *words[:4], "--db", db)[1]
    assert sorted(path.suffix for path in folder.iterdir()) == [".html", ".pdf"]
    assert "--since" not in both
