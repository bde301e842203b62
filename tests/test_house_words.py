"""The house: who knows metres, which words are written once, and where lies are named."""

from __future__ import annotations

import ast
from collections.abc import Callable, Container, Iterator

import pytest

from sgzone.stats import verdict
from sgzone.terms import LIES, NOT_ENOUGH
from tests.test_house import MODULES, PACKAGE

ANSWERING = (*("stats", "cards", "season", "benchmarks", "scoring", "review", "clubs", "practice"),)
"""The rooms below words: an answer is the same whatever its reader measures in."""

KNOW_METRES = {"units.py", "words/say.py", "verbs/options.py"}

VERDICTS = (
    {*verdict.VERDICTS, NOT_ENOUGH, verdict.NOT_WRITTEN}
    | {verdict.TOO_FEW, verdict.NO_DIFFERENCE, verdict.LEANING, verdict.BETTER_HERE}
    | {verdict.MORE_THAN_NOISE, verdict.WITHIN_NOISE, verdict.NOT_ENOUGH_ROUNDS}
    | {verdict.EQUAL, verdict.TOO_CLOSE, verdict.COSTS}
) - {verdict.LEVEL}
"""Every verdict that is no everyday word: ``level`` is the name of an argument too."""
GIVE_VERDICTS = {"stats/verdict.py", "terms.py"}

NAME_LIES = {
    *("cards/example.py", "clubs/green.py", "clubs/number.py"),
    *("clubs/options.py", "clubs/sheet.py", "clubs/stock.py"),
    *("demo/card.py", "demo/clubs.py"),
    *("demo/green.py", "demo/play.py", "demo/player.py"),
    *("demo/practice.py", "demo/presets.py", "demo/season.py"),
    *("demo/truth.py", "practice/sessions.py", "practice/whatif.py"),
    *("report/charts/benchmark.py", "report/charts/proximity.py", "report/charts/why.py"),
    *("report/pictures.py", "report/sections/grid.py", "report/sections/misses.py"),
    *("report/sections/proximity.py", "review/beside/groups.py", "review/where/cells.py"),
    *("review/where/measuring.py", "review/where/proximity.py", "review/why/flight.py"),
    *("review/why/misses.py", "review/why/putting.py", "review/why/reference.py"),
    *("review/why/shots.py", "verbs/clubs.py"),
}
"""Modules that name a lie by itself. Not to grow: what is true of a lie stands in ``terms``."""


def literals(code: str, words: Container[str]) -> list[str]:
    """Return the literals of a module that are one of the words; a docstring is none."""
    tree = ast.parse(code)
    plain = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
    texts = (n for n in ast.walk(tree) if isinstance(n, ast.Constant) and id(n) not in plain)
    return [n.value for n in texts if isinstance(n.value, str) and n.value in words]


def units_taken(code: str) -> list[str]:
    """Return the functions and classes of a module that are told units."""
    return [name for name, takes in _takers(ast.parse(code)) if "units" in takes]


def _takers(tree: ast.Module) -> Iterator[tuple[str, set[str]]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            given = node.args
            every = (*given.posonlyargs, *given.args, *given.kwonlyargs)
            yield getattr(node, "name", "lambda"), {one.arg for one in every}
        elif isinstance(node, ast.ClassDef):
            fields = (n.target for n in node.body if isinstance(n, ast.AnnAssign))
            yield node.name, {ast.unparse(field) for field in fields}


def said_in_place(code: str) -> list[str]:
    """Return the titles and notes that a module writes itself, in a call or under their name."""
    found: list[tuple[str, ast.expr]] = []
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Call):
            found += [(word.arg or "", word.value) for word in node.keywords]
        elif isinstance(node, ast.Assign):
            found += [(ast.unparse(target), node.value) for target in node.targets]
    return [name for name, value in found if name in ("title", "notes") and _writes(value)]


