"""One record per lie: every list of lies is made of them, and a new one is a few places."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from sgzone.season.place_numbers import CELL_VALUES
from sgzone.terms import (
    AIMED_LIES,
    BLOCKED_LIES,
    EVERY_LIE,
    GREEN,
    HOLED,
    HOLED_NUMBER,
    LIE_ALIASES,
    LIES,
    PARTS,
)
from tests.test_house import MODULES, PACKAGE, ROOT

MAY_LIST = {
    "terms.py": "the records",
    "cards/example.py": "the strokes of an example hole",
    "review/where/cells.py": "the model of a summary has a number for each of these",
    "review/why/reference.py": "the share of missed greens that each of these has",
}
"""And the simulator, which plays from the lies that it knows."""
_IN_SQL = re.compile(r"\bIN\s*\(([^()]*)\)", re.IGNORECASE)


def lists_of_lies(code: str) -> list[str]:
    """Return the displays of Python code that hold two lies or more."""
    displays = (ast.Tuple, ast.List, ast.Set, ast.Dict)
    return [
        ast.unparse(node)
        for node in ast.walk(ast.parse(code))
        if isinstance(node, displays) and len(_lies_in(node)) > 1
    ]


def _lies_in(node: ast.AST) -> set[object]:
    return {n.value for n in ast.walk(node) if isinstance(n, ast.Constant)} & set(LIES)


def lists_in_sql(text: str) -> list[str]:
    """Return what SQL lists in ``IN (...)`` where it holds two lies or more."""
    return [
        listed
        for listed in _IN_SQL.findall(text)
        if len({word for word in LIES if f"'{word}'" in listed}) > 1
    ]


@pytest.mark.long
def test_every_list_of_lies_is_made_of_the_records() -> None:
    for path in [*MODULES, *PACKAGE.rglob("*.sql")]:
        name = path.relative_to(PACKAGE).as_posix()
        if name in MAY_LIST or name.startswith("demo/"):
            continue
        text = path.read_text(encoding="utf-8")
        assert not lists_in_sql(text), name
        if path.suffix == ".py":
            assert not lists_of_lies(text), name


def test_what_may_list_lies_does() -> None:
    for name in MAY_LIST:
        code = (PACKAGE / name).read_text(encoding="utf-8")
        assert lists_of_lies(code) or name == "terms.py", name


@pytest.mark.parametrize(
    "code",
    [
        "NEAR = ('green', 'fringe')",
        "rows = rows[~rows['lie'].isin(['sand', 'recovery'])]",
        "CLASS = {'tee': 1, 'fairway': 1}",
        "SHARES = (('fairway', 0.3), ('rough', 0.7))",
    ],
)
def test_a_list_elsewhere_is_seen(code: str) -> None:
    assert lists_of_lies(code)
    assert not lists_of_lies("lie == 'green' or end_lie in ('green', HOLED)")


def test_a_list_in_sql_is_seen() -> None:
    assert lists_in_sql("WHERE s.lie NOT IN ('green', 'fringe')")
    assert not lists_in_sql("WHERE s.end_lie IN ('green', 'holed')")


def test_the_records_agree_with_each_other() -> None:
    numbers = [*(lie.number for lie in EVERY_LIE), HOLED_NUMBER]
    assert sorted(numbers) == list(range(1, len(EVERY_LIE) + 2))
    aliases = [alias for lie in EVERY_LIE for alias in lie.aliases]
    assert len(aliases) == len(set(aliases)) == len(LIE_ALIASES)
    assert not set(aliases) & set(LIES)
    for lie in EVERY_LIE:
        assert {*lie.leans_on, *lie.mean_of} < set(LIES)
        assert (lie.name == GREEN) == (not lie.leans_on)
        assert lie.swing is None or lie.swing in AIMED_LIES


def test_the_numbers_of_season_files_stay() -> None:
    """What a file holds was written with these: another lie takes the next one."""
    words = ["tee", "fairway", "rough", "sand", "recovery", "fringe", "green", HOLED]
    assert CELL_VALUES["lies"][: len(words)] == words
    assert CELL_VALUES["lie_step"] == 4096


def test_every_lie_has_a_part_from_every_foot_of_the_zone() -> None:
    for lie in LIES:
        mine = sorted((part for part in PARTS if lie in part.lies), key=lambda part: part.low_ft)
        assert mine[0].low_ft == 0
        assert all(one.high_ft == other.low_ft for one, other in pairwise(mine))
    assert {*AIMED_LIES, *BLOCKED_LIES, GREEN} == set(LIES)


NEW_LIE = 'Lie("pine straw", 9, ("straw",), swing=ROUGH, mean_of=(ROUGH, RECOVERY)),'
CARD = """player,date,hole,shot,lie,distance,result
Ada,2026-05-01,1,1,tee,140,
Ada,2026-05-01,1,2,pine straw,40,
Ada,2026-05-01,1,3,green,12,
Ada,2026-05-01,1,4,green,2,holed
Ada,2026-05-01,2,1,tee,120,
Ada,2026-05-01,2,2,Straw,25,
Ada,2026-05-01,2,3,green,6,holed
"""
ASK = """
import shlex
import sys
from click.testing import CliRunner
from sgzone.cli import sgzone
for call in (
    "load card.csv", "gained --format csv", "summary --by lie", "summary --by part --format csv",
    "benchmarks --at \'pine straw 40\' --format csv", "report page.html",
):
    done = CliRunner().invoke(sgzone, shlex.split(call))
    print(done.output)
    if done.exit_code:
        sys.exit(f"{call}: {done.exception!r}")
"""


SAND_RECORD = "    Lie(\n        SAND,"


@pytest.mark.long
def test_another_lie_is_a_record_and_a_word_of_the_dictionary(tmp_path: Path) -> None:
    """Loaded from a card, scored, summed up and on the page after two lines were changed."""
    shutil.copytree(PACKAGE, tmp_path / "sgzone", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(ROOT / "data", tmp_path / "data")
    _replace(tmp_path / "sgzone" / "terms.py", SAND_RECORD, f"    {NEW_LIE}\n{SAND_RECORD}")
    lies = ("|rough|sand|", "|rough|pine straw|sand|")
    _replace(tmp_path / "data" / "columns.csv", *lies, times=2)  # lie and to_lie
    (tmp_path / "card.csv").write_text(CARD)
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", ASK],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert "2026-05-01,1,1,2,pine straw,40.0,pitch_30_50,30-50 yd,green," in done.stdout
    assert "2026-05-01,1,2,2,pine straw,25.0,chip_0_30,20-30 yd,green," in done.stdout
    assert re.search(r"^pine straw† +2 +[-+]\d", done.stdout, re.MULTILINE)
    assert re.search(r"^chip_0_30,1,1,", done.stdout, re.MULTILINE)
    assert re.search(r"^tour,pine straw,40.0,yd,3.\d+,derived,", done.stdout, re.MULTILINE)
    assert "pine straw" in (tmp_path / "page.html").read_text(encoding="utf-8")


def _replace(path: Path, one: str, other: str, times: int = 1) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(one) == times, (path, one)
    path.write_text(text.replace(one, other), encoding="utf-8")
