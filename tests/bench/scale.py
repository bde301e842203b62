"""``python -m tests.bench.scale FOLDER [N]``: strokes in Parquet, by DuckDB and by Spark.

FOLDER keeps the files, so that a second call need not make them: a million simulated strokes, and
copies of them under other player names up to N (default ten million) strokes. Each run is a process
of its own; printed are wall and processor seconds (of a Spark run: of its JVM), the peak of memory,
and microseconds of processor time per stroke read.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import duckdb
import pyarrow.parquet as pq

from sgzone import distributed
from sgzone.demo.simulate import write_cards
from sgzone.scoring.parquet import gained_reader, sums_reader
from sgzone.season.parquet import ParquetStrokes, write_batches
from sgzone.season.store import open_store
from sgzone.season.strokefiles import parquet_files

MILLION = 1_000_000
PER_FILE = 10  # millions
REPEATS = 3
TICKS = os.sysconf("SC_CLK_TCK")


def main() -> None:
    folder = Path(sys.argv[1]).resolve()
    most = int(sys.argv[2]) // MILLION if len(sys.argv) > 2 else 10
    for millions in (n for n in (1, 10, 50) if n <= most):
        strokes = make(folder, millions)
        _say(f"\n{millions} million strokes{'':14}wall s    cpu s   MB peak   cpu us per stroke")
        for name in RUNS:
            runs = [_run(name, strokes) for _ in range(REPEATS if millions < 50 else 1)]
            best = min(runs, key=lambda run: float(run["cpu"]))
            each = best["cpu"] / millions
            _say(f"  {name:26}{best['wall']:10.1f}{best['cpu']:9.1f}{best['mb']:10.0f}{each:12.2f}")
    _say("\nbytes per stroke, as written")
    for name, size in _bytes_per_stroke(make(folder, 1) / "0.parquet"):
        _say(f"  {name:26}{size:10.2f}")


def make(folder: Path, millions: int) -> Path:
    """Return the folder of the strokes of one size, written where it is not there yet."""
    target = folder / f"{millions}M"
    once = folder / "1M" / "0.parquet"
    if not once.exists():
        with TemporaryDirectory() as spare, open_store(Path(spare, "s.duckdb")) as store:
            write_cards(Path(spare, "card.parquet"), MILLION, players=500)
            store.load(Path(spare, "card.parquet"))
            store.write_strokes(once)
    target.mkdir(exist_ok=True)
    for number in range(-(-millions // PER_FILE)):
        file = target / f"{number}.parquet"
        if not file.exists():
            copies = range(number * PER_FILE, number * PER_FILE + PER_FILE)
            named = (
                f"SELECT * REPLACE (player || ' {copy}' AS player) FROM '{once}'" for copy in copies
            )
            duckdb.execute(f"COPY ({' UNION ALL '.join(named)}) TO '{file}' (COMPRESSION zstd)")
    return target


def duckdb_sums(strokes: Path, _out: Path) -> None:
    """Sum up per part and round."""
    with ParquetStrokes(parquet_files(str(strokes))) as parquet:
        for _ in sums_reader(parquet, by=["part"]):
            pass


def duckdb_rows(strokes: Path, out: Path) -> None:
    """Value every stroke and write it."""
    with ParquetStrokes(parquet_files(str(strokes))) as parquet:
        write_batches(gained_reader(parquet), out / "gained.parquet")


def spark_sums(strokes: Path, out: Path) -> None:
    """The same sums on Spark, written."""
    distributed.round_sums(_session(), str(strokes), by=["part"]).write.parquet(str(out / "sums"))


def spark_rows(strokes: Path, out: Path) -> None:
    """Value every stroke on Spark and write it."""
    distributed.score(_session(), str(strokes)).write.parquet(str(out / "rows"))


RUNS = {
    "DuckDB, sums per round": duckdb_sums,
    "DuckDB, every row written": duckdb_rows,
    "Spark, sums per round": spark_sums,
    "Spark, every row written": spark_rows,
}


def _session() -> Any:
    from pyspark.sql import SparkSession

    options = {"spark.master": "local[2]", "spark.driver.memory": "2g", "spark.ui.enabled": "false"}
    return SparkSession.builder.config(map=options).getOrCreate()


def _run(name: str, strokes: Path) -> dict[str, float]:
    call = [sys.executable, "-W", "ignore", "-m", "tests.bench.scale", "--one", name, str(strokes)]
    done = subprocess.run(call, check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    found: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return found


def _one(name: str, strokes: Path) -> None:
    jvm = None
    if name.startswith("Spark"):  # its start is not what is asked
        jvm = _session().sparkContext._gateway.proc.pid
    with TemporaryDirectory(dir=strokes.parent) as out:
        before, start = _cpu(jvm), time.perf_counter()
        RUNS[name](strokes, Path(out))
        wall, cpu = time.perf_counter() - start, _cpu(jvm) - before
    _say(json.dumps({"wall": wall, "cpu": cpu, "mb": _peak_mb(jvm)}))


def _cpu(pid: int | None) -> float:
    """Return processor seconds of this process, or of the JVM."""
    if pid is None:
        return time.process_time()
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / TICKS


def _peak_mb(pid: int | None) -> float:
    # getrusage would count the parent's as well
    lines = Path(f"/proc/{pid or 'self'}/status").read_text().splitlines()
    return next(float(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024


def _bytes_per_stroke(file: Path) -> list[tuple[str, float]]:
    meta = pq.read_metadata(file)
    sizes: dict[str, int] = {}
    for group in range(meta.num_row_groups):
        for place in range(meta.num_columns):
            column = meta.row_group(group).column(place)
            name = column.path_in_schema
            sizes[name] = sizes.get(name, 0) + column.total_compressed_size
    ranked = sorted(sizes.items(), key=lambda item: -item[1])
    total = ("all columns", sum(sizes.values()))
    return [(name, size / meta.num_rows) for name, size in (total, *ranked[:12])]


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    if sys.argv[1] == "--one":
        _one(sys.argv[2], Path(sys.argv[3]))
    else:
        main()
