"""Every example in a docstring of the package, run."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import sgzone

ROOT = Path(sgzone.__file__).parent
MODULES = sorted(
    ".".join(path.relative_to(ROOT.parent).with_suffix("").parts).removesuffix(".__init__")
    for path in ROOT.rglob("*.py")
    if ">>>" in path.read_text(encoding="utf-8")
)


def test_there_are_examples() -> None:
    assert len(MODULES) >= 8


@pytest.mark.repeats
@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_hold(name: str) -> None:
    done = doctest.testmod(importlib.import_module(name))
    assert done.attempted
    assert not done.failed
