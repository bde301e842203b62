"""Strokes gained inside 150 yards: where they are won and lost, why, how sure, what to practise.

The public names load their libraries on first use, so that ``import sgzone`` is cheap.
"""

from __future__ import annotations

import importlib
from typing import Any

__version__ = "0.1.0"

_PUBLIC = {
    "open_store": "sgzone.season.store",
    "Selection": "sgzone.season.selection",
    "read_card": "sgzone.season.reading",
    "check_card": "sgzone.season.reading",
    "benchmark": "sgzone.benchmarks",
    "break_even_proximity": "sgzone.benchmarks",
    "outcomes": "sgzone.benchmarks.outcomes",
    "fit_benchmark": "sgzone.benchmarks.fit",
    "calibrate": "sgzone.benchmarks.calibration",
    "strokes_gained": "sgzone.questions",
    "debrief": "sgzone.questions",
    "check_totals": "sgzone.scoring",
    "summarise": "sgzone.questions",
    "counts": "sgzone.questions",
    "plays_like": "sgzone.questions",
    "why": "sgzone.questions",
    "compare": "sgzone.questions",
    "trend": "sgzone.questions",
    "agreements": "sgzone.questions",
    "field_strength": "sgzone.questions",
    "clubs": "sgzone.questions",
    "plan_number": "sgzone.questions",
    "practice_plan": "sgzone.questions",
    "write_report": "sgzone.report.write",
    "simulate_season": "sgzone.demo.simulate",
}

__all__ = ["__version__", "charts", *_PUBLIC]


def __getattr__(name: str) -> Any:
    if name == "charts":
        return importlib.import_module("sgzone.report.charts")
    if name not in _PUBLIC:
        raise AttributeError(f"module 'sgzone' has no attribute {name!r}")
    return getattr(importlib.import_module(_PUBLIC[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)
