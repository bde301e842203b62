"""Every number that a caller may give to a Python function is checked against the one list."""

from __future__ import annotations

import importlib
import inspect
import re
from collections.abc import Callable
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.bounds import BOUNDS, NUMERIC, bounded
from sgzone.clubs.green import Green, green_of
from sgzone.clubs.sheet import numbers_of
from sgzone.errors import CallError
from sgzone.practice.settings import Settings
from sgzone.report import charts
from sgzone.season.store import open_store

PACKAGE = Path(sg.__file__).parent
HUGE = 10**5000
HOSTILE: tuple[Any, ...] = (
    *(float("nan"), float("inf"), float("-inf"), 1e308, -1e308, HUGE, -HUGE, -101, 10**20),
    *("0.8", "", b"1", True, [1], np.array([0.8, 0.9]), np.float64("nan"), pd.NA, object()),
)


def _module(path: Path) -> Any:
    names = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return importlib.import_module(".".join(name for name in names if name != "__init__"))


def _functions() -> dict[str, Callable[..., Any]]:
    """Return what users call: the public names, and what the folders behind them offer alike."""
    found = {f"sg.{name}": getattr(sg, name) for name in sg.__all__}
    found |= {f"charts.{name}": getattr(charts, name) for name in charts.__all__}
    for folder in ("review", "clubs", "practice", "benchmarks", "report"):
        for path in sorted((PACKAGE / folder).glob("*.py")):
            for name, one in vars(_module(path)).items():
                own = getattr(one, "__module__", "") == _module(path).__name__
                if inspect.isfunction(one) and own and not name.startswith("_"):
                    found[f"{folder}.{path.stem}.{name}"] = one
    return {name: one for name, one in found.items() if inspect.isfunction(one)}


def _numbers(function: Callable[..., Any]) -> list[inspect.Parameter]:
    return [p for p in inspect.signature(function).parameters.values() if p.annotation in NUMERIC]


FUNCTIONS = _functions()
NAN_TOO = {"break_even_ft", "target"}
"""Arguments in which NaN says that there is none."""
PUBLIC = {name: one for name, one in FUNCTIONS.items() if name.startswith(("sg.", "charts."))}
CASES = [(name, n) for name, one in FUNCTIONS.items() for n in getattr(one, "bounded", ())]


def test_functions_and_numbers_are_found() -> None:
    assert len(FUNCTIONS) > 150
    assert len(CASES) > 90
    assert {number for _, number in CASES} >= {"level", "hours", "weeks", "seed", "at", "ratio"}


@pytest.mark.parametrize("name", PUBLIC)
def test_a_public_function_takes_no_number_unchecked(name: str) -> None:
    numbers = {parameter.name for parameter in _numbers(PUBLIC[name])} - NAN_TOO
    assert numbers == set(getattr(PUBLIC[name], "bounded", ())), f"@bounded is missing on {name}"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_level_or_seed_that_may_be_given_is_checked(name: str) -> None:
    """Words of reports take their level from a caller that has checked it."""
    offered = {
        parameter.name
        for parameter in _numbers(FUNCTIONS[name])
        if parameter.name in BOUNDS and parameter.default is not inspect.Parameter.empty
    }
    assert offered <= set(getattr(FUNCTIONS[name], "bounded", ()))


@pytest.mark.parametrize(("name", "number"), CASES)
def test_what_is_no_such_number_is_said(name: str, number: str) -> None:
    function = FUNCTIONS[name]
    parameters = inspect.signature(function).parameters
    needed = {p.name: object() for p in parameters.values() if p.default is inspect.Parameter.empty}
    for other in _numbers(function):
        if other.name in needed and other.name in BOUNDS:
            needed[other.name] = BOUNDS[other.name].read(BOUNDS[other.name].example)
    hostile = HOSTILE if parameters[number].default is None else (*HOSTILE, None)
    for value in hostile:
        with pytest.raises(CallError, match=re.escape(BOUNDS[number].range())) as caught:
            function(**{**needed, number: value})
        assert str(caught.value).startswith(f"{number}=")
        assert len(str(caught.value)) < 300


@pytest.mark.parametrize("name", BOUNDS)
def test_both_ends_and_the_example_are_inside(name: str) -> None:
    bound = BOUNDS[name]
    kind = int if bound.whole else float
    assert bound.read(bound.example) == bound.check(kind(bound.example))
    assert bound.check(kind(bound.high)) == bound.high
    low = kind(bound.low)
    if bound.above:
        with pytest.raises(CallError, match="above"):
            bound.check(low)
    else:
        assert bound.check(low) == bound.low
    for beyond in (kind(bound.low) - 1, kind(bound.high) * 2 + 1, kind(bound.low) - 10**9):
        with pytest.raises(CallError, match=re.escape(bound.range())):
            bound.check(beyond)


