"""The season's line is brushed for days; the address keeps choice and place; charts are taken."""

from __future__ import annotations

import io
import struct
import time
from pathlib import Path

import pandas as pd
import pytest
from selenium.webdriver import ActionChains, Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from sgzone.report.write import write_report
from sgzone.season.store import open_store
from sgzone.words.screen.chosen import TEXT
from tests.browser import axe
from tests.browser.chromium import DESKTOP, DRAW_SECONDS, PHONE, complaints, look, there
from tests.demo_season import demo_file

pytestmark = [
    pytest.mark.long,
    pytest.mark.browser,
    pytest.mark.skipif(
        not there(), reason="needs chromium and chromium-driver: apt-get install them"
    ),
]

SEASON = "#trend-total svg"
STATE = """
return ['since', 'until'].map(name => document.querySelector(`.choose [name=${name}]`).value)
  .concat(location.hash, document.querySelector('.told').textContent)"""
SCALE = """
const ticks = [...document.querySelectorAll('#trend-total .mark-symbol path')]
  .map(p => [p.__data__.datum.date, p.getBoundingClientRect()])
  .map(([day, box]) => [new Date(day).toLocaleDateString('sv'), box.x + box.width / 2]);
return ticks.sort((a, b) => a[1] - b[1])"""
BRUSH = """
const box = document.querySelector('#trend-total .days_brush path').getBoundingClientRect();
return [box.left, box.right]"""
SIDE = "return document.querySelector('#trend-total').getBoundingClientRect().top"


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("days") / "report.html"
    with open_store(demo_file(), read_only=True) as store:
        write_report(path, store)
    return path


def _bring(driver: Chrome) -> None:
    """Open the season's section where it is folded, and bring its chart to the middle."""
    driver.execute_script(
        "const fold = document.querySelector('#trend-total').closest('details');"
        "if (fold) fold.open = true"
    )
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.execute_script("return document.querySelector(arguments[0])", SEASON)
    )
    driver.execute_script(
        "document.querySelector(arguments[0])"
        ".scrollIntoView({block: 'center', behavior: 'instant'})",
        SEASON,
    )


def _until(driver: Chrome, days: tuple[str, str]) -> list[str]:
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: tuple(d.execute_script(STATE)[:2]) == days, str(driver.execute_script(STATE))
    )
    time.sleep(0.3)  # the charts have followed
    state: list[str] = driver.execute_script(STATE)
    return state


def _drag(driver: Chrome, start: float, end: float, height: float) -> None:
    hand = ActionChains(driver, duration=50)
    hand.w3c_actions.pointer_action.move_to_location(int(start), int(height))
    hand.w3c_actions.pointer_action.pointer_down()
    for step in range(1, 5):
        at = start + (end - start) * step / 4
        hand.w3c_actions.pointer_action.move_to_location(int(at), int(height))
    hand.w3c_actions.pointer_action.pointer_up()
    hand.perform()


def _middle(driver: Chrome) -> float:
    box = driver.find_element(By.CSS_SELECTOR, SEASON).rect
    return float(box["y"] + box["height"] / 2 - driver.execute_script("return scrollY"))


def test_a_brush_sets_the_days_and_nothing_brushed_is_no_choice(driver: Chrome, page: Path) -> None:
    look(driver, page)
    _bring(driver)
    days = driver.execute_script(SCALE)
    (first, left), (last, right) = days[8], days[19]
    before = driver.execute_script(SIDE)
    _drag(driver, left - 4, right + 4, _middle(driver))
    since, until, address, told = _until(driver, _near(driver))
    assert days[7][0] < since <= first
    assert last <= until < days[20][0]
    assert address == f"#since={since}&until={until}"
    assert f" in {len(days[8:20])} rounds" in told
    assert driver.execute_script(SIDE) == pytest.approx(before, abs=2)  # it stays under the hand
    _drag(driver, days[2][1], days[2][1], _middle(driver))
    assert _until(driver, ("", ""))[2:] == ["", TEXT["cleared"]]
    assert complaints(driver) == []


