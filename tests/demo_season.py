"""The demo season as a season file, made once in a run: for whoever only reads it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from sgzone.resources import data_path
from sgzone.season.store import open_store
from tests.shared import FOLDER, shared

TABLES = ("season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv")


@shared
def demo_file() -> Path:
    """Return a season file with card, log, test blocks and bag of the demo."""
    path = Path(os.environ.get(FOLDER) or tempfile.mkdtemp(), "demo.duckdb")
    with open_store(path) as store:
        for name in TABLES:
            store.load(data_path(f"demo/{name}"))
    return path
