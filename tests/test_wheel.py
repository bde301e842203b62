"""The built wheel works in an empty environment, from another folder, without the repository."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

from tests.cards.examples import give_example_a_player

pytestmark = pytest.mark.long

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("dist")
    subprocess.run(
        [
            *(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps"),
            *("--disable-pip-version-check", "--wheel-dir", str(out), str(ROOT)),
        ],
        check=True,
        capture_output=True,
    )
    return next(out.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment that holds the wheel; the libraries come from this one, read-only."""
    home = tmp_path_factory.mktemp("elsewhere")
    venv.create(home / "env", with_pip=False)
    site = next((home / "env").glob("lib/python*/site-packages"))
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    here = Path(next(p for p in sys.path if p.endswith("site-packages")))
    libraries = home / "libraries"
    libraries.mkdir()
    for entry in here.iterdir():
        if "sgzone" not in entry.name:
            (libraries / entry.name).symlink_to(entry)
    (site / "libraries.pth").write_text(str(libraries))
    return home


def _run(home: Path, *call: str) -> subprocess.CompletedProcess[str]:
    code = "from sgzone.cli import main; main()"
    environment = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "SGZONE_DB")}
    return subprocess.run(
        [str(home / "env" / "bin" / "python"), "-c", code, *call],
        cwd=home,
        env=environment,
        capture_output=True,
        text=True,
    )


def test_wheel_holds_the_data_and_the_steps(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    assert "sgzone/data/published/tour_off_green.csv" in names
    assert "sgzone/data/columns.csv" in names
    assert "sgzone/scoring/sql/gained.sql" in names
    assert "sgzone/py.typed" in names
    assert not [n for n in names if n.startswith("tests/")]


def test_installed_wheel_answers_from_another_folder(installed: Path) -> None:
    where = _run(installed, "benchmarks", "tour", "--at", "fairway 100", "--format", "csv")
    assert where.returncode == 0, where.stderr
    assert "2.8" in where.stdout
    origin = subprocess.run(
        [str(installed / "env/bin/python"), "-c", "import sgzone; print(sgzone.__file__)"],
        cwd=installed,
        capture_output=True,
        text=True,
        check=True,
    )
    assert str(installed) in origin.stdout


def test_installed_wheel_goes_from_template_to_summary(installed: Path) -> None:
    assert _run(installed, "template", "card.csv").returncode == 0
    give_example_a_player(installed / "card.csv")
    for call in (["template", "card.pdf"], ["load", "card.csv"], ["summary", "--format", "csv"]):
        done = _run(installed, *call)
        assert done.returncode == 0, done.stderr
    assert "not enough shots" in done.stdout
