"""Scripts as a data scientist writes them, run with each library of tables."""

from __future__ import annotations

import json
import runpy
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import polars as pl
import pyarrow as pa
import pyarrow.csv
import pytest

from sgzone.resources import data_path

HERE = Path(__file__).resolve().parent
LIBRARIES: dict[str, tuple[Callable[[str], Any], Callable[[pd.DataFrame], Any]]] = {
    "pandas": (pd.read_csv, lambda frame: frame),
    "polars": (pl.read_csv, pl.from_pandas),
    "arrow": (pyarrow.csv.read_csv, pa.Table.from_pandas),
}


@pytest.fixture(params=LIBRARIES)
def run(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[[str], dict[str, Any]]:
    """Return what runs a script among the demo season's tables, and gives its names."""
    monkeypatch.chdir(tmp_path)
    for name in ("season", "practice_log", "test_blocks", "bag"):
        shutil.copy(data_path(f"demo/{name}.csv"), tmp_path)
    read, as_table = LIBRARIES[request.param]
    given = {"read": read, "as_table": as_table}
    return lambda name: runpy.run_path(str(HERE / f"{name}.py"), given)


@pytest.mark.repeats
def test_first_look(run: Callable[[str], dict[str, Any]]) -> None:
    names = run("first_look")
    assert names["same_kind"]
    assert names["far_out"] < 1e-12
    assert (names["beside"]["size"] == names["beside"]["shots"]).all()
    assert names["worst_first"]
    assert "approach_100_150" in names["losing"]
    assert len(names["wedges"]) > 3
    drawn = json.loads(Path("parts.json").read_text(encoding="utf-8"))
    assert len(next(iter(drawn["datasets"].values()))) == len(names["parts"])


@pytest.mark.repeats
def test_why_and_practice(run: Callable[[str], dict[str, Any]]) -> None:
    names = run("why_and_practice")
    assert names["adds_up"] < 1e-9
    assert names["shares"].sum() == pytest.approx(1)
    assert names["plan"].goal is not None
    assert names["ways"]["verdict"].iloc[0] == "best"
    assert names["rounds"]["n"].sum() == 40
    assert Path("hours.json").exists()


@pytest.mark.repeats
def test_squad(run: Callable[[str], dict[str, Any]]) -> None:
    names = run("squad")
    assert set(names["players"]) == {"parts", "like", "ways", "beside"}
    assert all(sorted(who) == ["Ada", "Bo"] for who in names["players"].values())
    assert set(names["parts"]["benchmark"]) == {"tour"}
    assert names["same"]


@pytest.mark.repeats
def test_own_standard(run: Callable[[str], dict[str, Any]]) -> None:
    names = run("own_standard")
    assert names["nearer"]
    assert names["fair"] > 0
    gained = names["scored"]["gained"]
    values = gained.to_pandas() if hasattr(gained, "to_pandas") else gained
    assert abs(values.mean()) < 0.05
    assert set(names["season"]["rounds"]) == {len(set(names["season"]["date"]))}
