"""One record per lie: every list of lies is made of them, and a new one is a few places."""

from __future__ import annotations

import ast
import re
from itertools import pairwise

import pytest

from sgzone.cards.columns import columns_of
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
    PART_NAMES,
    PARTS,
)
from tests.test_house import MODULES, PACKAGE

MAY_LIST = {
    "terms.py": "the records",
    "cards/template.py": "the strokes of an example hole",
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


def test_a_card_knows_every_lie_and_part() -> None:
    words = {(table, c.name): c.words for table in ("shot", "log") for c in columns_of(table)}
    assert words["shot", "lie"] == LIES
    assert words["log", "part"] == PART_NAMES


def test_every_lie_has_a_part_from_every_foot_of_the_zone() -> None:
    for lie in LIES:
        mine = sorted((part for part in PARTS if lie in part.lies), key=lambda part: part.low_ft)
        assert mine[0].low_ft == 0
        assert all(one.high_ft == other.low_ft for one, other in pairwise(mine))
    assert {*AIMED_LIES, *BLOCKED_LIES, GREEN} == set(LIES)
