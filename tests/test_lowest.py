"""The lowest versions that pyproject.toml promises are those of the file they are tested with."""

from __future__ import annotations

import re
import tomllib
from itertools import zip_longest
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
TOOLS = ("mypy", "ruff")  # of the developer: they judge the code and are no part of a test
USED = PROJECT["dependencies"]
TESTED = PROJECT["optional-dependencies"]["test"]


def _bounds(wanted: list[str]) -> dict[str, str]:
    found = {}
    for line in wanted:
        match = re.fullmatch(r"([\w.-]+)>=([\d.]+)", line)
        if match:
            found[match[1]] = match[2]
    return found


LOWEST = dict(
    line.split("==")
    for line in (ROOT / "tests" / "lowest.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
)


def _same(bound: str, version: str) -> bool:
    pairs = zip_longest(bound.split("."), version.split("."), fillvalue="0")
    return all(int(one) == int(other) for one, other in pairs)


def test_every_library_that_users_need_has_a_bound() -> None:
    assert len(_bounds(USED)) == len(USED)


def test_the_file_holds_all_and_nothing_else() -> None:
    assert set(LOWEST) == {*_bounds(USED), *_bounds(TESTED)} - set(TOOLS)


@pytest.mark.parametrize("name", LOWEST)
def test_a_bound_is_the_version_that_was_tested(name: str) -> None:
    bound = (_bounds(USED) | _bounds(TESTED))[name]
    assert _same(bound, LOWEST[name]), f"pyproject.toml says {bound}, the file {LOWEST[name]}"
