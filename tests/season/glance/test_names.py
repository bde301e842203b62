"""Names read for a shell: only sound ones, and none where the file is none."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pandas as pd

from sgzone.season.glance.names import names_in
from sgzone.season.store import open_store

ROWS = [(1, "rough", 40), (2, "green", 9)]


def season(path: Path, *players: str) -> Path:
    rows = [
        {"player": player, "date": "2026-05-14", "hole": 1, "shot": shot, "lie": lie, "distance": d}
        for player in players
        for shot, lie, d in ROWS
    ]
    with open_store(path) as store:
        store.load(pd.DataFrame(rows))
    return path


def test_players_in_order_and_fitted_curves(tmp_path: Path) -> None:
    file = season(tmp_path / "s.duckdb", "Zoë Marchbanks", "Ada Quill")
    assert names_in(file, "players") == ["Ada Quill", "Zoë Marchbanks"]
    assert names_in(file, "fitted") == []


def test_none_where_the_file_is_none(tmp_path: Path) -> None:
    (tmp_path / "text.duckdb").write_text("no season file")
    os.mkfifo(tmp_path / "pipe.duckdb")
    for name in ("missing.duckdb", "text.duckdb", "pipe.duckdb", "", "a\0b"):
        assert names_in(tmp_path / name, "players") == []


def test_it_is_quick_because_pandas_stays_out() -> None:
    code = (
        "import sys; from sgzone.season.glance.names import names_in; "
        "sys.exit(bool({'pandas', 'numpy', 'pyarrow'} & {*sys.modules}))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
