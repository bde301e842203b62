"""Strokes gained inside 150 yards: where they are won and lost, why, how sure, what to practise.

The public names load their libraries on first use, so that ``import sgzone`` is cheap. A type
checker sees what they are.
"""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from sgzone.benchmarks.model import Benchmark
    from sgzone.clubs.green import Green
    from sgzone.demo.simulate import simulate_season
    from sgzone.errors import CallError, DataError, Problem
    from sgzone.practice.plan import Plan
    from sgzone.practice.settings import Settings
    from sgzone.public import charts, tables
    from sgzone.public.clubs import clubs, plan_number, practice_plan
    from sgzone.public.report import write_report
    from sgzone.public.score import score
    from sgzone.public.standards import (
        benchmark,
        break_even_proximity,
        calibrate,
        fit_benchmark,
        outcomes,
    )
    from sgzone.public.where import check_totals, counts, plays_like, strokes_gained, summarise
    from sgzone.public.why import agreements, compare, debrief, field_strength, trend, why
    from sgzone.season.reading import check_card, read_card
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store, open_store

__version__: Final = "0.2.0"

_PUBLIC = {
    "open_store": "sgzone.season.store",
    "Store": "sgzone.season.store",
    "Selection": "sgzone.season.selection",
    "read_card": "sgzone.season.reading",
    "check_card": "sgzone.season.reading",
    "score": "sgzone.public.score",
    "strokes_gained": "sgzone.public.where",
    "check_totals": "sgzone.public.where",
    "summarise": "sgzone.public.where",
    "counts": "sgzone.public.where",
    "plays_like": "sgzone.public.where",
    "why": "sgzone.public.why",
    "compare": "sgzone.public.why",
    "trend": "sgzone.public.why",
    "agreements": "sgzone.public.why",
    "debrief": "sgzone.public.why",
    "field_strength": "sgzone.public.why",
    "clubs": "sgzone.public.clubs",
    "plan_number": "sgzone.public.clubs",
    "practice_plan": "sgzone.public.clubs",
    "benchmark": "sgzone.public.standards",
    "break_even_proximity": "sgzone.public.standards",
    "outcomes": "sgzone.public.standards",
    "fit_benchmark": "sgzone.public.standards",
    "calibrate": "sgzone.public.standards",
    "write_report": "sgzone.public.report",
    "simulate_season": "sgzone.demo.simulate",
    "Benchmark": "sgzone.benchmarks.model",
    "Green": "sgzone.clubs.green",
    "Plan": "sgzone.practice.plan",
    "Settings": "sgzone.practice.settings",
    "CallError": "sgzone.errors",
    "DataError": "sgzone.errors",
    "Problem": "sgzone.errors",
}
"""Public name -> the module that has it."""

__all__ = [
    "Benchmark",
    "CallError",
    "DataError",
    "Green",
    "Plan",
    "Problem",
    "Selection",
    "Settings",
    "Store",
    "__version__",
    "agreements",
    "benchmark",
    "break_even_proximity",
    "calibrate",
    "charts",
    "check_card",
    "check_totals",
    "clubs",
    "compare",
    "counts",
    "debrief",
    "field_strength",
    "fit_benchmark",
    "open_store",
    "outcomes",
    "plan_number",
    "plays_like",
    "practice_plan",
    "read_card",
    "score",
    "simulate_season",
    "strokes_gained",
    "summarise",
    "tables",
    "trend",
    "why",
    "write_report",
]

if not TYPE_CHECKING:  # to a type checker an unknown name stays unknown

    def __getattr__(name: str) -> object:
        if name in ("charts", "tables"):
            return importlib.import_module(f"sgzone.public.{name}")
        if name not in _PUBLIC:
            raise AttributeError(f"module 'sgzone' has no attribute {name!r}")
        return getattr(importlib.import_module(_PUBLIC[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)


class _Package(ModuleType):
    """The package, of which a public name stays what it is.

    A room and a question share the name ``clubs``. Whoever imports the room would make the
    question's name that of a module.
    """

    def __setattr__(self, name: str, value: object) -> None:
        if not (name in _PUBLIC and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
