"""Strokes as Parquet files: written from a season file, opened without one."""

from __future__ import annotations

import glob
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType
from typing import Any, Self

import duckdb
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq

from sgzone.errors import CallError, DataError, is_interruption
from sgzone.season.steps import statements
from sgzone.terms import ZONE_FT
from sgzone.writing import Output, make_folder

FLAT_COLUMNS = {
    "player": "VARCHAR",
    "date": "DATE",
    "round": "INTEGER",
    "hole": "INTEGER",
    "shot": "INTEGER",
    "played": "BOOLEAN",
    "lie": "VARCHAR",
    "distance_ft": "DOUBLE",
    "penalty": "INTEGER",
    "end_lie": "VARCHAR",
    "end_distance_ft": "DOUBLE",
    "entered": "BOOLEAN",
    "round_event": "VARCHAR",
}
"""What a file of strokes must hold to be scored, whole holes only; docs/scale.md says the rest."""

MEMORY_LIMIT = "1GB"
BATCH_ROWS = 122_880  # a row group of DuckDB's own
_WRONG_FILE = (
    *(duckdb.IOException, duckdb.InvalidInputException, duckdb.BinderException),
    *(duckdb.ConversionException, duckdb.OutOfMemoryException),
    OSError,  # what arrow makes of any of them once rows are flowing
)


def write_strokes(connection: duckdb.DuckDBPyConnection, path: Path) -> int:
    """Write every stroke of the season file to one new Parquet file; return their number.

    Raises ``DataError`` where ``path`` exists or cannot be written.
    """
    Output(path, None).check()
    [(query, _)] = statements("flat_strokes")
    reader = connection.sql(query, params={"zone_ft": ZONE_FT}).to_arrow_reader(BATCH_ROWS)
    return write_batches(reader, path)


def write_batches(reader: pa.RecordBatchReader, path: Path) -> int:
    """Write record batches to one new Parquet file as they come; return the number of rows.

    The file gets its name only when it is complete. Raises ``DataError`` where it exists or cannot
    be written.
    """
    rows = 0
    there = path.parent.is_dir()
    try:
        make_folder(path.parent)
        with (
            Output(path, None).file() as file,
            pq.ParquetWriter(file, reader.schema, compression="zstd") as out,
        ):
            for batch in reader:
                out.write_batch(batch, row_group_size=BATCH_ROWS)
                rows += batch.num_rows
    except BaseException:
        if not there:
            with suppress(OSError):  # it could not be made, or somebody put something in
                path.parent.rmdir()
        raise
    return rows


def parquet_files(pattern: str) -> list[str]:
    """Return the files of a pattern such as ``strokes/*.parquet``, or of a folder and below it.

    Raises ``CallError`` where there is none.
    """
    folder = Path(pattern).is_dir()
    found = glob.glob(str(Path(pattern, "**", "*.parquet")) if folder else pattern, recursive=True)  # noqa: PTH207
    files = sorted(str(Path(file).resolve()) for file in found if Path(file).is_file())
    if not files:
        raise CallError(
            f"no Parquet file in {pattern}. Name a folder or quote a pattern such as "
            "'strokes/*.parquet'; sgzone backup --strokes FILE writes one from a season file."
        )
    return files


def refuse_lacking(there: Iterable[str], where: str, more: Sequence[str] = ()) -> None:
    """Raise ``DataError`` where strokes lack one of ``FLAT_COLUMNS`` or of ``more``."""
    lacking = [name for name in (*FLAT_COLUMNS, *more) if name not in set(there)]
    if lacking:
        raise DataError(
            f"The strokes in {where} have no column {', '.join(lacking)}. Strokes without a season "
            "file carry their own ends; sgzone backup --strokes FILE writes such a file from a "
            "season file into which the cards were loaded and checked."
        )


class FlatStrokes:
    """Files of strokes, read as they are needed; a context manager.

    ``memory_limit`` is DuckDB's (``256MB``, ``1GB``); what does not fit goes to a temporary
    folder. No other file can be read or written. Raises ``DataError`` where a file is no Parquet
    file or lacks a column.
    """

    def __init__(self, files: Sequence[str], memory_limit: str = MEMORY_LIMIT) -> None:
        self.files = list(files)
        self._memory_limit = memory_limit
        self._spill = TemporaryDirectory(prefix="sgzone-")
        self._connection = duckdb.connect(
            ":memory:",
            config={
                "threads": 2,
                "autoload_known_extensions": False,
                "memory_limit": memory_limit,
                "temp_directory": self._spill.name,
            },
        )
        try:
            self._shut_in()
            self._check()
        except BaseException:
            self.close()
            raise

    def _shut_in(self) -> None:
        names = ", ".join("'" + file.replace("'", "''") + "'" for file in self.files)
        for setting in (
            f"allowed_paths = [{names}]",
            "enable_external_access = false",
            # always hash the curve and stream the strokes past it, whatever is guessed of them
            "disabled_optimizers = 'build_side_probe_side'",
            "lock_configuration = true",
        ):
            self._connection.execute(f"SET {setting}")
        with self._told():
            self._connection.execute(
                f"CREATE VIEW files AS FROM read_parquet([{names}], hive_partitioning = false, "
                "union_by_name = true)"
            )

    def _check(self) -> None:
        there = {name for name, *_ in self._connection.execute("DESCRIBE files").fetchall()}
        refuse_lacking(there, self.files[0])
        self.columns = frozenset(there)
        kinds = ", ".join(
            f"CAST({name} AS {kind}) AS {name}" for name, kind in FLAT_COLUMNS.items()
        )
        with self._told():
            self._connection.execute(
                f"CREATE VIEW strokes AS SELECT * REPLACE ({kinds}) FROM files"
            )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the files and remove what went to the temporary folder."""
        self._connection.close()
        self._spill.cleanup()

    def temp(self, name: str, frame: pd.DataFrame) -> None:
        """Make a table from a pandas frame; ``name`` is a plain word."""
        self._connection.register("temp_frame", frame)
        self._connection.execute(f"CREATE OR REPLACE TEMP TABLE {name} AS FROM temp_frame")
        self._connection.unregister("temp_frame")

    def players(self) -> list[str]:
        """Return the players who have strokes in the files, in alphabetical order."""
        named = self.reader("SELECT DISTINCT player FROM strokes ORDER BY player", {}).read_all()
        return [str(name) for name in named["player"].to_pylist()]

    def reader(self, sql: str, params: Mapping[str, Any]) -> pa.RecordBatchReader:
        """Return the rows of a query as they come, values bound as ``$name``.

        Raises ``DataError``, also while rows are read: a file is damaged, the memory is too small.
        """
        with self._told():
            raw = self._connection.sql(sql, params=dict(params)).to_arrow_reader(BATCH_ROWS)
        return pa.RecordBatchReader.from_batches(raw.schema, self._rows(raw))

    def _rows(self, raw: pa.RecordBatchReader) -> Iterator[pa.RecordBatch]:
        with self._told():
            yield from raw

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except _WRONG_FILE as wrong:
            if is_interruption(wrong):
                raise KeyboardInterrupt from wrong
            reason = str(wrong).splitlines()[0]
            if "out of memory" in reason.lower():
                raise DataError(
                    f"{self._memory_limit} of memory is too little ({reason}). Give more with "
                    "memory_limit, or ask for less: one player, fewer files."
                ) from wrong
            raise DataError(
                f"The strokes in {self.files[0]} ({len(self.files)} in all) cannot be read "
                f"({reason}). Write the damaged file again with sgzone backup --strokes."
            ) from wrong
