"""Tests that only call: each must assert something, itself or by what it calls. Lost tools."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent
FILES = sorted(ROOT.rglob("*.py"))
# they raise where what they are given is not so
JUDGES = {"raises", "warns", "fail", "assert_frame_equal", "assert_series_equal", "assert_allclose"}
JUDGES |= {"assert_array_equal", "check"}  # check: one that a test is given as a parameter

Function = ast.FunctionDef | ast.AsyncFunctionDef
Place = tuple[str, str]  # a file and the name of a function in it


def _called(tree: ast.AST) -> Iterator[ast.expr]:
    return (node.func for node in ast.walk(tree) if isinstance(node, ast.Call))


def _asserts(tree: ast.AST) -> bool:
    """Return whether something here can fail: an assertion or a judge."""
    if any(isinstance(node, ast.Assert) for node in ast.walk(tree)):
        return True
    names = (getattr(call, "id", getattr(call, "attr", None)) for call in _called(tree))
    return not JUDGES.isdisjoint(names)


def _known(file: str, tree: ast.Module) -> dict[str, Place]:
    """Return the helpers a file of tests can call by their names, its own and imported ones."""
    known = {f.name: (file, f.name) for f in ast.walk(tree) if isinstance(f, Function)}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("tests."):
            source = node.module.replace(".", "/") + ".py"
            known |= {alias.asname or alias.name: (source, alias.name) for alias in node.names}
    return known


def only_calling(files: Mapping[str, str]) -> list[Place]:
    """Return the tests that assert nothing, from the path and the text of each file.

    A helper of the tests that asserts counts for those that call it by its name, however deep;
    a method does not, whatever it is called.
    """
    asserting: set[Place] = set()
    calls: dict[Place, set[Place]] = {}
    for file, text in files.items():
        tree = ast.parse(text)
        known = _known(file, tree)
        for function in (node for node in ast.walk(tree) if isinstance(node, Function)):
            place = (file, function.name)
            names = {call.id for call in _called(function) if isinstance(call, ast.Name)}
            calls[place] = {known[name] for name in names & known.keys()} - {place}
            if _asserts(function):
                asserting.add(place)
    while more := {place for place, made in calls.items() if made & asserting} - asserting:
        asserting |= more
    return [p for p in calls if p[1].startswith("test_") and p not in asserting]


@pytest.mark.long
def test_no_test_only_calls() -> None:
    files = {path.relative_to(ROOT.parent).as_posix(): path.read_text("utf-8") for path in FILES}
    assert len(files) > 100
    assert only_calling(files) == []


def test_a_test_that_only_calls_is_found() -> None:
    files = {
        "tests/helpers.py": "def held(x):\n assert x\ndef deep(x):\n held(x)\ndef idle(x): pass\n",
        "tests/test_one.py": (
            "from tests.helpers import deep, idle as rest\n"
            "def test_calls():\n rest(1)\n"
            "def test_method():\n one.held(1)\n"
            "def test_asserts():\n assert 1\n"
            "def test_deep():\n deep(1)\n"
            "def test_raises():\n with pytest.raises(ValueError): rest(1)\n"
        ),
    }
    found = [("tests/test_one.py", name) for name in ("test_calls", "test_method")]
    assert only_calling(files) == found


TOOLS = """
import pytest
needed = pytest.mark.skipif(True, reason="needs a tool: get it")
@needed
def test_marked(): assert False
def test_said(): pytest.skip("needs a tool: get it")
def test_other(): pytest.skip("root may write anywhere here")
def test_run(): assert True
"""


@pytest.mark.parametrize(
    ("ci", "ends"), [("1", "1 failed, 1 passed, 1 skipped, 1 error"), ("", "3 skipped")]
)
def test_a_missing_tool_is_a_failure_in_ci(tmp_path: Path, ci: str, ends: str) -> None:
    path = tmp_path / "test_tools.py"
    path.write_text(TOOLS)
    words = [sys.executable, "-m", "pytest", "-p", "tests.conftest", "-p", "no:cacheprovider", path]
    done = subprocess.run(
        words, cwd=tmp_path, env={**os.environ, "CI": ci, "PYTHONPATH": str(ROOT.parent)},
        capture_output=True, text=True,
    )  # fmt: skip
    assert ends in done.stdout
    assert done.returncode == (1 if ci else 0)
