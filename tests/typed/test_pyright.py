"""A second type checker, pyright, judges the same files alike and sees every public name."""

from __future__ import annotations

import importlib.util
import inspect
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import sgzone as sg
from tests.typed.test_types import HERE, ROOT, marked

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(
        importlib.util.find_spec("basedpyright") is None,
        reason="basedpyright is not installed: pip install basedpyright",
    ),
]
NO_KIND = re.compile(r'Type of ".*?" is "(?:Any|.*\bUnknown\b.*)"', re.DOTALL)


def told(folder: Path, *files: Path, mode: str) -> list[dict[str, Any]]:
    """Return what pyright tells of the files."""
    config = folder / "pyrightconfig.json"
    said = {"include": list(map(str, files)), "extraPaths": [str(ROOT)], "typeCheckingMode": mode}
    config.write_text(json.dumps(said), encoding="utf-8")
    call = [sys.executable, "-m", "basedpyright", "--outputjson", "--pythonpath", sys.executable]
    done = subprocess.run(
        [*call, "--project", str(config)], capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode in (0, 1), done.stdout + done.stderr
    found: list[dict[str, Any]] = json.loads(done.stdout)["generalDiagnostics"]
    return found


def line(diagnostic: dict[str, Any]) -> int:
    """Return the line of a diagnostic, counted from 1."""
    return int(diagnostic["range"]["start"]["line"]) + 1


def test_both_judge_alike(tmp_path: Path) -> None:
    found = told(tmp_path, HERE / "right.py", HERE / "wrong.py", mode="standard")
    wrong = {(Path(one["file"]).name, line(one)) for one in found if one["severity"] == "error"}
    assert wrong == {("wrong.py", number) for number in marked("wrong.py")}


def public_names() -> list[str]:
    """Return every public name, and every one of what is public, as a script writes it."""
    names = [f"sg.{name}" for name in sg.__all__]
    for name in sg.__all__:
        found = getattr(sg, name)
        if inspect.ismodule(found) or inspect.isclass(found):
            names += [f"sg.{name}.{member}" for member in dir(found) if member[0] != "_"]
    return names


def test_every_public_name_has_a_type(tmp_path: Path) -> None:
    names = public_names()
    script = tmp_path / "names.py"
    lines = ["import sgzone as sg", *(f"reveal_type({name})" for name in names)]
    of_objects = [
        "sg.simulate_season().card",
        "sg.debrief('s').parts",
        "sg.DataError('x').problems",
    ]
    lines += [f"reveal_type({name})" for name in of_objects]
    script.write_text("\n".join(lines) + "\n", encoding="utf-8")
    found = told(tmp_path, script, mode="strict")
    assert {line(one) for one in found if one["severity"] == "information"} == set(
        range(2, len(lines) + 1)
    )
    assert [one["message"] for one in found if one["severity"] == "error"] == []
    assert [one["message"] for one in found if NO_KIND.search(one["message"])] == []


def test_a_name_without_a_type_is_found(tmp_path: Path) -> None:
    script = tmp_path / "names.py"
    script.write_text("import sgzone as sg\nreveal_type(sg.no_such)\n", encoding="utf-8")
    [revealed] = [
        one for one in told(tmp_path, script, mode="basic") if one["severity"] == "information"
    ]
    assert NO_KIND.search(revealed["message"])