def _writes(value: ast.expr) -> bool:
    """Return whether a value is a text, or may be one, or holds one."""
    if isinstance(value, ast.IfExp):
        return _writes(value.body) or _writes(value.orelse)
    if isinstance(value, ast.Tuple | ast.List):
        return any(map(_writes, value.elts))
    return isinstance(value, ast.JoinedStr | ast.Constant) and ast.unparse(value) != "None"


def _where(found: Callable[[str], list[str]]) -> set[str]:
    """Return the modules in which something is found."""
    return {
        module.relative_to(PACKAGE).as_posix()
        for module in MODULES
        if found(module.read_text(encoding="utf-8"))
    }


@pytest.mark.long
def test_only_say_knows_metres() -> None:
    assert _where(lambda code: literals(code, {"metric"})) == KNOW_METRES


def test_no_question_is_told_its_readers_units() -> None:
    told = {path for path in _where(units_taken) if path.split("/")[0] in ANSWERING}
    assert told == set()


def test_a_verdict_is_written_where_it_is_given() -> None:
    """Elsewhere it is a name, with its side and its strength, or a word somebody reads wrong."""
    assert _where(lambda code: literals(code, VERDICTS)) == GIVE_VERDICTS


@pytest.mark.long
def test_lies_are_named_in_few_places_and_in_no_more() -> None:
    found = {
        path
        for path in _where(lambda code: literals(code, LIES))
        if path != "terms.py" and not path.startswith("benchmarks/")
    }
    assert found - NAME_LIES == set(), "ask terms what is true of the lie"
    assert NAME_LIES - found == set(), "these name no lie any more: take them off the list"


def test_a_verb_lets_words_say_its_titles_and_notes() -> None:
    assert {path for path in _where(said_in_place) if path.startswith("verbs/")} == set()


@pytest.mark.parametrize(
    "code",
    [
        'emit(table, fmt, "counts", title=f"Plain counts, intervals {level:.0%}")',
        'title = "The bag"',
        'notes = ["Each round was predicted.", more]',
        'emit(table, notes=("0 is the mean player.",) if len(table) else ())',
    ],
)
def test_a_title_written_in_a_verb_is_seen(code: str) -> None:
    assert said_in_place(code)


@pytest.mark.parametrize(
    "code", ["title = words.title(detail)", "emit(table, title=None, notes=(RULES,))"]
)
def test_a_title_from_words_is_none(code: str) -> None:
    assert not said_in_place(code)


@pytest.mark.parametrize(
    "code",
    [
        'unit = "m" if units == "metric" else "yd"',
        'def shown(units="metric"): ...',
        '{"metric": 0.3048}',
    ],
)
def test_knowing_metres_is_seen(code: str) -> None:
    assert literals(code, {"metric"})


@pytest.mark.parametrize(
    "code",
    [
        "def compare(store, units): ...",
        "def compare(store, *, units='yards'): ...",
        "shown = lambda feet, units: feet",
        "class Ask:\n    units: str",
    ],
)
def test_being_told_units_is_seen(code: str) -> None:
    assert units_taken(code)


@pytest.mark.parametrize(
    "code",
    [
        'lost = table["verdict"] == "clear loss"',
        'words = ["probable gain", 1]',
        'f"{word}" if word != "not enough shots" else ""',
        'match word:\n    case "better here": ...',
    ],
)
def test_a_verdict_in_another_place_is_seen(code: str) -> None:
    assert literals(code, VERDICTS)


@pytest.mark.parametrize(
    "code", ['rows[rows["lie"] == "green"]', 'isin(["fringe"])', 'def plan(lie="fairway"): ...']
)
def test_naming_a_lie_is_seen(code: str) -> None:
    assert literals(code, LIES)


@pytest.mark.parametrize("code", ['"""metric"""', 'def f():\n    "green"', 'f"metric {units}"'])
def test_words_about_them_are_none(code: str) -> None:
    assert not literals(code, {"metric", *LIES})
    assert not units_taken(code)
