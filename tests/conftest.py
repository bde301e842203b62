"""Hypothesis runs the same examples every time; where CI is set, a missing tool is a failure."""

from __future__ import annotations

import gc
import os
import tempfile
from collections import Counter
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from sgzone.cards import clock
from tests import shared

settings.register_profile(
    "fixed",
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
settings.load_profile("fixed")

TODAY = "2026-12-31"
"""The day of every test, also of the processes it starts: no card of the tests is later."""

_SHARED = pytest.StashKey[tempfile.TemporaryDirectory[str]]()


def pytest_configure(config: pytest.Config) -> None:
    if shared.FOLDER not in os.environ:  # what xdist starts has it from the first process
        config.stash[_SHARED] = tempfile.TemporaryDirectory(prefix="sgzone-tests-")
        os.environ[shared.FOLDER] = config.stash[_SHARED].name
    os.environ[clock.VARIABLE] = TODAY
    for name in ("UNITS", "BENCHMARK", "PLAYER"):  # what the person at this machine set for theirs
        os.environ.pop(f"SGZONE_{name}", None)
    # the user's own folder of copies is none of the tests'
    os.environ["SGZONE_CACHE"] = str(Path(os.environ[shared.FOLDER], "cache"))


def pytest_unconfigure(config: pytest.Config) -> None:
    if _SHARED in config.stash:
        del os.environ[shared.FOLDER]
        config.stash[_SHARED].cleanup()


@pytest.hookimpl(tryfirst=True)  # before `-m` chooses
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of a test marked ``repeats`` only its first cases are for every change, the rest are long."""
    seen: Counter[str] = Counter()
    for item in items:
        if (mark := item.get_closest_marker("repeats")) is not None:
            test = item.nodeid.partition("[")[0]
            seen[test] += 1
            if seen[test] > mark.kwargs.get("keep", 1):
                item.add_marker(pytest.mark.long)


def pytest_collection_finish() -> None:
    """Leave what is imported out of later collections of garbage: it stays to the end.

    A library that asks for a whole one at every call (statsmodels does) would walk it each time.
    """
    gc.collect()
    gc.freeze()


MISSING = "Skipped: needs "
"""How the reason begins where a test is skipped for want of a tool that can be installed."""


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    why = report.longrepr[2] if isinstance(report.longrepr, tuple) else ""
    if report.skipped and why.startswith(MISSING) and os.environ.get("CI"):
        report.outcome = "failed"
        report.longrepr = f"{why} (skipped where CI is not set)"
    return report
