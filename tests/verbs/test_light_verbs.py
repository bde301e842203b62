"""What a verb loads: the libraries that it does not need are not waited for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.demo_season import demo_file

HEAVY = ("numpy", "pandas", "pyarrow", "scipy", "statsmodels")


def loaded_by(season: Path, *words: str, usual_file: bool = False) -> set[str]:
    """Return the modules that a call in a process of its own loads.

    ``usual_file``: without ``--db``, which some calls do not take.
    """
    asked = words if usual_file else (*words, "--db", str(season))
    code = (
        "import sys\n"
        f"sys.argv = ['sgzone', *{asked!r}]\n"
        "from sgzone.start import start\n"
        "try:\n    start()\nfinally:\n    sys.stderr.write(' '.join(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout
    return set(done.stderr.split())


def test_a_list_of_rounds_waits_for_duckdb_alone() -> None:
    loaded = loaded_by(demo_file(), "rounds")
    assert not loaded & {*HEAVY}
    assert {"duckdb", "rich"} <= loaded


def test_a_question_waits_for_nothing_that_reads_cards() -> None:
    loaded = loaded_by(demo_file(), "gained")
    assert not [name for name in loaded if name.startswith("sgzone.cards.text")]
    assert "sgzone.season.loading" not in loaded


def test_a_published_curve_waits_for_no_database() -> None:
    assert not loaded_by(demo_file(), "benchmarks", "tour", usual_file=True) & {"duckdb", "scipy"}


def test_a_season_is_smoothed_only_where_the_curve_is_shown() -> None:
    assert "statsmodels" not in loaded_by(demo_file(), "trend")
    assert "statsmodels" in loaded_by(demo_file(), "trend", "--wide")