@pytest.mark.parametrize("value", [np.float32(0.75), np.float64(0.75), Fraction(3, 4), 0.75])
def test_every_kind_of_number_is_one(value: Any) -> None:
    assert BOUNDS["level"].check(value) == 0.75
    assert BOUNDS["level"].read("75e-2") == 0.75
    assert BOUNDS["seed"].check(np.int64(7)) == 7


def test_a_function_without_a_number_is_no_bounded_one() -> None:
    with pytest.raises(TypeError, match="takes no number"):
        bounded(lambda rounds: rounds)


def test_the_call_itself_is_judged_by_python() -> None:
    with pytest.raises(TypeError, match="unexpected keyword"):
        charts.by_part(pd.DataFrame(), levels=0.8)


def test_assumptions_are_checked_however_they_are_made() -> None:
    for name in ("recoverable", "rate_hours", "floor_hours", "largest_change", "rate_spread"):
        for value in (float("nan"), float("inf"), -1, "x", HUGE):
            with pytest.raises(CallError, match=f"{name}="):
                Settings(**{name: value})
    with pytest.raises(CallError, match="ceiling_by_part, sand_0_50=nan"):
        Settings(ceiling_by_part={"sand_0_50": float("nan")})
    with pytest.raises(CallError, match='no part "bunker"'):
        Settings(floor_by_part={"bunker": 1.0})
    with pytest.raises(CallError, match="no part to plan for"):
        Settings(parts=())


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 0, -1, 1e308, 1e-300, "x"])
def test_a_green_is_a_green(value: Any) -> None:
    for name in ("on", "deep", "left", "wide"):
        with pytest.raises(CallError, match=f"{name}="):
            green_of(**{name: value})


def test_a_hole_on_the_very_edge_has_no_green() -> None:
    with pytest.raises(CallError, match="no such pin"):
        Green(29.95, 30, 12, 24, ("rough",) * 4)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ((float("nan"), 100, 5), "from 20 to 180"),
        ((20, float("inf"), 5), "from 20 to 180"),
        ((60, 150, 0), "from 0.1 to 160"),
        ((150, 60, 5), "no range of numbers"),
        ((20, 180, 0.1), "no range of numbers"),
    ],
)
def test_a_range_of_numbers_is_one(given: tuple[float, float, float], said: str) -> None:
    with pytest.raises(CallError, match=said):
        numbers_of(*given)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"since": date(2026, 5, 2), "until": date(2026, 5, 1)}, "swap the two"),
        ({"since": datetime(2026, 5, 2), "until": date(2026, 5, 1)}, "swap the two"),
        ({"since": "2026-05-02"}, "is no day"),
        ({"until": 20260502}, "is no day"),
        ({"until": pd.NaT}, "is no day"),
        ({"player": 7}, "is no text"),
        ({"event": float("nan")}, "is no text"),
    ],
)
def test_a_selection_is_checked(given: dict[str, Any], said: str) -> None:
    with pytest.raises(CallError, match=said):
        sg.Selection(**given)


def test_a_moment_is_taken_as_its_day() -> None:
    assert sg.Selection(until=datetime(2026, 5, 2, 12)).until == date(2026, 5, 2)


@pytest.mark.parametrize("feet", ["x", object(), HUGE], ids=["text", "object", "huge"])
def test_what_is_no_distance_is_said(feet: Any) -> None:
    with pytest.raises(CallError, match="give feet as numbers"):
        sg.benchmark("tour").expected("fairway", feet)


@pytest.mark.parametrize(
    ("split", "said"),
    [
        ({"putt_0_10": float("nan")}, "split of putt_0_10=nan"),
        ({"putt_0_10": 0.5}, "adds up to 0.5"),
        ({"bunker": 1.0}, 'no part "bunker"'),
    ],
)
def test_a_split_adds_up(split: dict[str, float], said: str) -> None:
    with open_store() as store, pytest.raises(CallError, match=said):
        sg.practice_plan(store, 5, 6, split=split)


def test_a_season_ends_in_the_calendar() -> None:
    with pytest.raises(CallError, match="year 9999"):
        sg.simulate_season(rounds=2, start=date(9999, 12, 31))
