"""`gained --in`: the same rows without a season file."""

from __future__ import annotations

import sys
from pathlib import Path

import pyarrow.parquet as pq
import pytest
from click.testing import CliRunner, Result

from sgzone.cli import sgzone
from sgzone.errors import CallError, DataError, SgzoneError
from sgzone.resources import data_path


def _run(*call: object) -> Result:
    result = CliRunner().invoke(sgzone, list(map(str, call)))
    if result.exception:
        raise result.exception
    return result


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("season")
    db = folder / "s.duckdb"
    _run("load", data_path("demo/season.csv"), "--db", db)
    done = _run("backup", folder / "strokes" / "a.parquet", "--strokes", "--db", db)
    assert "no backup" in done.stderr
    return folder


def test_csv_has_the_same_rows(folder: Path) -> None:
    season = _run("gained", "--db", folder / "s.duckdb", "--format", "csv").stdout.splitlines()
    flat = _run("gained", "--in", f"{folder}/strokes/*.parquet", "--format", "csv")
    assert flat.stderr == ""
    lines = flat.stdout.splitlines()
    assert len(lines) > 1000
    assert lines[0] == season[0]
    assert sorted(lines) == sorted(season)


@pytest.mark.parametrize("fmt", ["json", "table"])
def test_what_is_gathered_is_the_same(folder: Path, fmt: str) -> None:
    ask = ("--format", fmt, "--since", "2026-07-01", "--until", "2026-07-20")
    season = _run("gained", "--db", folder / "s.duckdb", *ask)
    flat = _run("gained", "--in", folder / "strokes", *ask)
    assert len(season.stdout) > 1000
    assert flat.stdout == season.stdout


def test_nobody_is_a_header(folder: Path) -> None:
    done = _run("gained", "--in", folder / "strokes", "--player", "Nobody", "--format", "csv")
    assert done.stdout.startswith("player,date,round,hole,shot,lie,")
    assert done.stdout.count("\n") == 1


def test_out_writes_parquet_and_prints_nothing(folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = _run("gained", "--in", folder / "strokes", "--out", out)
    assert done.stdout == ""
    table = pq.read_table(out / "gained.parquet")
    csv = _run("gained", "--in", folder / "strokes", "--format", "csv").stdout
    assert table.column_names == csv.splitlines()[0].split(",")
    assert len(table) == csv.count("\n") - 1
    assert f"{len(table)} strokes" in done.stderr
    with pytest.raises(CallError, match="exists already"):
        _run("gained", "--in", folder / "strokes", "--out", out)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (("gained", "--out", "x"), "go with --in"),
        (("gained", "--engine", "spark"), "go with --in"),
        (("gained", "--in", "x", "--engine", "spark"), "needs --out"),
        (("gained", "--in", "nowhere/*.parquet"), "no Parquet file in"),
        (("backup", "a.duckdb", "--strokes"), "ending in .parquet"),
    ],
)
def test_half_a_call_is_refused(call: tuple[str, ...], said: str) -> None:
    with pytest.raises(SgzoneError, match=said) as refused:
        _run(*call)
    assert refused.value.exit_code == 2


def test_spark_says_what_it_needs(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyspark.errors", None)  # as if it were not installed
    call = ("gained", "--in", folder / "strokes", "--engine", "spark", "--out", tmp_path / "out")
    with pytest.raises(CallError, match=r"pip install 'sgzone\[spark\]'"):
        _run(*call)


def test_values_are_no_strokes(folder: Path, tmp_path: Path) -> None:
    """What ``--out`` wrote cannot be valued again."""
    _run("gained", "--in", folder / "strokes", "--out", tmp_path / "out")
    with pytest.raises(DataError, match="no column played"):
        _run("gained", "--in", tmp_path / "out")
