"""The house: what it is made of, how long a file may be, what `--help` loads."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from statistics import median

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "sgzone"

GROUND = (
    *("units", "terms", "errors", "resources", "harmless", "bounds", "inputs", "writing"),
    "answers",
)
"""From below: each may import those before it."""
ORDER = (
    *("stats", "cards", "season", "benchmarks", "scoring", "distributed", "review", "clubs"),
    *("practice", "words", "questions", "report", "demo", "public", "verbs", "cli", "start"),
)
HEAVY = (
    "numpy",
    "pandas",
    "duckdb",
    "scipy",
    "statsmodels",
    "altair",
    "pyarrow",
    "jinja2",
    "pyproj",
)
MODULES = sorted(PACKAGE.rglob("*.py"))
_WRITTEN = (ROOT / "Makefile").read_text(encoding="utf-8")
_NAMED = dict(re.findall(r"^(\w+) := (.*)$", _WRITTEN, re.MULTILINE))
MAKEFILE = re.sub(r"\$\((\w+)\)", lambda m: _NAMED.get(m[1], m[0]), _WRITTEN)
"""The Makefile, what it names once written out."""
TESTS = sorted((ROOT / "tests").rglob("*.py"))


def _imports(path: Path) -> list[tuple[str, ast.stmt]]:
    found: list[tuple[str, ast.stmt]] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, node) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            assert node.level == 0, f"{path}: relative import"
            if node.module == "sgzone":
                found += [(f"sgzone.{alias.name}", node) for alias in node.names]
            else:
                found.append((node.module, node))
    return found


def crowded(names: Sequence[str]) -> bool:
    """Return whether a folder has over 22 modules, or two that only a prefix holds together."""
    firsts = [name.split("_")[0] for name in names if "_" in name]
    return len(names) > 22 or len(firsts) != len(set(firsts))


def test_no_folder_is_crowded() -> None:
    for folder in {path.parent for path in MODULES}:
        names = [p.stem for p in folder.glob("*.py") if not p.stem.startswith("__")]
        assert not crowded(names), folder


SAY_NOTHING = {"parts", "kinds", "deeper", "flat", "release", "plainly", "misc", "utils", "helpers"}


def test_a_files_name_says_what_is_inside() -> None:
    for path in [*MODULES, *TESTS, *PACKAGE.rglob("*.sql")]:
        assert not set(path.stem.split("_")) & SAY_NOTHING, path


@pytest.mark.parametrize(
    ("names", "breach"),
    [
        ([f"m{n}" for n in range(23)], True),
        (["chart_why", "chart_where"], True),
        ([f"m{n}" for n in range(22)], False),
        (["test_blocks", "pocket_card", "test"], False),
    ],
)
def test_a_crowd_is_seen(names: list[str], breach: bool) -> None:
    assert crowded(names) == breach


@pytest.mark.repeats
@pytest.mark.parametrize("call", [["--help"], ["summary", "--help"], ["--version"]])
def test_help_loads_no_heavy_library(call: list[str]) -> None:
    code = (
        "import sys, json\n"
        f"sys.argv = ['sgzone', *{call!r}]\n"
        "from sgzone.cli import main\n"
        "try:\n    main()\nexcept SystemExit as stop:\n    assert not stop.code\n"
        "print('\\n' + json.dumps(sorted({m.split('.')[0] for m in sys.modules})))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd="/"
    )
    loaded = set(json.loads(done.stdout.splitlines()[-1]))
    assert "click" in loaded
    assert not loaded & set(HEAVY)


@pytest.mark.long
def test_an_assertion_only_tells_the_type_checker_what_it_cannot_see() -> None:
    """Under ``python -O`` there are none, so nothing that a user can cause may rest on one."""
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Assert):
                told = ast.unparse(node.test)
                plain = told.startswith("isinstance(") or told.endswith(" is not None")
                assert plain, f"{path.relative_to(ROOT)}:{node.lineno}: {told}"


def too_long(lengths: Mapping[str, int]) -> list[str]:
    """Return the files of more than 400 lines, and a word where the middle one has over 125."""
    found = [name for name, lines in lengths.items() if lines > 400]
    return found + (["the median"] if median(lengths.values()) > 125 else [])


def test_files_are_small() -> None:
    for paths in (MODULES, TESTS):
        texts = {str(path): path.read_text(encoding="utf-8") for path in paths}
        assert too_long({name: len(text.splitlines()) for name, text in texts.items()}) == []


def test_a_long_file_is_seen() -> None:
    assert too_long({"a.py": 125, "b.py": 400, "c.py": 60}) == []
    assert too_long({"a.py": 60, "b.py": 401, "c.py": 60}) == ["b.py"]
    assert too_long({"a.py": 126, "b.py": 200, "c.py": 60}) == ["the median"]


def test_top_level_is_fixed() -> None:
    listed = subprocess.run(
        ["git", "ls-tree", "--name-only", "HEAD"], cwd=ROOT, capture_output=True, text=True
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    names = {name for name in listed.stdout.split() if not name.startswith(".")}
    assert names <= {
        *("README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "Makefile"),
        *("CHANGELOG.md", "CITATION.cff"),
        *("sgzone", "tests", "data", "reports", "docs"),
    }


def test_no_test_is_left_out_of_both_commands() -> None:
    """What ``make test`` leaves out runs where a change goes in, whole studies in small."""
    ways = dict(re.findall(r"^(test|check|study):.*\n((?:\t.*\n)+)", MAKEFILE, re.MULTILINE))
    left_out = {name: set(re.findall(r"not (\w+)", steps)) for name, steps in ways.items()}
    apart = {"study", "small_study", "spark"}
    assert left_out == {"test": {*apart, "long"}, "check": apart, "study": {"spark"}}
    alone = {name: re.findall(r"-m \"?(\w+)(?<!not)\b", steps) for name, steps in ways.items()}
    assert "small_study" in alone["check"]
    assert "study" in alone["study"]
    assert "make check" in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


_READS = ("open", "read_text", "read_bytes", "read_csv", "read_parquet", "ParquetFile", "ZipFile")
_READS += ("from_path", "fdopen", "load_workbook")
_OURS = ("read_text", "read_bytes")  # called by their names alone: those of inputs
_OWN_DATA = {
    *("answers.py", "resources.py", "cards/columns.py", "benchmarks/sources.py"),
    *("benchmarks/ready.py", "season/belief.py", "stats/quadrature.py"),
    *("demo/putting.py", "report/screen/html.py", "report/paper/pdf.py"),
    *("report/paper/pocket_card.py", "report/paper/stroke_card.py", "verbs/report.py"),
}
"""They read what comes with the package."""
_OPENED_BEFORE = {
    "cards/parquet.py": "after inputs.opened, by a library that takes a name",
    "cards/unpacking.py": "the same file",
    "season/parquet.py": "DuckDB reads it, after inputs.opened",
    "season/opening.py": "the head of a season file, which DuckDB then opens",
    "cards/tidy.py": "bytes that were read",
    "benchmarks/own.py": "bytes that were read",
    "season/making.py": "a season file that is made, which DuckDB then opens",
    "start.py": "/dev/null",
    "verbs/streams.py": "/dev/null",
    "writing.py": "files that are written",
}


@pytest.mark.long
def test_a_users_file_is_opened_in_one_place() -> None:
    """``inputs`` refuses pipes and devices, and holds to a size; nothing reads around it."""
    readers = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func
                name = called.attr if isinstance(called, ast.Attribute) else ""
                if isinstance(called, ast.Name) and called.id not in _OURS:
                    name = called.id
                if name in _READS:
                    readers.add(str(path.relative_to(PACKAGE)))
    assert "inputs.py" in readers
    assert readers - _OWN_DATA - set(_OPENED_BEFORE) <= {"inputs.py"}