def _near(driver: Chrome) -> tuple[str, str]:
    """Return the days once there are some."""
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: d.execute_script(STATE)[0])
    since, until = driver.execute_script(STATE)[:2]
    return since, until


def test_the_fields_set_the_brush_and_clearing_clears_it(driver: Chrome, page: Path) -> None:
    look(driver, page)
    _bring(driver)
    places = dict(driver.execute_script(SCALE))
    days = sorted(places)
    driver.execute_script(
        "const field = document.querySelector('.choose [name=since]');"
        "field.value = arguments[0]; field.dispatchEvent(new Event('change', {bubbles: true}))",
        days[10],
    )
    _until(driver, (days[10], ""))
    left, right = driver.execute_script(BRUSH)
    assert left == pytest.approx(places[days[10]], abs=4)
    assert left < places[days[10]]
    assert right >= max(places.values()) - 1
    driver.execute_script("location.hash = arguments[0]", f"until={days[4]}&since={days[4]}")
    _until(driver, (days[4], days[4]))
    left, right = driver.execute_script(BRUSH)
    assert left < places[days[4]] < right
    assert right - left < 10
    driver.find_element(By.CSS_SELECTOR, ".clear").click()
    assert _until(driver, ("", ""))[2] == ""
    left, right = driver.execute_script(BRUSH)
    assert left == right
    assert complaints(driver) == []


def test_a_finger_brushes_too(driver: Chrome, page: Path) -> None:
    look(driver, page, PHONE)
    driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})
    try:
        _bring(driver)
        days, height = driver.execute_script(SCALE), _middle(driver)
        for kind, x in (
            *(("touchStart", days[10][1] - 2), ("touchMove", days[14][1])),
            *(("touchMove", days[20][1] + 2), ("touchEnd", None)),
        ):
            points = [] if x is None else [{"x": x, "y": height}]
            driver.execute_cdp_cmd(
                "Input.dispatchTouchEvent", {"type": kind, "touchPoints": points}
            )
        since, until = _near(driver)
    finally:
        driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": False})
    assert since <= days[10][0] < days[20][0] <= until
    assert complaints(driver) == []


def test_a_link_of_the_contents_keeps_the_choice(driver: Chrome, page: Path) -> None:
    look(driver, page)
    driver.execute_script("document.documentElement.style.scrollBehavior = 'auto'")
    driver.execute_script("location.hash = 'lie=rough&event=competition'")
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.execute_script(STATE)[3].startswith("As played")
    )
    told = driver.execute_script(STATE)[3]
    driver.find_element(By.CSS_SELECTOR, 'nav a[href="#proximity"]').click()
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: "at=" in d.execute_script(STATE)[2])
    assert driver.execute_script(STATE)[2:] == [
        "#event=competition&lie=rough&at=proximity",
        told,
    ]
    address = driver.current_url
    top = "return document.getElementById('proximity').getBoundingClientRect().top"
    assert 0 <= driver.execute_script(top) < 200
    driver.get("about:blank")
    driver.get(address)  # as who was sent the link
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.execute_script("return document.documentElement.classList.contains('drawn')")
    )
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: -5 <= d.execute_script(top) < 200)
    assert driver.execute_script(STATE)[3] == told
    driver.find_element(By.CSS_SELECTOR, ".clear").click()
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: d.execute_script(STATE)[2] == "#proximity")
    assert complaints(driver) == []


def _taken(driver: Chrome, folder: Path, name: str, selector: str) -> bytes:
    driver.execute_cdp_cmd(
        "Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(folder)}
    )
    driver.execute_script("document.querySelector(arguments[0]).click()", selector)
    path = folder / name
    WebDriverWait(driver, DRAW_SECONDS).until(lambda _: path.exists() and path.stat().st_size)
    return path.read_bytes()


