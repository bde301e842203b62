"""Loading a card, beside reading it into a table and checking nothing."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import duckdb
import pandas as pd
import polars as pl

from sgzone.errors import DataError
from sgzone.season.store import open_store
from tests.bench.material import Answer, Material


def plain_clean(material: Material) -> Answer:
    """Read the clean card into a table of a file with DuckDB's read_csv."""
    return _plain(material.clean)


def plain_dirty(material: Material) -> Answer:
    """Read the dirty card into a table of a file with DuckDB's read_csv."""
    return _plain(material.dirty)


def _plain(card: Path) -> Answer:
    with TemporaryDirectory() as folder:
        target = str(Path(folder, "plain.duckdb"))
        with duckdb.connect(target, config={"threads": 2}) as connection:
            connection.execute(f"CREATE TABLE card AS FROM read_csv('{card}')")
            row = connection.execute("SELECT count(*) FROM card").fetchone()
    assert row is not None
    return int(row[0]), 0.0


def polars_clean(material: Material) -> Answer:
    """Read the clean card into a polars frame."""
    return len(pl.read_csv(material.clean, infer_schema_length=None)), 0.0


def pandas_clean(material: Material) -> Answer:
    """Read the clean card into a pandas frame."""
    return len(pd.read_csv(material.clean, low_memory=False)), 0.0


def load_clean(material: Material) -> Answer:
    """Check the clean card and load it into a new season file."""
    with TemporaryDirectory() as folder, open_store(Path(folder, "s.duckdb")) as store:
        return store.load(material.clean).rows, 0.0


def load_typed(material: Material) -> Answer:
    """The same card as people type it: other headers and words, days first, blanks."""
    with TemporaryDirectory() as folder, open_store(Path(folder, "s.duckdb")) as store:
        return store.load(material.typed).rows, 0.0


def load_dirty(material: Material) -> Answer:
    """Refuse the dirty card and name every problem in it."""
    with TemporaryDirectory() as folder, open_store(Path(folder, "s.duckdb")) as store:
        try:
            store.load(material.dirty)
        except DataError as refused:
            return len(refused.problems), 0.0
    raise AssertionError("the dirty card was loaded")
