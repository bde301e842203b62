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

GROUND = ("errors", "units", "terms", "resources", "harmless", "writing", "answers")
ORDER = (
    *("stats", "cards", "season", "benchmarks", "scoring", "distributed", "review", "clubs"),
    *("practice", "words", "questions", "report", "demo", "verbs", "cli", "start"),
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
    allowed = set(GROUND) if room not in GROUND else {"units", "terms", "errors", "resources"}
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


INSIDE = {
    "report": ("page", "asked", "charts", "screen", "paper", "sections", "player", "squad"),
    "review": ("where", "why", "beside"),
}
"""The order inside a room; what it does not name may import all of the room."""


def test_rooms_inside_a_room_have_an_order_too() -> None:
    for room, order in INSIDE.items():
        for path in (PACKAGE / room).rglob("*.py"):
            inner = path.relative_to(PACKAGE / room).with_suffix("").parts[0]
            if inner not in order:
                continue
            for name, _ in _imports(path):
                parts = name.split(".")
                if parts[:2] == ["sgzone", room] and len(parts) > 2 and parts[2] in order:
                    assert order.index(parts[2]) <= order.index(inner), f"{path}: {name}"


def test_no_folder_is_crowded() -> None:
    """At most 22 modules, and no two that only a prefix holds together."""
    for folder in {path.parent for path in MODULES}:
        names = [p.stem for p in folder.glob("*.py") if not p.stem.startswith("__")]
        assert len(names) <= 22, folder
        firsts = [name.split("_")[0] for name in names if "_" in name]
        assert len(firsts) == len(set(firsts)), folder


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
    """What ``make test`` leaves out runs where a change goes in, whole studies in small."""
    ways = dict(re.findall(r"^(test|check|study):.*\n((?:\t.*\n)+)", MAKEFILE, re.MULTILINE))
    left_out = {name: set(re.findall(r"not (\w+)", steps)) for name, steps in ways.items()}
    apart = {"study", "small_study", "spark"}
    assert left_out == {"test": {*apart, "long"}, "check": apart, "study": {"spark"}}
    alone = {name: re.findall(r"-m \"?(\w+)(?<!not)\b", steps) for name, steps in ways.items()}
    assert "small_study" in alone["check"]
    assert "study" in alone["study"]
    assert "make check" in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


STUDIES = sorted((ROOT / "tests" / "study").glob("test_*.py"))


def _tests_of(path: Path) -> list[tuple[ast.FunctionDef, str]]:
    """Return the tests of a file, each with the text of its decorators."""
    body = ast.parse(path.read_text(encoding="utf-8")).body
    tests = (n for n in body if isinstance(n, ast.FunctionDef) and n.name.startswith("test_"))
    return [(test, " ".join(ast.unparse(d) for d in test.decorator_list)) for test in tests]


@pytest.mark.parametrize("path", STUDIES, ids=lambda p: p.stem)
def test_every_study_has_a_small_form(path: Path) -> None:
    """A test without ``size`` says which of the two it is, or it would run with every change."""
    tests = _tests_of(path)
    sized = {test.name for test, _ in tests if "size" in {a.arg for a in test.args.args}}
    marked = {test.name for test, marks in tests if re.search(r"mark\.(small_)?study\b", marks)}
    assert sized, "no test asks for size"
    assert {test.name for test, _ in tests} == sized | marked
    assert not sized & marked, "size brings the marks"


def test_the_simulators_share_no_number_with_what_they_prove() -> None:
    """Numbers taken from the model of ``why`` would prove it for themselves alone."""
    simulators = [ROOT / "tests" / "review" / "shots.py", *(PACKAGE / "demo").rglob("*.py")]
    assert len(simulators) > 10
    for path in simulators:
        for name, _ in _imports(path):
            assert not name.startswith("sgzone.review"), f"{path}: {name}"
            assert not name.startswith("sgzone.clubs"), f"{path}: {name}"
