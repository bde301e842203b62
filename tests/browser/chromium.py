"""Debian's Chromium, driven without a window and without a word to the network."""

from __future__ import annotations

import base64
import json
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.support.ui import WebDriverWait

CHROMIUM, DRIVER = Path("/usr/bin/chromium"), Path("/usr/bin/chromedriver")
FLAGS = (
    *("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    "--force-color-profile=srgb",
)
DESKTOP, PHONE = (1280, 900), (360, 740)
DRAW_SECONDS = 30
_RUNS_OUT = 500  # pixels below which a screen counts as a phone

_CUT = """
const over = [];
for (const chart of document.querySelectorAll('svg')) {
  const room = chart.getBoundingClientRect();
  for (const text of chart.querySelectorAll('text')) {
    const box = text.getBoundingClientRect();
    const far = Math.max(room.left - box.left, box.right - room.right,
                         room.top - box.top, box.bottom - room.bottom);
    if (box.width && far > 1) over.push([text.textContent, Math.round(far * 10) / 10]);
  }
}
return over;"""


def there() -> bool:
    """Return whether browser and driver are installed."""
    return CHROMIUM.exists() and DRIVER.exists()


@contextmanager
def browser() -> Iterator[webdriver.Chrome]:
    """Start a browser with a fresh profile; its console and its requests are recorded."""
    profile = tempfile.mkdtemp(prefix="sgzone-browser-")
    options = Options()
    options.binary_location = str(CHROMIUM)
    for flag in (*FLAGS, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(str(DRIVER)))
    try:
        driver.get("about:blank")  # or the requests of the browser's own first page go on
        yield driver
    finally:
        driver.quit()
        shutil.rmtree(profile, ignore_errors=True)


def look(
    driver: webdriver.Chrome, page: Path, screen: tuple[int, int] = DESKTOP, *, dark: bool = False
) -> None:
    """Open a page on a screen of this size and wait until its charts are drawn."""
    width, height = screen
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < _RUNS_OUT}
    scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
    driver.get(page.resolve().as_uri())
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.execute_script(
            "return !document.scripts.length || "  # a page without a chart has none
            "document.documentElement.classList.contains('drawn')"
        )
    )


def cut(driver: webdriver.Chrome) -> list[list[object]]:
    """Return the words of the page's charts that reach over their chart's edge, and how far."""
    found: list[list[object]] = driver.execute_script(_CUT)
    return found


def requests(driver: webdriver.Chrome) -> list[str]:
    """Return the address of every request since the last call."""
    log: list[dict[str, Any]] = driver.get_log("performance")  # type: ignore[no-untyped-call]
    messages = [json.loads(entry["message"])["message"] for entry in log]
    return [
        message["params"]["request"]["url"]
        for message in messages
        if message["method"] == "Network.requestWillBeSent"
    ]


def picture(driver: webdriver.Chrome, width: int, height: int, top: int = 0) -> bytes:
    """Return a part of the page as PNG."""
    clip = {"x": 0, "y": top, "width": width, "height": height, "scale": 1}
    shot = driver.execute_cdp_cmd(
        "Page.captureScreenshot", {"captureBeyondViewport": True, "clip": clip}
    )
    return base64.b64decode(shot["data"])


def printed(driver: webdriver.Chrome) -> bytes:
    """Return the page printed on A4 as PDF."""
    paper = {"preferCSSPageSize": True, "paperWidth": 8.27, "paperHeight": 11.69}
    return base64.b64decode(driver.execute_cdp_cmd("Page.printToPDF", paper)["data"])


def complaints(driver: webdriver.Chrome) -> list[dict[str, Any]]:
    """Return what the browser's console holds."""
    return list(driver.get_log("browser"))  # type: ignore[no-untyped-call]
