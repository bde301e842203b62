"""The house: who may import whom, and where in a file. Each rule is tried with a breach of it."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from graphlib import CycleError, TopologicalSorter

import pytest

from tests.test_house import GROUND, HEAVY, MODULES, ORDER, PACKAGE

Code = Mapping[str, str]
"""Path of a module inside the package -> its text."""

INSIDE = {
    "report": (
        *("fonts", "page", "beside", "asked", "charts", "screen", "paper"),
        *("sections", "player", "squad"),
    ),
    "review": ("where", "why", "beside", "debrief"),
}
"""The order inside a room; what it does not name may import all of the room."""
OF_HEAVY = {*HEAVY, "openpyxl", "pyspark", "rich", "typst", "vl_convert"}
"""What only some verbs need and all would wait for."""
ONLY_SOME_WAIT = {("cards/mapping/geodesy.py", "pyproj"): "tables with positions, which are few"}
"""A heavy library that a verb needs for some files alone: imported there, and nowhere else."""
FEW_ASK_OF_OURS = {
    "sgzone.cards.reader": "eighty modules that read cards: no question waits for them",
    "sgzone.cards.text.writer": "only a round as a text card is written with it",
    "sgzone.season.corrections": "only renaming, deleting and one round as a card need it",
    "sgzone.season.loading": "it reads cards",
    "sgzone.season.parquet": "pyarrow, which a question of the season file does not need",
}
"""Parts of ours that few verbs need, and why no other one should wait: imported where used."""
FEW_NEED = (
    "pyarrow.parquet",
    *("scipy.interpolate", "scipy.linalg", "scipy.optimize", "scipy.sparse.csgraph"),
    *("scipy.stats", "statsmodels"),
)
"""Each takes longer to load than most answers take: imported in the function that uses it."""
UNDER_CHARTS = ("season", "benchmarks", "scoring", "distributed", "practice", "questions", "stats")
"""Rooms where strokes are asked for or sums are done: charts take finished tables."""
VERDICTS = "sgzone.stats.verdict"
"""Its words are read by whoever shows a verdict: no sum is done there."""


@dataclass(frozen=True)
class Import:
    """One imported name: the module it comes from, in which line, and where in the code."""

    module: str
    line: int
    late: bool
    typing: bool


def imports_of(text: str, modules: frozenset[str] = frozenset()) -> Iterator[Import]:
    """Yield what a module imports; ``modules``: those of the package, to tell them from names."""
    waiting: list[tuple[ast.AST, bool, bool]] = [(ast.parse(text), False, False)]
    while waiting:
        node, late, typing = waiting.pop()
        if isinstance(node, ast.Import | ast.ImportFrom):
            for name in _modules(node, modules):
                yield Import(name, node.lineno, late, typing)
        late |= isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        typing |= isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        waiting += [(child, late, typing) for child in ast.iter_child_nodes(node)]


def _modules(node: ast.Import | ast.ImportFrom, modules: frozenset[str]) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
        return
    assert node.level == 0, "a relative import"
    for alias in node.names:
        full = f"{node.module}.{alias.name}"
        room = node.module == "sgzone"
        yield full if full in modules or room else str(node.module)


def module_of(path: str) -> str:
    """Return the name of the module in a file of the package."""
    parts = ["sgzone", *path.removesuffix(".py").split("/")]
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _all(code: Code) -> Iterator[tuple[str, Import]]:
    modules = frozenset(map(module_of, code))
    for path, text in code.items():
        for one in imports_of(text, modules):
            yield path, one


def against_the_order(code: Code) -> Iterator[str]:
    """A room imports from those before it."""
    for path, one in _all(code):
        room, parts = path.removesuffix(".py").split("/")[0], one.module.split(".")
        if room in ("__init__", "__main__") or parts[0] != "sgzone" or len(parts) < 2:
            continue
        allowed = {*GROUND}
        if room in GROUND:
            allowed = {*GROUND[: GROUND.index(room)]}
        elif room in ORDER:
            allowed |= {*ORDER[: ORDER.index(room)], room, "__version__"}
        if parts[1] not in allowed:
            yield f"{path}:{one.line}: {one.module}"


def against_the_order_inside(code: Code) -> Iterator[str]:
    """So does a folder or module of ``report`` and ``review``."""
    for path, one in _all(code):
        room, *rest = path.removesuffix(".py").split("/")
        parts = one.module.split(".")
        order = INSIDE.get(room, ())
        if rest and rest[0] in order and parts[:2] == ["sgzone", room] and len(parts) > 2:
            inner = parts[2]
            if inner in order and order.index(inner) > order.index(rest[0]):
                yield f"{path}:{one.line}: {one.module}"


def circles(code: Code) -> Iterator[str]:
    """No module is needed to load what it needs itself."""
    modules = frozenset(map(module_of, code))
    needs: dict[str, set[str]] = {name: set() for name in modules}
    for path, one in _all(code):
        if not one.typing and not one.late and one.module in modules:
            needs[module_of(path)].add(one.module)
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as found:
        yield " > ".join(found.args[1])


def late(code: Code) -> Iterator[str]:
    """Inside a function only to keep a heavy library out of ``sgzone --help``: in the verbs.

    And in what starts them, where nothing may come before Ctrl-C is answered; and a library that
    few answers need, or a part of ours that few verbs need, where the others would wait for it.
    """
    heavy = _heavy(code)
    for path, one in _all(code):
        room = path.removesuffix(".py").split("/")[0]
        spared = room in ("cli", "start", "__init__") or (room == "verbs" and heavy(one.module))
        spared |= one.module.startswith(FEW_NEED)
        spared |= room in ("season", "verbs") and one.module in FEW_ASK_OF_OURS
        if one.late and not spared and (path, one.module) not in ONLY_SOME_WAIT:
            yield f"{path}:{one.line}: {one.module}"


def waited_for(code: Code) -> Iterator[str]:
    """What few answers need is never imported before a function asks for it."""
    for path, one in _all(code):
        if one.module.startswith(FEW_NEED) and not one.late and not one.typing:
            yield f"{path}:{one.line}: {one.module}"


def _heavy(code: Code) -> Callable[[str], bool]:
    """Return what tells whether a module loads a heavy library, by itself or by others."""
    at_once: dict[str, set[str]] = {}
    for path, one in _all(code):
        if not one.late and not one.typing:
            at_once.setdefault(module_of(path), set()).add(one.module)

    @cache
    def loads(name: str) -> frozenset[str]:
        found, waiting = set(), [name]
        while waiting:
            at = waiting.pop()
            parts = at.split(".")
            folders = {".".join(parts[:k]) for k in range(1, len(parts) + 1)}
            waiting += [n for f in folders for n in {f, *at_once.get(f, ())} if n not in found]
            found |= folders
        return frozenset(n.split(".")[0] for n in found)

    return lambda name: bool(loads(name) & OF_HEAVY)


def charts_that_ask(code: Code) -> Iterator[str]:
    """Charts take finished tables."""
    for path, one in _all(code):
        asks = one.module.startswith(tuple(f"sgzone.{room}" for room in UNDER_CHARTS))
        if path.startswith("report/charts/") and asks and one.module != VERDICTS:
            yield f"{path}:{one.line}: {one.module}"


def reports_that_compute(code: Code) -> Iterator[str]:
    """The report computes nothing."""
    for path, one in _all(code):
        computes = one.module.startswith("sgzone.stats") and one.module != VERDICTS
        if path.startswith("report/") and computes:
            yield f"{path}:{one.line}: {one.module}"


def statistics_that_know(code: Code) -> Iterator[str]:
    """Statistics take arrays or frames, never a connection, and know no golf."""
    for path, one in _all(code):
        known = ("sgzone.season", "sgzone.terms", "sgzone.units", "duckdb")
        if path.startswith("stats/") and one.module.startswith(known):
            yield f"{path}:{one.line}: {one.module}"


def other_users_of_duckdb(code: Code) -> Iterator[str]:
    """Only the season knows DuckDB."""
    for path, one in _all(code):
        if one.module.split(".")[0] == "duckdb" and not path.startswith("season/"):
            yield f"{path}:{one.line}: {one.module}"


BREACHES: dict[Callable[[Code], Iterator[str]], list[Code]] = {
    against_the_order: [
        {"clubs/shots.py": "from sgzone.words.say import Say"},
        {"stats/slope.py": "from sgzone.season.store import Store"},
        {"terms.py": "import sgzone.writing"},
        {"units.py": "from sgzone import terms"},
        {"words/say.py": "def f():\n    from sgzone import report"},
    ],
    against_the_order_inside: [
        {"report/charts/why.py": "from sgzone.report.sections import why"},
        {"report/sections/why.py": "import sgzone.report.player", "report/player.py": ""},
        {"review/where/summary.py": "from sgzone.review.why.split import why"},
    ],
    circles: [
        {"a.py": "import sgzone.b", "b.py": "from sgzone.a import x"},
        {"a.py": "from sgzone import b", "b.py": "import sgzone.c", "c.py": "import sgzone.a"},
        {"a/__init__.py": "from sgzone.a.b import x", "a/b.py": "from sgzone.a import y"},
    ],
    late: [
        {"clubs/shots.py": "def f():\n    import pandas"},
        {"cards/reader.py": "def f():\n    from pyproj import Geod"},
        {"cards/mapping/geodesy.py": "def f():\n    import scipy"},
        {"verbs/show.py": "def f():\n    import json"},
        {"clubs/shots.py": "def f():\n    import sgzone.season.loading"},
        {"season/store.py": "def f():\n    import sgzone.season.staging"},
        {"verbs/show.py": "def f():\n    from sgzone.terms import LIES", "terms.py": "import enum"},
    ],
    waited_for: [
        {"stats/slope.py": "from scipy.stats import t"},
        {"review/trend.py": "import statsmodels.api as sm"},
    ],
    charts_that_ask: [
        {"report/charts/why.py": "from sgzone.season.store import Store"},
        {"report/charts/why.py": "from sgzone.stats.shrink import shrink"},
        {"report/charts/base/marks.py": "from sgzone import scoring"},
    ],
    reports_that_compute: [
        {"report/sections/why.py": "from sgzone.stats.rates import wilson"},
        {"report/asked.py": "from sgzone import stats"},
    ],
    statistics_that_know: [
        {"stats/slope.py": "from sgzone.season.store import Store"},
        {"stats/slope.py": "from sgzone.terms import LIES"},
        {"stats/slope.py": "import duckdb"},
    ],
    other_users_of_duckdb: [{"scoring/gained.py": "import duckdb"}],
}
SOUND: Code = {
    "terms.py": "from sgzone import units",
    "stats/verdict.py": "import numpy",
    "season/store.py": "import duckdb\nfrom sgzone.terms import LIES",
    "review/why/split.py": "from sgzone.review.where.summary import table\nimport sgzone.terms",
    "report/charts/why.py": "from sgzone.stats.verdict import side_of\nimport altair",
    "report/sections/why.py": "from sgzone.report.charts import why",
    "verbs/why.py": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import pandas\n"
    "def f():\n    from sgzone.season.store import Store\n    import pandas",
    "stats/slope.py": "def f():\n    from statsmodels.regression.linear_model import OLS",
    "cli.py": "def f():\n    from sgzone.verbs import why",
}


@cache
def _package() -> Code:
    return {p.relative_to(PACKAGE).as_posix(): p.read_text(encoding="utf-8") for p in MODULES}


@pytest.mark.parametrize("rule", BREACHES, ids=lambda rule: rule.__name__)
def test_the_house_keeps_the_rule(rule: Callable[[Code], Iterator[str]]) -> None:
    assert list(rule(_package())) == []


@pytest.mark.parametrize(
    ("rule", "code"), [(rule, code) for rule, breaches in BREACHES.items() for code in breaches]
)
def test_a_breach_is_seen(rule: Callable[[Code], Iterator[str]], code: Code) -> None:
    assert list(rule(code))


@pytest.mark.parametrize("rule", BREACHES, ids=lambda rule: rule.__name__)
def test_sound_code_is_no_breach(rule: Callable[[Code], Iterator[str]]) -> None:
    assert list(rule(SOUND)) == []
