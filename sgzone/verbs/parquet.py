"""`gained --in`: strokes in Parquet files, valued without a season file, by DuckDB or by Spark."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError, DataError
from sgzone.harmless import csv_text, named
from sgzone.season.strokefiles import parquet_files, passed_over
from sgzone.verbs.idle import refuse_idle, typed
from sgzone.verbs.options import Ask
from sgzone.verbs.person.settings import blamed
from sgzone.verbs.show import OF_TABLES, say

if TYPE_CHECKING:
    import pandas as pd
    import pyarrow as pa
    from pyspark.sql import SparkSession

    from sgzone.benchmarks import Benchmark

ENGINES = ("duckdb", "spark")
_NEEDS = "needs pyspark and Java 17: pip install 'sgzone[spark]', and a Java on the PATH"


source_option = click.option(
    "--in",
    "source",
    metavar="PARQUET",
    help="Read strokes from Parquet files, such as --in strokes/, not from the season file. "
    "sgzone backup --strokes writes them. A pattern is given in quotes. --db then serves fitted "
    "benchmarks alone.",
)


def parquet_options(verb: Callable[..., Any]) -> Callable[..., Any]:
    """Give a verb the options ``source``, ``engine`` and ``out``."""
    for option in (
        click.option(
            "--out",
            metavar="DIR",
            help="With --in: write Parquet into this new folder, such as --out gained/.",
        ),
        click.option(
            "--engine",
            type=click.Choice(ENGINES),
            default=ENGINES[0],
            show_default=True,
            help="With --in: what values the strokes; spark needs --out.",
        ),
        source_option,
    ):
        verb = option(verb)
    return verb


def refuse_half_a_call(source: str | None, engine: str, out: str | None) -> None:
    """Raise ``CallError`` where the three options do not make sense together."""
    if source is None:
        if out is not None or engine != ENGINES[0]:
            raise CallError("--engine spark and --out go with --in: name the Parquet files.")
        refuse_idle("a season file", ("engine",))
    if out is not None:
        refuse_idle("--out", ("fmt", "units", *OF_TABLES))
    if engine == "spark" and out is None:
        raise CallError("--engine spark needs --out DIR: its rows are written by many machines.")
    if out is not None and os.path.lexists(out):
        raise CallError(f"{named(out)} exists already and is not overwritten. Name a new folder.")


def curve_of(ask: Ask) -> Benchmark:
    """Return the benchmark asked for; a fitted one's name is looked up in the season file."""
    from sgzone.benchmarks.saved import find, may_be_saved

    with blamed("benchmark"):
        if may_be_saved(ask.benchmark):
            return find(ask.benchmark, ask.db if ask.db.exists() or typed("db") else None)
        curve = find(ask.benchmark)
    refuse_idle("--in and a benchmark that is in no season file", ("db",))
    return curve


def stroke_files(source: str) -> list[str]:
    """Return the files of ``source``; say which are passed over."""
    files = parquet_files(source)
    if beside := passed_over(source):
        more = f" and {len(beside) - 1} more" if len(beside) > 1 else ""
        say(
            f"Not read, as the name starts with a dot or _: {named(beside[0])}{more}. Name such a "
            "file itself to read it."
        )
    return files


def parquet_gained(
    ask: Ask, curve: Benchmark, source: str, engine: str, out: str | None
) -> pd.DataFrame | None:
    """Value the strokes of ``source``; return them where they are still to be shown.

    csv goes to standard output, and Parquet into ``out``, as the strokes are read.
    """
    if engine == "spark":
        assert out is not None
        _with_spark(ask, curve, source, out)
        return None
    from sgzone.scoring.parquet import gained_reader
    from sgzone.season.parquet import ParquetStrokes, write_batches

    with ParquetStrokes(stroke_files(source)) as strokes:
        reader = gained_reader(strokes, curve, ask.selection)
        if out is not None:
            _say_written(write_batches(reader, Path(out, "gained.parquet")), out)
            return None
        if ask.fmt == "csv":
            refuse_idle("--format csv", OF_TABLES)
            _say_if_none(_stream_csv(reader), source)
            return None
        rows: pd.DataFrame = reader.read_pandas()
        _say_if_none(len(rows), source)
        return rows.sort_values(["player", "date", "round", "hole", "shot"], ignore_index=True)


def _stream_csv(reader: pa.RecordBatchReader) -> int:
    heads = reader.schema.empty_table().to_pandas()
    click.echo(csv_text(heads), nl=False)
    rows = 0
    for batch in reader:
        click.echo(csv_text(batch.to_pandas(), header=False), nl=False)
        rows += batch.num_rows
    return rows


def _say_if_none(rows: int, source: str) -> None:
    """Say that nothing was found: who is in the files is not looked up, so no name is refused."""
    if not rows:
        say(f"No strokes in {named(source)} for this selection.")


@contextmanager
def _session() -> Iterator[SparkSession]:
    try:
        from pyspark.errors import PySparkException
        from pyspark.sql import SparkSession as Session
    except ImportError as wrong:
        raise CallError(f"--engine spark {_NEEDS}.") from wrong
    # no table is kept, but Spark makes a folder for tables where it is started
    with TemporaryDirectory(prefix="sgzone-") as tables:
        named = Session.builder.appName("sgzone").config("spark.sql.warehouse.dir", tables)
        try:
            spark = named.getOrCreate()
        except PySparkException as wrong:
            raise CallError(f"Spark does not start ({wrong}). It {_NEEDS}.") from wrong
        try:
            yield spark
        finally:
            spark.stop()


def _with_spark(ask: Ask, curve: Benchmark, source: str, out: str) -> None:
    with _session() as spark:
        from pyspark.errors import PySparkException

        from sgzone.distributed import score

        try:
            score(spark, source, curve, ask.selection).write.parquet(out)
            _say_written(spark.read.parquet(out).count(), out)
        except PySparkException as wrong:
            first = str(wrong).splitlines()[0]
            raise DataError(
                f"Spark cannot value the strokes of {named(source)} ({first}). Is it a folder of "
                "Parquet files that sgzone backup --strokes wrote?"
            ) from wrong


def _say_written(rows: int, out: str) -> None:
    say(f"Wrote {rows} strokes into {named(out)}.")
