"""What a docstring of the package names by its module (``review.trend.trend``) is there."""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import sgzone as sg
from tests.docs.pages import ROOT

PACKAGE = ROOT / "sgzone"
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.name != "__main__.py")
_ROOMS = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
_DOTTED = re.compile(r"``((?:\w+\.)+\w+)(?:\([^`]*\))?``")


def _texts(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            yield ast.get_docstring(node) or ""


def _is_there(dotted: str) -> bool:
    """Tell whether ``room.module.name`` (or ``room.name``) can be had."""
    names = dotted.split(".")
    for end in range(len(names), 0, -1):
        path = PACKAGE.joinpath(*names[:end])
        if not path.with_suffix(".py").exists() and not (path / "__init__.py").exists():
            continue
        found = import_module(".".join(("sgzone", *names[:end])))
        for name in names[end:]:
            if isinstance(found, type) and name in getattr(found, "__annotations__", {}):
                return True  # a field without a default
            if not hasattr(found, name):
                return False
            found = getattr(found, name)
        return True
    return False


def stale_names(text: str) -> list[str]:
    """Return what a text names by a room of the package and that is not there."""
    named = _DOTTED.findall(text)
    return [name for name in named if name.split(".")[0] in _ROOMS and not _is_there(name)]


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_no_docstring_names_what_is_not_there(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [name for text in _texts(tree) for name in stale_names(text)] == []


def test_what_is_not_there_is_found() -> None:
    gone = "``review.nowhere.why``, ``season.store.Shop``, ``practice.plan.Plan.no_such``"
    assert len(stale_names(gone)) == 3
    there = "``review.trend.trend``, ``practice.plan.Plan.curves``, ``season.store``, ``page.js``"
    assert stale_names(there) == []


def _public() -> Iterator[tuple[str, object]]:
    """Every public name, and what a caller can ask of a public object."""
    for name in sg.__all__:
        found = getattr(sg, name)
        yield name, found
        if inspect.ismodule(found) or inspect.isclass(found):
            members = [m for m in dir(found) if not m.startswith("_")]
            yield from ((f"{name}.{member}", getattr(found, member)) for member in members)


PUBLIC = dict(_public())


@pytest.mark.parametrize("name", PUBLIC)
def test_what_callers_read_names_public_things_alone(name: str) -> None:
    said = inspect.getdoc(PUBLIC[name]) or ""
    assert [dotted for dotted in _DOTTED.findall(said) if dotted.split(".")[0] in _ROOMS] == []
    named = [dotted.split(".")[1:] for dotted in _DOTTED.findall(said) if dotted[:3] == "sg."]
    assert [names for names in named if ".".join(names[:2]) not in PUBLIC] == []