def test_a_chart_of_a_choice_is_taken_as_it_is_shown(
    driver: Chrome, page: Path, tmp_path: Path
) -> None:
    look(driver, page, dark=True)
    link = '.take .svg[data-chart="proximity-rough"]'
    whole = _taken(driver, tmp_path, "proximity-rough.svg", link).decode()
    driver.execute_script("location.hash = 'lie=rough&club=54'")
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.find_element(By.CSS_SELECTOR, link).text == TEXT["take_chosen"]
    )
    chosen = _taken(driver, tmp_path, "proximity-rough-choice.svg", link).decode()
    dots = driver.execute_script(
        "return document.querySelectorAll('#proximity-rough .mark-symbol path').length"
    )
    assert 'fill="#fffefb"' in chosen  # its light look, on paper
    assert all(f">{words}<" in chosen for words in ("rough", "rough, 54", TEXT["as_played"]))
    assert " strokes<" not in chosen  # the count of all of them stays on the page
    assert whole.startswith("<svg")
    marks = driver.execute_script(
        "const svg = new DOMParser().parseFromString(arguments[0], 'image/svg+xml');"
        "return [...svg.querySelectorAll('.mark-symbol.role-mark path')].length",
        chosen,
    )
    assert marks == dots > 0
    bar = '.take .svg[data-chart="by-part"]'
    assert driver.find_element(By.CSS_SELECTOR, bar).text == TEXT["take"]
    again = _taken(driver, tmp_path, "by-part.svg", bar).decode()
    assert again.startswith("<svg")
    picture = _taken(driver, tmp_path, "proximity-rough-choice.png", f"{link} + button")
    wide, _ = struct.unpack(">II", picture[16:24])
    assert picture.startswith(b"\x89PNG")
    assert wide > 300
    assert _taken(driver, tmp_path, "chosen-chart.svg", '.take [data-chart="chosen-chart"]')
    table = _taken(driver, tmp_path, "choice.csv", ".chosen .csv").decode()
    sums = pd.read_csv(io.StringIO(table))
    assert list(sums) == ["part", "shots", "rounds", "gained_per_shot", "gained_per_round"]
    shown = driver.execute_script(
        "return [...document.querySelectorAll('.chosen tbody td:last-child')]"
        ".map(cell => cell.textContent)"
    )
    assert [float(cell.replace("\u2212", "-")) for cell in shown] == pytest.approx(
        sums["gained_per_round"].tolist(), abs=0.0051
    )
    assert complaints(driver) == []


def test_rows_are_chosen_by_their_lie_without_scripts(driver: Chrome, page: Path) -> None:
    look(driver, page)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        driver.get(page.resolve().as_uri())
        seen = (
            "for (const fold of document.querySelectorAll('.rows')) fold.open = true;"
            "return [...document.querySelectorAll('.rows tbody tr')]"
            ".filter(row => row.checkVisibility()).map(row => row.cells[2].textContent)"
        )
        every = driver.execute_script(seen)
        driver.execute_script("document.querySelector('.sieve [value=sand]').checked = true")
        sand = driver.execute_script(seen)
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert 0 < len(sand) < len(every)
    assert sand == [row for row in every if row.startswith("sand ")]


@pytest.mark.skipif(not axe.there(), reason="needs axe-core: `make check` gets it")
@pytest.mark.parametrize("screen", [DESKTOP, PHONE])
@pytest.mark.parametrize("dark", [False, True])
def test_brush_and_open_rows_are_accessible(
    driver: Chrome, page: Path, screen: tuple[int, int], dark: bool
) -> None:
    look(driver, page, screen, dark=dark)
    _bring(driver)
    driver.execute_script("for (const fold of document.querySelectorAll('details')) fold.open = 1")
    driver.execute_script("location.hash = 'since=2026-06-01&until=2026-08-01'")
    _until(driver, ("2026-06-01", "2026-08-01"))
    assert axe.violations(driver) == []
    assert driver.execute_script("return document.documentElement.scrollWidth") <= screen[0]
    assert complaints(driver) == []
