"""One version, wherever it stands, and a line of what changed with it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import sgzone

ROOT = Path(__file__).resolve().parent.parent


def test_every_place_has_the_same_version() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    cited = re.search(r"^version: (.+)$", (ROOT / "CITATION.cff").read_text("utf-8"), re.MULTILINE)
    changed = re.findall(r"^## (.+)$", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.MULTILINE)
    assert cited is not None
    assert {project["version"], cited[1], changed[0]} == {sgzone.__version__}
    assert changed == ["0.2.0", "0.1.0"]
    assert project["authors"] == [{"name": "The sgzone developers"}]
