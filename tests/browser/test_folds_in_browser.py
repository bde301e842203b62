"""On a phone the page opens at the answer and folds the rest; nothing folded is out of reach."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

from tests.browser import axe
from tests.browser.chromium import DESKTOP, DRAW_SECONDS, PHONE, complaints, look, printed, there
from tests.report.seasons import demo_page, demo_report

pytestmark = [
    pytest.mark.long,
    pytest.mark.browser,
    pytest.mark.skipif(
        not there(), reason="needs chromium and chromium-driver: apt-get install them"
    ),
]

OPENED = 3
FOLDS = "return [...document.querySelectorAll('.fold')].map(fold => fold.open)"
SHOWN = """return [...document.querySelectorAll('.folded')]
.map(e => e.checkVisibility({contentVisibilityAuto: true}))"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("folds") / "report.html"
    path.write_text(demo_page(), encoding="utf-8")
    return path


def _sections() -> list[str]:
    return [section.id for section in demo_report("plain").page.sections]


def _bottom(driver: Chrome, selector: str) -> float:
    return float(
        driver.execute_script(
            "return document.querySelector(arguments[0]).getBoundingClientRect().bottom", selector
        )
    )


def _visible(driver: Chrome, section: str) -> bool:
    return bool(
        driver.execute_script(
            "const at = document.getElementById(arguments[0]);"
            "const box = at.getBoundingClientRect();"
            "return at.checkVisibility({contentVisibilityAuto: true}) && box.height > 100 "
            "&& box.top < innerHeight && box.bottom > 0",
            section,
        )
    )


def test_a_phone_opens_at_the_answer(driver: Chrome, page: Path) -> None:
    look(driver, page, PHONE)
    assert _bottom(driver, ".summary") < PHONE[1] / 2
    assert _bottom(driver, "header") < PHONE[1] / 7
    bars = driver.execute_script(
        "return [...document.querySelectorAll('#by-part .layer_0_marks path')]"
        ".filter(bar => bar.getBoundingClientRect().bottom < innerHeight).length"
    )
    assert bars >= 5  # the parts that cost most


def test_a_phone_folds_all_but_the_first_three(driver: Chrome, page: Path) -> None:
    look(driver, page, PHONE)
    assert driver.execute_script(FOLDS) == [False] * (len(_sections()) - OPENED)
    assert not driver.execute_script("return document.querySelector('.contents').open")
    assert all(_count(driver, f"section#{name}") for name in _sections()[:OPENED])
    assert _count(driver, ".fold .live.drawn") == 0  # drawn when they open
    look(driver, page, DESKTOP)
    assert set(driver.execute_script(FOLDS)) == {True}
    assert driver.execute_script("return document.querySelector('.contents').open")


def _count(driver: Chrome, selector: str) -> int:
    return len(driver.find_elements(By.CSS_SELECTOR, selector))


def test_a_fold_opens_by_the_keyboard_and_draws_its_charts(driver: Chrome, page: Path) -> None:
    look(driver, page, PHONE)
    summary = driver.find_element(By.CSS_SELECTOR, "details:has(> #grid) > summary")
    summary.send_keys(Keys.ENTER)
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: _count(d, "#grid .live.drawn svg") == 2)
    widths = driver.execute_script(
        "return [...document.querySelectorAll('#grid .live svg')].map(s => s.clientWidth)"
    )
    assert min(widths) > 250
    assert complaints(driver) == []
    if axe.there():
        assert axe.grave(axe.violations(driver)) == []


@pytest.mark.parametrize("scripts", [True, False])
def test_a_link_into_a_fold_opens_it(driver: Chrome, page: Path, scripts: bool) -> None:
    look(driver, page, PHONE)
    driver.get("about:blank")
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not scripts})
    try:
        driver.get(f"{page.resolve().as_uri()}#why")
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: _visible(d, "why"))
    heading = "return document.getElementById('why-title').getBoundingClientRect().top"
    WebDriverWait(driver, DRAW_SECONDS).until(  # it scrolls there smoothly
        lambda d: -5 < d.execute_script(heading) < PHONE[1] / 2
    )
    assert not _visible(driver, "clubs")


def test_without_scripts_a_desk_shows_all(driver: Chrome, page: Path) -> None:
    look(driver, page, DESKTOP)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        driver.get(page.resolve().as_uri())
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert set(driver.execute_script(SHOWN)) == {True}
    assert driver.execute_script(
        "return document.querySelector('nav li').checkVisibility({contentVisibilityAuto: true})"
    )


@pytest.mark.parametrize("scripts", [True, False])
def test_a_phone_prints_every_section(
    driver: Chrome, page: Path, tmp_path: Path, scripts: bool
) -> None:
    look(driver, page, PHONE)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not scripts})
    try:
        driver.get(page.resolve().as_uri())
        path = tmp_path / "page.pdf"
        path.write_bytes(printed(driver))
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert path.stat().st_size > 100_000
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", path, "-"], capture_output=True, text=True, check=True
        ).stdout
        assert "Never delay play" in text  # in the last section
        for section in demo_report("plain").page.sections:
            assert " ".join(section.title.split()) in " ".join(text.split())
            for sentence in section.lead:
                assert all(word in text for word in sentence.split()), sentence
    if scripts:
        assert set(driver.execute_script(FOLDS)) == {False}  # as it was
