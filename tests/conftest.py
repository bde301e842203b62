"""Hypothesis runs the same examples every time; where CI is set, a missing tool is a failure."""

from __future__ import annotations

import os
from collections.abc import Generator

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "fixed",
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
settings.load_profile("fixed")

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
