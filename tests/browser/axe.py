"""axe-core in the browser: checks of accessibility, from npm, its version in the Makefile."""

from __future__ import annotations

from pathlib import Path

from selenium.webdriver import Chrome

SCRIPT = Path(__file__).parents[2] / "node_modules" / "axe-core" / "axe.min.js"
GRAVE = ("serious", "critical")
_RUN = """
const done = arguments[arguments.length - 1];
const asked = arguments[0] ? {runOnly: {type: 'rule', values: arguments[0]}} : {};
axe.run(document, {...asked, resultTypes: ['violations']}).then(
  found => done(found.violations.map(v => [v.id, v.impact, v.nodes.map(n => n.html)])),
  wrong => done([['axe itself', 'critical', [String(wrong)]]]));
"""

Finding = tuple[str, str, list[str]]
"""A rule's name, how grave axe-core calls its breach, and the elements that break it."""


def there() -> bool:
    """Return whether axe-core is installed (``make check`` sees to it where there is npm)."""
    return SCRIPT.exists()


def violations(driver: Chrome, rules: tuple[str, ...] = ()) -> list[Finding]:
    """Return what breaks the rules (all of axe-core's where none is named) on the open page."""
    driver.execute_script(SCRIPT.read_text(encoding="utf-8"))
    found = driver.execute_async_script(_RUN, list(rules) or None)
    return [(name, impact, elements) for name, impact, elements in found]


def grave(findings: list[Finding]) -> list[Finding]:
    """Return the serious and critical ones."""
    return [finding for finding in findings if finding[1] in GRAVE]
