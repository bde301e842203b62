"""`gained --in` and `summary --in`: the same rows and numbers without a season file."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow.parquet as pq
import pytest
from click.testing import CliRunner, Result

from sgzone.cli import sgzone
from sgzone.errors import CallError, DataError, SgzoneError
from sgzone.resources import data_path
from sgzone.words.digits import DAGGER


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
    parquet = _run("gained", "--in", f"{folder}/strokes/*.parquet", "--format", "csv")
    assert parquet.stderr == ""
    lines = parquet.stdout.splitlines()
    assert len(lines) > 1000
    assert lines[0] == season[0]
    assert sorted(lines) == sorted(season)


@pytest.mark.parametrize("fmt", ["json", "table"])
def test_what_is_gathered_is_the_same(folder: Path, fmt: str) -> None:
    rows = ("--rows", "all") if fmt == "table" else ()
    ask = ("--format", fmt, "--since", "2026-07-01", "--until", "2026-07-20", *rows)
    season = _run("gained", "--db", folder / "s.duckdb", *ask)
    parquet = _run("gained", "--in", folder / "strokes", *ask)
    assert len(season.stdout) > 1000
    assert parquet.stdout == season.stdout


@pytest.mark.parametrize("fmt", ["csv", "json", "table"])
@pytest.mark.parametrize("units", ["yards", "metric"])
def test_nobody_is_a_header_and_said(folder: Path, fmt: str, units: str) -> None:
    strokes, asked = folder / "strokes", ("--player", "Nobody", "--units", units)
    done = _run("gained", "--in", strokes, *asked, "--format", fmt)
    if fmt == "csv":
        assert done.stdout.startswith("player,date,round,hole,shot,lie,")
        assert done.stdout.count("\n") == 1
    elif fmt == "json":
        assert done.stdout.split() == ["[]"]
    else:
        assert "0 strokes against tour.\n" in done.stdout
    assert f"No strokes in {strokes} for this selection." in done.stderr


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


@pytest.fixture(scope="module")
def fitted(folder: Path) -> Path:
    """Return the CSV of a curve that is saved as `squad` in the season file."""
    csv = folder / "squad.csv"
    _run("fit", "--name", "squad", "--out", csv, "--db", folder / "s.duckdb")
    return csv


def _frame(*call: object) -> pd.DataFrame:
    return pd.read_csv(io.StringIO(_run(*call, "--format", "csv").stdout))


def test_a_fitted_benchmark_by_its_name_and_by_its_file(folder: Path, fitted: Path) -> None:
    db, strokes = folder / "s.duckdb", folder / "strokes"
    keys = ["date", "round", "hole", "shot"]
    season = _frame("gained", "--db", db, "--benchmark", "squad").sort_values(keys)
    by_name = _frame("gained", "--in", strokes, "--db", db, "--benchmark", "squad")
    by_file = _frame("gained", "--in", strokes, "--benchmark", fitted).sort_values(keys)
    tour = _frame("gained", "--in", strokes).sort_values(keys)
    assert by_name.sort_values(keys)["gained"].tolist() == pytest.approx(
        season["gained"].tolist(), abs=0, nan_ok=True
    )
    # but for the fringe, whose rule a CSV writes out as knots
    assert np.nanmax(np.abs(by_file["gained"].to_numpy() - season["gained"].to_numpy())) < 0.01
    assert np.nanmax(np.abs(tour["gained"].to_numpy() - season["gained"].to_numpy())) > 0.05


@pytest.mark.parametrize("verb", ["gained", "summary"])
def test_a_fitted_name_without_its_season_file_is_told(
    folder: Path, fitted: Path, verb: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # no sgzone.duckdb here
    monkeypatch.delenv("SGZONE_DB", raising=False)
    with pytest.raises(CallError, match=r"name it with --db, or give its CSV"):
        _run(verb, "--in", folder / "strokes", "--benchmark", "squad")
    with pytest.raises(CallError, match="saved in this season file: squad"):
        _run(
            *(verb, "--in", folder / "strokes", "--benchmark", "squat"),
            *("--db", folder / "s.duckdb"),
        )


@pytest.mark.repeats
@pytest.mark.parametrize(
    "more",
    [
        (),
        ("--by", "band,lie"),
        ("--by", "player,event,part,total", "--level", "0.9"),
        ("--by", "club,swing", "--since", "2026-06-01"),
        ("--by", "course,month", "--event", "competition"),
        ("--by", "total"),
        ("--benchmark", "scratch", "--since", "2031-01-01"),
    ],
    ids=str,
)
def test_the_summary_has_the_same_numbers(folder: Path, more: tuple[str, ...]) -> None:
    db = folder / "s.duckdb"
    season = _run("summary", "--db", db, "--no-measuring", *more, "--format", "csv").stdout
    parquet = _run("summary", "--in", f"{folder}/strokes/*.parquet", *more, "--format", "csv")
    assert parquet.stdout == season
    assert "not rerun under measuring errors" in parquet.stderr


def test_the_summary_of_files_says_what_its_values_rest_on(folder: Path) -> None:
    db, strokes = folder / "s.duckdb", folder / "strokes"
    table = _run("summary", "--in", strokes, "--no-measuring", "--benchmark", "scratch")
    season = _run("summary", "--db", db, "--no-measuring", "--benchmark", "scratch")
    lead, rows, care = table.stdout.split("\n\n")
    assert [lead, rows] == season.stdout.split("\n\n")[:2]
    assert f"0-30 yd{DAGGER} " in rows
    assert care.startswith("Ranges: 8 in 10.\n")
    assert f"{DAGGER} Worked out, not published" in care
    wide = _run("summary", "--in", strokes, "--no-measuring", "--benchmark", "scratch", "--wide")
    assert "derived" in wide.stdout
    assert table.stderr == ""
    nobody = _run("summary", "--in", strokes, "--player", "Nobody")
    assert "No strokes in" in nobody.stderr
    with pytest.raises(CallError, match='no column "weather"'):
        _run("summary", "--in", strokes, "--by", "weather")


def test_a_players_own_curve_is_refused_for_files_too(folder: Path, fitted: Path) -> None:
    """The demo season has one player, so `squad` is that player's own."""
    call = ("--in", folder / "strokes", "--db", folder / "s.duckdb", "--benchmark", "squad")
    with pytest.raises(CallError, match="nothing seems to cost strokes"):
        _run("summary", *call)
    assert len(_frame("gained", *call)) > 1000
