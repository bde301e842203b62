"""``python -m tests.bench [N]``: ratios at 100k, 1M, ... up to N strokes, all from one run.

Last comes what whole calls cost (``at_hand``); ``python -m tests.bench hand`` does that alone.

The runs of a race are interleaved in random order, each in a process of its own; what is printed
are medians, and ratios of medians. Times of different runs on different machines say nothing.
"""

from __future__ import annotations

import importlib.metadata
import json
import math
import os
import random
import subprocess
import sys
from collections import defaultdict
from dataclasses import asdict
from itertools import pairwise
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from sgzone.report.screen.script import CACHE
from tests.bench.at_hand import tell
from tests.bench.contenders import RACES, Race
from tests.bench.material import Material, make
from tests.bench.reporting import make_seasons, twenty_players

SIZES = (100_000, 1_000_000, 10_000_000)
HAND = "hand"
REPEATS = 3  # runs of each contender
PACKAGES = ("duckdb", "polars", "pandas", "numpy", "pyarrow")

Results = dict[str, list[dict[str, Any]]]


def main() -> None:
    if sys.argv[1:] == [HAND]:
        with TemporaryDirectory(prefix="sgzone-bench-") as folder:
            _at_hand(Path(folder), make(Path(folder), SIZES[0]))
        return
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    sizes = sorted({*(n for n in SIZES if n < largest), largest})
    versions = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in PACKAGES)
    _say(f"Python {sys.version.split()[0]}, {versions}")
    times: dict[int, dict[str, float]] = {}
    with TemporaryDirectory(prefix="sgzone-bench-") as folder:
        for n in sizes:
            material = make(Path(folder), n)
            make_seasons(material)
            times[n] = {}
            for race in RACES:
                if n <= (race.largest or n):
                    results = _run(race, material, REPEATS)
                    _check(race, results)
                    times[n] |= _tell(race, results, n)
        _at_hand(Path(folder), material)
    _growth(times)


def _at_hand(folder: Path, material: Material) -> None:
    make_seasons(material)
    for line in tell(folder, twenty_players(material), os.environ[CACHE]):
        _say(line)


def _run(race: Race, material: Material, repeats: int) -> Results:
    results: Results = defaultdict(list)
    fields = {key: value if key == "n" else str(value) for key, value in asdict(material).items()}
    for _ in range(repeats):
        for name in random.sample(race.names, len(race.names)):
            command = [sys.executable, "-m", "tests.bench.worker", name, json.dumps(fields)]
            done = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True)
            results[name].append(json.loads(done.stdout))
    return results


def _check(race: Race, results: Results) -> None:
    """Refuse to compare the speed of different answers."""
    answers = {name: results[name][0] for name in race.agree}
    first = next(iter(answers.values()), {})
    for name, answer in answers.items():
        assert answer["rows"] == first["rows"], f"{name} gives {answer}, not {first}"
        close = math.isclose(answer["total"], first["total"], rel_tol=1e-9)
        assert close, f"{name} gives {answer}, not {first}"


def _tell(race: Race, results: Results, n: int) -> dict[str, float]:
    """Print the medians of a race; return the processor's seconds of each contender."""
    first, floor = race.names[0], next((name for name in race.names if "only" in name), None)
    _say(f"\n{n:,} strokes{'':20}seconds   ratio  x floor     cpu s   ratio   MB (grown)")
    middle = {
        name: {key: median(run[key] for run in results[name]) for key in results[name][0]}
        for name in race.names
    }
    for name, one in middle.items():
        times = one["seconds"] / middle[floor]["seconds"] if floor else math.nan
        _say(
            f"  {name:26}{one['seconds']:10.4f}{one['seconds'] / middle[first]['seconds']:8.2f}"
            f"{times:9.2f}{one['cpu']:10.4f}{one['cpu'] / middle[first]['cpu']:8.2f}"
            f"{one['mb']:7.0f} ({one['grown']:.0f})"
        )
    return {name: one["cpu"] for name, one in middle.items()}


def _growth(times: dict[int, dict[str, float]]) -> None:
    sizes = sorted(times)
    for small, large in pairwise(sizes):
        _say(f"\nprocessor time per stroke at {large:,} over that at {small:,}")
        for name in times[large]:
            ratio = times[large][name] / times[small][name] * small / large
            if not name.startswith("bootstrap"):
                _say(f"  {name:30}{ratio:9.2f}")


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
