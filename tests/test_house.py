"""The house: who may import whom, how long a file may be, what `--help` loads."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
from pathlib import Path
from statistics import median

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "sgzone"

GROUND = ("errors", "units", "terms", "bounds", "resources", "harmless", "writing")
ORDER = (
    *("stats", "cards", "season", "benchmarks", "scoring", "distributed", "review", "clubs"),
    *("practice", "report", "demo", "verbs", "cli", "start"),
)
HEAVY = ("numpy", "pandas", "duckdb", "scipy", "statsmodels", "altair", "pyarrow", "jinja2")
MODULES = sorted(PACKAGE.rglob("*.py"))
MAKEFILE = (ROOT / "Makefile").read_text(encoding="utf-8")
TESTS = sorted((ROOT / "tests").rglob("*.py"))


def _room(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return parts[0]


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


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_go_one_way(path: Path) -> None:
    room = _room(path)
    if room in ("__init__", "__main__"):
        return
    allowed = (
        set(GROUND) if room not in GROUND else {"units", "terms", "errors", "resources", "harmless"}
    )
    if room in ORDER:
        allowed |= {*ORDER[: ORDER.index(room)], room, "__version__"}
    for name, _ in _imports(path):
        if name.startswith("sgzone."):
            assert name.split(".")[1] in allowed, f"{room} must not import {name}"


def test_only_the_season_knows_duckdb() -> None:
    users = {_room(p) for p in MODULES if any(n.split(".")[0] == "duckdb" for n, _ in _imports(p))}
    assert users == {"season"}


def test_statistics_know_no_golf() -> None:
    for path in (PACKAGE / "stats").rglob("*.py"):
        for name, _ in _imports(path):
            assert name not in ("sgzone.terms", "sgzone.units"), f"{path.name} imports {name}"


def test_library_imports_stand_at_the_top() -> None:
    """Inside a function only to keep a heavy library out of ``sgzone --help``: in verbs and cli.

    And in start, where nothing may come before Ctrl-C is answered.
    """
    for path in MODULES:
        if _room(path) in ("verbs", "cli", "start", "__init__"):
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for function in ast.walk(tree):
            if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
                inner = [
                    n for n in ast.walk(function) if isinstance(n, ast.Import | ast.ImportFrom)
                ]
                assert not inner, f"{path.relative_to(ROOT)}:{inner[0].lineno}"


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


def test_an_assertion_only_tells_the_type_checker_what_it_cannot_see() -> None:
    """Under ``python -O`` there are none, so nothing that a user can cause may rest on one."""
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Assert):
                told = ast.unparse(node.test)
                plain = told.startswith("isinstance(") or told.endswith(" is not None")
                assert plain, f"{path.relative_to(ROOT)}:{node.lineno}: {told}"


def test_files_are_small() -> None:
    lengths = {p: len(p.read_text(encoding="utf-8").splitlines()) for p in [*MODULES, *TESTS]}
    assert {str(p): n for p, n in lengths.items() if n > 400} == {}
    assert median(n for p, n in lengths.items() if p in set(MODULES)) <= 200


def test_top_level_is_fixed() -> None:
    listed = subprocess.run(
        ["git", "ls-tree", "--name-only", "HEAD"], cwd=ROOT, capture_output=True, text=True
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    names = {name for name in listed.stdout.split() if not name.startswith(".")}
    assert names <= {
        *("README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "Makefile"),
        *("sgzone", "tests", "data", "reports", "docs"),
    }


def test_no_test_is_left_out_of_both_commands() -> None:
    """What ``make test`` leaves out as long runs where a change goes in."""
    ways = dict(re.findall(r"^(test|check):.*\n((?:\t.*\n)+)", MAKEFILE, re.MULTILINE))
    left_out = {name: set(re.findall(r"not (\w+)", steps)) for name, steps in ways.items()}
    assert left_out == {"test": {"study", "spark", "long"}, "check": {"study", "spark"}}
    assert "make check" in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
