"""Strokes as Parquet files: written from a season file, opened without one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Self

import duckdb
import pandas as pd
import pyarrow as pa

from sgzone.cards.columns import columns_of
from sgzone.errors import DataError, is_interruption
from sgzone.harmless import named
from sgzone.season.selection import Selection
from sgzone.season.steps import statements, temp_table
from sgzone.terms import ZONE_FT
from sgzone.writing import Output, make_folder

STROKE_COLUMNS = {
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
    *(duckdb.DataError, duckdb.OperationalError, duckdb.InternalError, duckdb.NotSupportedError),
    *(duckdb.InvalidInputException, duckdb.BinderException),
    OSError,  # what arrow makes of any of them once rows are flowing
)
_PATTERN_SIGN = re.compile(r"[*?\[]")
_FACTORS = {
    column.name: "INTEGER" if column.kind == "integer" else "VARCHAR"
    for column in columns_of("shot")
    if column.kind in ("text", "word", "words", "integer") and column.name not in STROKE_COLUMNS
}
"""Further columns of a card that strokes are grouped by, where they are there."""

_NOT_PLAIN = ("BLOB", "STRUCT", "MAP", "UNION", "VARIANT")


def write_strokes(connection: duckdb.DuckDBPyConnection, path: Path) -> int:
    """Write every stroke of the season file to one new Parquet file; return their number.

    Raises ``DataError`` where ``path`` exists or cannot be written.
    """
    Output(path, None).check()
    [(query, _)] = statements("parquet_strokes")
    reader = connection.sql(query, params={"zone_ft": ZONE_FT}).to_arrow_reader(BATCH_ROWS)
    return write_batches(reader, path)


def write_batches(reader: pa.RecordBatchReader, path: Path) -> int:
    """Write record batches to one new Parquet file as they come; return the number of rows.

    The file gets its name only when it is complete. Raises ``DataError`` where it exists or cannot
    be written.
    """
    import pyarrow.parquet as pq

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


def refuse_lacking(there: Iterable[str], where: str, more: Sequence[str] = ()) -> None:
    """Raise ``DataError`` where strokes lack one of ``STROKE_COLUMNS`` or of ``more``."""
    lacking = [name for name in (*STROKE_COLUMNS, *more) if name not in set(there)]
    if lacking:
        raise DataError(
            f"The strokes in {where} have no column {', '.join(lacking)}. Each stroke must say "
            "where it finished. Load the cards, then write such a file: sgzone backup --strokes "
            "FILE."
        )


def _listed(names: Sequence[str]) -> str:
    """Return names as a list of SQL texts."""
    return "[" + ", ".join("'" + name.replace("'", "''") + "'" for name in names) + "]"


def _as(name: str, kind: str, there: str) -> str:
    """Return the column as the type it must have; a number that is not whole is none."""
    if kind == "INTEGER" and there.startswith(("DOUBLE", "FLOAT", "DECIMAL")):
        finite = "" if there.startswith("DECIMAL") else f"isfinite({name}) AND "
        return f"CASE WHEN {finite}{name} = trunc({name}) THEN CAST({name} AS {kind}) END"
    return f"CAST({name} AS {kind})"


class ParquetStrokes:
    """Files of strokes, read as they are needed; a context manager.

    ``memory_limit`` is DuckDB's (``256MB``, ``1GB``); what does not fit goes to a temporary
    folder. No other file can be read or written. Raises ``DataError`` where a file is no Parquet
    file or lacks a column.
    """

    def __init__(self, files: Sequence[str], memory_limit: str = MEMORY_LIMIT) -> None:
        self.files = list(files)
        self.checked: set[Selection] = set()
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
        literal = [_PATTERN_SIGN.sub(lambda sign: f"[{sign[0]}]", file) for file in self.files]
        names = _listed(literal)
        for setting in (
            # what a pattern leads to is asked for by its own name
            f"allowed_paths = {_listed([*self.files, *literal])}",
            "enable_external_access = false",
            # always hash the curve and stream the strokes past it, whatever is guessed of them
            "disabled_optimizers = 'build_side_probe_side'",
            "lock_configuration = true",
        ):
            self._connection.execute(f"SET {setting}")
        with self._told():
            if literal != self.files:
                self._refuse_other_names(names)
            self._source = f"read_parquet({names}, hive_partitioning = false, union_by_name = true)"
            self._connection.execute(f"CREATE VIEW files AS FROM {self._source}")

    def _refuse_other_names(self, names: str) -> None:
        """Raise ``DataError`` where DuckDB reads a name with signs of a pattern as other files."""
        rows = self._connection.execute(
            f"SELECT file_name FROM parquet_file_metadata({names})"
        ).fetchall()
        if sorted(name for (name,) in rows) != sorted(self.files):
            raise DataError(
                f"The strokes in {named(self.files[0])} ({len(self.files)} in all) cannot be read "
                "under these names: a *, ? or [ in one could mean other files. Give the "
                "files and their folders other names."
            )

    def _check(self) -> None:
        there = {
            name: str(kind)
            for name, kind, *_ in self._connection.execute("DESCRIBE files").fetchall()
        }
        refuse_lacking(there, named(self.files[0]))
        self.columns = frozenset(there)
        typed = {name: kind for name, kind in (STROKE_COLUMNS | _FACTORS).items() if name in there}
        for name, kind in typed.items():
            if there[name].startswith(_NOT_PLAIN) or "[" in there[name]:
                raise DataError(
                    f"The strokes in {named(self.files[0])} have {there[name][:80]} in the column "
                    f"{name}. Write it as plain {'text' if kind == 'VARCHAR' else 'values'}."
                )
        kinds = ", ".join(
            f"{_as(name, kind, there[name])} AS {name}" for name, kind in typed.items()
        )
        self._typed = f"* REPLACE ({kinds})"
        with self._told():
            self._connection.execute(f"CREATE VIEW strokes AS SELECT {self._typed} FROM files")

    def placed(self, column: str) -> str:
        """Return a query of the strokes and where each stands: file, place, value of ``column``."""
        return (
            f"(SELECT {self._typed}, filename AS file, file_row_number + 1 AS place, "
            f"CAST({column} AS VARCHAR) AS value FROM {self._source})"
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the files and remove what went to the temporary folder."""
        self._connection.close()
        self._spill.cleanup()

    def temp(self, name: str, frame: pd.DataFrame) -> None:
        """Make a table from a pandas frame; ``name`` is a plain word."""
        temp_table(self._connection, name, frame)

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
        except (duckdb.Error, OSError) as wrong:
            if is_interruption(wrong):
                raise KeyboardInterrupt from wrong
            # a page that is none of Parquet's is an error of no kind
            if type(wrong) is not duckdb.Error and not isinstance(wrong, _WRONG_FILE):
                raise
            reason = str(wrong).splitlines()[0]
            if "out of memory" in reason.lower():
                raise DataError(
                    f"{self._memory_limit} of memory is too little ({reason}). Give more with "
                    "memory_limit, or ask for less: one player, fewer files."
                ) from wrong
            raise DataError(
                f"The strokes in {named(self.files[0])} ({len(self.files)} in all) cannot be read "
                f"({reason}). Write the damaged file again with sgzone backup --strokes."
            ) from wrong
