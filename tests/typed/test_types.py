"""A type checker sees every public name: what is right passes, what is wrong does not."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest
from mypy import api

import sgzone as sg

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
_SAID = re.compile(r"^(.*?):(\d+): error: .*\[([\w-]+)\]$", re.MULTILINE)


def told(file: str) -> dict[int, str]:
    """Return the kind of error that a type checker tells of, by line."""
    config = str(ROOT / "pyproject.toml")
    out, wrong, _ = api.run(["--config-file", config, "--no-pretty", str(HERE / file)])
    assert not wrong
    found = _SAID.findall(out)
    assert all(Path(path).name == file for path, _, _ in found), out
    return {int(line): kind for _, line, kind in found}


def marked(file: str) -> dict[int, str]:
    """Return the kind of error that each line of a file says it has."""
    lines = enumerate((HERE / file).read_text(encoding="utf-8").splitlines(), 1)
    return {number: line.split("  # ")[1] for number, line in lines if "  # " in line}


@pytest.mark.long
def test_right_calls_pass() -> None:
    assert told("right.py") == {}


@pytest.mark.long
def test_wrong_calls_do_not() -> None:
    expected = marked("wrong.py")
    assert len(expected) == 14
    assert told("wrong.py") == expected


def test_what_a_type_checker_is_told_is_what_there_is() -> None:
    tree = ast.parse(Path(sg.__file__).read_text(encoding="utf-8"))
    [block] = [
        n
        for n in tree.body
        if isinstance(n, ast.If) and not n.orelse and n.test.__class__ is ast.Name
    ]
    seen = {
        alias.name: node.module
        for node in ast.walk(block)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    rooms = dict.fromkeys(("charts", "tables"), "sgzone.public")
    assert seen == vars(sg)["_PUBLIC"] | rooms
    assert {*seen, "__version__"} == set(sg.__all__) == set(dir(sg))
    assert len(sg.__all__) == len(set(sg.__all__))


@pytest.mark.parametrize("name", sg.__all__)
def test_every_public_name_is_there_and_told_of(name: str) -> None:
    found = getattr(sg, name)
    if name != "__version__":
        assert found.__doc__


def test_another_name_is_none() -> None:
    with pytest.raises(AttributeError, match="no attribute 'sumarise'"):
        sg.sumarise  # type: ignore[attr-defined]  # noqa: B018


def test_a_question_keeps_its_name_when_the_room_of_that_name_is_imported() -> None:
    code = (
        "import sgzone as sg, sgzone.clubs.stock; from sgzone.clubs import number; "
        "print(sg.clubs.__module__, sg.clubs.__name__, number.__name__)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["sgzone.public.clubs", "clubs", "sgzone.clubs.number"]


def test_what_is_drawn_are_charts_alone() -> None:
    assert dir(sg.charts) == sorted(sg.charts.__all__)
    for name in dir(sg.charts):
        assert "alt." in getattr(sg.charts, name).__annotations__["return"]
