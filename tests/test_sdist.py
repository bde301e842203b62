"""The source distribution holds the project whole, and makes the same wheel as the tree does."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

import sgzone

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(
        importlib.util.find_spec("hatchling") is None,
        reason="needs hatchling: pip install 'sgzone[test]'",
    ),
]
ROOT = Path(__file__).resolve().parent.parent
NAME = f"sgzone-{sgzone.__version__}"
ADDED = {"PKG-INFO"}
"""What the tool that builds adds by itself."""


def build(kind: str, tree: Path, into: Path) -> Path:
    """Return what is built of a tree, asking no network."""
    call = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(into)]
    done = subprocess.run(call, cwd=tree, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    [made] = into.iterdir()
    return made


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("unpacked")
    with tarfile.open(build("sdist", ROOT, tmp_path_factory.mktemp("sdist"))) as archive:
        archive.extractall(folder, filter="data")
    [tree] = folder.iterdir()
    assert tree.name == NAME
    return tree


def git_files(*which: str) -> set[str]:
    """Return the files of the tree that git lists."""
    call = ["git", "ls-files", "-z", *which]
    listed = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return {name for name in listed.split("\0") if name and (ROOT / name).exists()}


def contents(wheel: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_it_holds_what_git_holds_and_no_more(unpacked: Path) -> None:
    if not (ROOT / ".git").exists():
        pytest.skip("this tree is no clone: it was unpacked itself")
    held = {str(p.relative_to(unpacked)) for p in unpacked.rglob("*") if p.is_file()}
    assert "reports/season.png" in held
    assert git_files("--cached") - held == set()
    assert held - git_files("--cached", "--others", "--exclude-standard") == ADDED


def test_its_wheel_is_that_of_the_tree(
    unpacked: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    own = contents(build("wheel", ROOT, tmp_path_factory.mktemp("tree")))
    other = contents(build("wheel", unpacked, tmp_path_factory.mktemp("sdist")))
    assert f"{NAME}.dist-info/licenses/LICENSE" in own
    assert list(own) == list(other)
    assert [name for name in own if own[name] != other[name]] == []
