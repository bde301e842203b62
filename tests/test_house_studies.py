"""The house of the studies: each has a small form, and no simulator knows what it proves."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.test_house import PACKAGE, ROOT, _imports

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
