"""Take the README's pictures of the demo report: ``python -m tests.browser.pictures [DIR]``."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from sgzone.report.write import write_report
from tests.browser.chromium import DESKTOP, PHONE, browser, look, picture
from tests.report.seasons import demo, season

VIEWS = {
    "season.png": ("summary", DESKTOP, 1010, False),
    "demo-grid.png": ("grid", DESKTOP, 760, False),
    "demo-proximity.png": ("proximity", DESKTOP, 1330, False),
    "demo-dark.png": ("grid", DESKTOP, 760, True),
    "demo-phone.png": ("summary", PHONE, 1300, False),
}
"""File -> the section at its top, the screen, the height of the picture, dark or not."""


def take(folder: Path) -> list[Path]:
    """Write the pictures into a folder and return their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    with tempfile.TemporaryDirectory() as where, season(demo()) as store, browser() as driver:
        page = Path(where) / "report.html"
        write_report(page, store)
        for name, (section, screen, height, dark) in VIEWS.items():
            look(driver, page, screen, dark=dark)
            top = driver.execute_script(
                "const named = document.getElementById(arguments[0]);"
                "const at = named && (named.closest('section') || named);"
                "return at ? Math.round(at.getBoundingClientRect().top + scrollY) - 24 : 0",
                section,
            )
            paths.append(folder / name)
            paths[-1].write_bytes(picture(driver, screen[0], height, top))
    return paths


if __name__ == "__main__":
    for path in take(Path(sys.argv[1] if len(sys.argv) > 1 else "reports")):
        sys.stdout.write(f"{path}\n")
