"""The report in a real browser: drawn, silent, offline, on a desk, on a phone, in the dark."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from sgzone.report.asked import Asked
from sgzone.report.charts.theme import DARK, LIGHT
from sgzone.report.player import player_report
from sgzone.report.screen.html import to_html
from sgzone.words.why import main_causes
from tests.browser.chromium import (
    DESKTOP,
    DRAW_SECONDS,
    PHONE,
    complaints,
    look,
    printed,
    requests,
    there,
)
from tests.report.seasons import HOSTILE, ONE_HOLE, ONLY_PUTTS, ask, card, demo, demo_page, season

pytestmark = [
    pytest.mark.long,
    pytest.mark.browser,
    pytest.mark.skipif(
        not there(), reason="needs chromium and chromium-driver: apt-get install them"
    ),
]

PROBES = "return [...document.querySelectorAll(arguments[0])].length"


@pytest.fixture(scope="module")
def asked() -> Iterator[Asked]:
    with season(demo()) as store:
        yield ask(store)


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("browser") / "report.html"
    path.write_text(demo_page(), encoding="utf-8")
    return path


def _count(driver: Chrome, selector: str) -> int:
    return int(driver.execute_script(PROBES, selector))


def _wait_for_charts(driver: Chrome, number: int) -> None:
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: _count(d, ".live.drawn") == number, f"{number} charts are not drawn"
    )


def _rgb(colour: str) -> str:
    return f"rgb({', '.join(str(int(colour[at : at + 2], 16)) for at in (1, 3, 5))})"


def test_the_page_is_silent_and_asks_nothing_of_the_network(driver: Chrome, page: Path) -> None:
    requests(driver)
    look(driver, page)
    assert complaints(driver) == []
    asked = [url for url in requests(driver) if not url.startswith("data:")]
    assert asked == [page.resolve().as_uri()]
    stored = driver.execute_script("return [document.cookie, localStorage.length]")
    assert stored == ["", 0]


def test_the_policy_stops_a_request_and_a_foreign_script(driver: Chrome, page: Path) -> None:
    """The negative control: were the policy not in force, these would get through."""
    look(driver, page)
    driver.execute_script(
        "const s = document.createElement('script'); s.textContent = 'window.foreign = 1';"
        "document.body.append(s);"
        "const i = new Image(); i.src = 'http://127.0.0.1:9/x.png'; document.body.append(i);"
    )
    assert driver.execute_script("return window.foreign === undefined")
    said = " ".join(entry["message"] for entry in complaints(driver))
    assert "script-src" in said
    assert "img-src" in said


def test_every_mark_of_every_chart_is_drawn(driver: Chrome, page: Path, asked: Asked) -> None:
    look(driver, page)
    assert _count(driver, "#by-part .layer_0_marks path") == len(asked.parts)
    assert _count(driver, "#by-part .mark-text text") >= len(asked.parts)  # a number a bar
    sure = int(asked.parts["low_per_round"].notna().sum())
    assert _count(driver, "#by-part .mark-rule.role-mark line") == sure + 1  # and the zero line
    off = asked.grid[asked.grid["lie"] != "green"]
    judged = int(off["shrunk_per_shot"].notna().sum())
    assert _count(driver, "#grid-off-green .mark-rect path") == len(off)
    assert _count(driver, "#grid-off-green .layer_3_marks text") == judged
    assert _count(driver, "#grid-putts .mark-rect path") == len(asked.grid) - len(off)
    for lie, points in asked.points.groupby("lie"):
        panel = f"#proximity-{lie}"
        assert _count(driver, f"{panel} .mark-symbol path") == len(points)
        medians = asked.medians[asked.medians["lie"] == lie]["finish_ft"].notna().sum()
        assert _count(driver, f"{panel} .mark-rule.role-mark line") == medians
        reached = asked.break_even[asked.break_even["lie"] == lie]["distance_yd"]
        bands = points.groupby("band")["distance_yd"].agg(["min", "max"])
        pieces = sum(
            reached.between(low - 1, high + 1, inclusive="neither").any()
            for low, high in bands.itertuples(index=False)
        )  # a piece a band, and the wide shadow of each
        assert _count(driver, f"{panel} .mark-line path") == 2 * pieces
    causes = main_causes(asked.why)
    assert _count(driver, "#why-causes .mark-rect path") == len(causes)
    ranged = int(causes["low"].notna().sum())
    assert _count(driver, "#why-causes .mark-rule.role-mark line") == ranged + 1
    ranges = "#trend-total .mark-rect:not([class*=days_brush]) path"
    assert _count(driver, ranges) == 2  # of the halves
    assert _count(driver, "#trend-total .mark-rect[class*=days_brush] path") == 2  # fill and hold


def test_bars_are_as_long_as_the_numbers_say(driver: Chrome, page: Path, asked: Asked) -> None:
    look(driver, page)
    widths = driver.execute_script(
        "return [...document.querySelectorAll('#by-part .layer_0_marks path')]"
        ".map(p => p.getBBox().width)"
    )
    values = asked.parts["gained_per_round"].abs()
    scale = widths[0] / values.iloc[0]
    assert widths == pytest.approx(list(values * scale), abs=0.6)


def test_a_tooltip_has_units_and_n(driver: Chrome, page: Path) -> None:
    look(driver, page)
    bar = driver.find_element(By.CSS_SELECTOR, "#by-part .layer_0_marks path")
    ActionChains(driver).move_to_element(bar).perform()
    said = driver.find_element(By.ID, "vg-tooltip-element").text
    assert "as played" in said
    assert "best estimate" in said
    assert re.search(r"shots \(n\)\s*:?\s*\d", said)
    assert "undefined" not in said
    assert complaints(driver) == []


def test_a_phone_has_no_sideways_scroll(driver: Chrome, page: Path) -> None:
    look(driver, page, PHONE)
    for summary in driver.find_elements(By.CSS_SELECTOR, "details > summary"):
        driver.execute_script("if (!arguments[0].parentElement.open) arguments[0].click()", summary)
    _wait_for_charts(driver, 18)
    width = driver.execute_script("return document.documentElement.scrollWidth")
    assert width == PHONE[0]
    edges = driver.execute_script(
        "return [...document.querySelectorAll('.live svg')]"
        ".map(s => s.getBoundingClientRect().right)"
    )
    assert len(edges) == 18
    assert max(edges) <= PHONE[0]
    assert complaints(driver) == []


def test_the_dark_look_reaches_page_and_charts(driver: Chrome, page: Path) -> None:
    ground = "return getComputedStyle(document.body).backgroundColor"
    fill = "return getComputedStyle(document.querySelector('#by-part .layer_0_marks path')).fill"
    look(driver, page, dark=True)
    assert driver.execute_script(ground) == _rgb(DARK.paper)
    assert driver.execute_script(fill) == _rgb(DARK.loss)
    look(driver, page)
    assert driver.execute_script(ground) == _rgb(LIGHT.paper)
    assert driver.execute_script(fill) == _rgb(LIGHT.loss)
    assert complaints(driver) == []


def test_the_keyboard_reaches_contents_and_tables(driver: Chrome, page: Path) -> None:
    look(driver, page)
    names = driver.execute_script(
        "return [...document.querySelectorAll('a[href], summary, [tabindex]')]"
        ".filter(e => e.tabIndex >= 0).length"
    )
    assert names >= 7 + 3 + 4  # contents, charts' numbers, open tables
    unnamed = driver.execute_script(
        "return [...document.querySelectorAll('[role=img], [role=group], img, nav')]"
        ".filter(e => !(e.getAttribute('aria-label') || e.getAttribute('alt'))).length"
    )
    assert unnamed == 0
    words = driver.execute_script(
        "return [...document.querySelectorAll('.live[role=img]:has(> [aria-hidden=true] svg)')]"
        ".map(e => [e.getAttribute('aria-label'), e.parentElement.querySelector('img').alt])"
    )
    assert len(words) == 18
    assert all(live == still and len(still) > 60 for live, still in words)  # Vega has not undone it
    levels = driver.execute_script(
        "return [...document.querySelectorAll('h1, h2, h3')].map(h => +h.tagName[1])"
    )
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_paper_is_light_and_cuts_no_chart(driver: Chrome, page: Path, tmp_path: Path) -> None:
    look(driver, page, dark=True)
    pdf = tmp_path / "report.pdf"
    pdf.write_bytes(printed(driver))
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    shown = driver.execute_script(
        "return ['.still', '.live', 'nav', '.numbers'].map(s => "
        "[...document.querySelectorAll(s)].map(e => getComputedStyle(e).display))"
    )
    kept = driver.execute_script(
        "return [...document.querySelectorAll('.panel')].map(e => getComputedStyle(e).breakInside)"
    )
    ground = driver.execute_script("return getComputedStyle(document.body).backgroundColor")
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert [set(kinds) for kinds in shown] == [{"block"}, {"none"}, {"none"}, {"none"}]
    assert set(kept) == {"avoid"}
    assert ground == _rgb(LIGHT.paper)
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", pdf, "-"], capture_output=True, text=True, check=True
        ).stdout
        assert "clear loss, 298 shots" in text  # the stills print as text, not as pixels
        assert "Cautions" in text


def test_a_page_without_scripts_shows_the_stills(driver: Chrome, page: Path) -> None:
    look(driver, page)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    driver.get(page.resolve().as_uri())
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    stills = driver.find_elements(By.CSS_SELECTOR, "img.still")
    assert len(stills) == 18
    seen = "return arguments[0].checkVisibility({contentVisibilityAuto: true})"
    assert all(driver.execute_script(seen, still) for still in stills)
    sizes = driver.execute_script(
        "return [...document.querySelectorAll('img.still')].map(i => i.naturalWidth)"
    )
    assert min(sizes) > 250


def test_a_hostile_name_does_nothing(driver: Chrome, tmp_path: Path) -> None:
    with season(card(tmp_path, ONLY_PUTTS, HOSTILE)) as store:
        path = tmp_path / "report.html"
        path.write_text(to_html(player_report(ask(store)).page), encoding="utf-8")
    look(driver, path, DESKTOP)
    assert complaints(driver) == []
    title = driver.execute_script("return document.querySelector('h1').textContent")
    assert title == f"{HOSTILE}: the strokes from 150 yards in"


FEW_ROUNDS = "".join(
    f"2026-05-01,{hole},1,rough,{60 + hole},\n2026-05-01,{hole},2,green,{hole},\n"
    f"2026-05-01,{hole},3,green,1,holed\n"
    for hole in range(1, 13)
)


@pytest.mark.parametrize(("rows", "charts"), [(ONE_HOLE, 0), (ONLY_PUTTS, 4), (FEW_ROUNDS, 1)])
def test_a_small_season_draws_no_empty_axis(
    driver: Chrome, tmp_path: Path, rows: str, charts: int
) -> None:
    with season(card(tmp_path, rows)) as store:
        path = tmp_path / "report.html"
        path.write_text(to_html(player_report(ask(store)).page), encoding="utf-8")
    look(driver, path)
    assert complaints(driver) == []
    drawn = driver.find_elements(By.CSS_SELECTOR, ".live")
    assert len(drawn) == charts
    for live in drawn:
        assert live.find_elements(By.CSS_SELECTOR, ".mark-rect path, .mark-symbol path")
    text = driver.find_element(By.TAG_NAME, "body").text
    assert not re.search(r"\b(NaN|undefined|null|None)\b", text)
