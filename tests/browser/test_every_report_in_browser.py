"""A squad, and two sides beside each other, in a real browser; and all pages' accessibility.

The page with two seasons is a season's page and one section more; the page with two benchmarks is
a block's page and one section more. So three pages are every kind of report.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pandas as pd
import pytest
import vl_convert
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from sgzone.report.paper import pdf
from sgzone.report.paper.order import on_paper
from sgzone.report.player import Report, player_report
from sgzone.report.screen.html import spec, to_html
from sgzone.report.squad import team_report
from sgzone.terms import PART_WORDS
from sgzone.words import squad as words
from tests.browser import axe
from tests.browser.chromium import (
    DESKTOP,
    DRAW_SECONDS,
    PHONE,
    complaints,
    cut,
    look,
    printed,
    requests,
    there,
)
from tests.report.seasons import HOSTILE, ONE_HOLE, ask, card, demo_report, season
from tests.report.squads import ask_all, squad

pytestmark = [
    pytest.mark.long,
    pytest.mark.browser,
    pytest.mark.skipif(
        not there(), reason="needs chromium and chromium-driver: apt-get install them"
    ),
]
needs_axe = pytest.mark.skipif(
    not axe.there(), reason="needs axe-core: `make check` gets it where npm is installed"
)

PLAYERS = ["Wim Zander", "Ada Lowry", HOSTILE, "Al Lime"]
KINDS = ("seasons", "benchmarks", "team")
BY_LOOK = ("color-contrast", "link-in-text-block", "target-size", "scrollable-region-focusable")
"""The rules whose answer hangs on colours or on the width of the screen."""
PAGE_PX = (297 - 2 * 18) / 25.4 * 96  # room of a printed A4 page, up and down
OPEN = "document.querySelectorAll('details').forEach(d => { d.open = arguments[0]; })"


@pytest.fixture(scope="module")
def reports(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Report]:
    with squad(tmp_path_factory.mktemp("squad"), PLAYERS) as store:
        team = team_report(ask_all(store))
    return {"seasons": demo_report("halves"), "benchmarks": demo_report("block"), "team": team}


@pytest.fixture(scope="module")
def pages(reports: dict[str, Report], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("kinds")
    paths = {kind: folder / f"{kind}.html" for kind in KINDS}
    for kind, path in paths.items():
        path.write_text(to_html(reports[kind].page), encoding="utf-8")
    return paths


def _count(driver: Chrome, selector: str) -> int:
    return len(driver.find_elements(By.CSS_SELECTOR, selector))


def _tip(driver: Chrome, selector: str) -> str:
    ActionChains(driver).move_to_element(driver.find_element(By.CSS_SELECTOR, selector)).perform()
    return driver.find_element(By.ID, "vg-tooltip-element").text


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_is_silent_asks_nothing_and_draws_all(
    driver: Chrome, pages: dict[str, Path], kind: str
) -> None:
    requests(driver)
    look(driver, pages[kind])
    assert complaints(driver) == []
    asked = [url for url in requests(driver) if not url.startswith("data:")]
    assert asked == [pages[kind].resolve().as_uri()]
    empty = driver.execute_script(
        "return [...document.querySelectorAll('.live')].filter(live => "
        "!live.querySelector('svg :is(.mark-rect, .mark-symbol, .mark-line) path')).map(l => l.id)"
    )
    assert empty == []
    assert cut(driver) == []
    text = driver.find_element(By.TAG_NAME, "body").text
    assert not re.search(r"\b(NaN|undefined|null|None)\b", text)


def test_a_squad_s_grid_has_a_cell_a_part_and_each_leads_to_its_player(
    driver: Chrome, pages: dict[str, Path], reports: dict[str, Report]
) -> None:
    look(driver, pages["team"])
    table = reports["team"].tables["squad"]
    names = list(dict.fromkeys(table["player"]))
    assert len(names) == len(PLAYERS)
    blank, known = (
        _count(driver, f"#squad-grid .mark-rect.layer_{layer}_marks path") for layer in (0, 1)
    )
    assert known == table["shrunk_low_per_round"].notna().sum()
    assert blank + known == len(table)
    said = _tip(driver, "#squad-grid .layer_1_marks path")
    assert "best estimate" in said
    assert re.search(r"shots \(n\)\s*:?\s*\d", said)
    assert "undefined" not in said
    for number, name in enumerate(names, start=1):
        own = table[table["player"] == name]
        page = f"#player_{number}"
        parts = own["part"].isin(PART_WORDS).sum()
        assert _count(driver, f"{page}-by-part .layer_0_marks path") == parts
    ActionChains(driver).click(_last_cell(driver)).perform()  # its number lies over it
    WebDriverWait(driver, 5).until(
        lambda d: d.current_url.endswith(f"#player_{len(names)}") and len(d.window_handles) == 1
    )
    assert complaints(driver) == []


def _last_cell(driver: Chrome) -> WebElement:
    """Return a cell of the last player, in the grid's last row."""
    cells = driver.find_elements(By.CSS_SELECTOR, "#squad-grid .layer_1_marks path")
    return max(cells, key=lambda cell: cell.location["y"])


def test_a_squad_s_tables_lead_to_its_players(driver: Chrome, pages: dict[str, Path]) -> None:
    """Without a mouse and without scripts too: they are links."""
    look(driver, pages["team"])
    driver.execute_script(OPEN, True)
    links = driver.find_elements(By.CSS_SELECTOR, "#squad tbody th a")
    assert len(links) > 2 * len(PLAYERS)  # under the grid, and who played
    led = {(link.text, str(link.get_attribute("href")).partition("#")[2]) for link in links}
    heads = {
        (head.text, str(head.get_attribute("id")).removesuffix("-title"))
        for head in driver.find_elements(By.CSS_SELECTOR, "h2[id^=player_]")
    }
    assert led == heads


@pytest.mark.parametrize("screen", [DESKTOP, PHONE])
def test_a_squad_s_grid_fits_its_screen(
    driver: Chrome, pages: dict[str, Path], screen: tuple[int, int]
) -> None:
    look(driver, pages["team"], screen)
    wide, said = driver.execute_script(
        "const svg = document.querySelector('#squad-grid svg');"
        "return [svg.getBoundingClientRect().right, "
        "[...svg.querySelectorAll('.layer_4_marks text')].map(t => t.getAttribute('opacity'))]"
    )
    assert wide <= screen[0]
    assert set(said) <= ({"0"} if screen == PHONE else {None, "1"})  # ranges need room
    assert cut(driver) == []


def test_a_squad_is_by_initials_unranked_and_warned(driver: Chrome, pages: dict[str, Path]) -> None:
    look(driver, pages["team"])
    driver.execute_script(OPEN, True)
    text = driver.find_element(By.TAG_NAME, "body").text
    source = pages["team"].read_text(encoding="utf-8")
    assert not re.search(r"Zander|Lowry|Lime|evil|alert\(1\)", text + source)
    heads = driver.execute_script(
        "return [...document.querySelectorAll('section h2[id^=player_]')].map(h => h.textContent)"
    )
    rows = driver.execute_script(
        "return [...document.querySelectorAll('#squad tbody th')].map(t => t.textContent)"
    )
    assert heads == ["SE", "AL 1", "AL 2", "WZ"]  # by name; "<" comes first
    assert list(dict.fromkeys(rows)) == heads
    assert [text.count(s) for s in (*words.PRIVATE, *words.NO_RANKING)] == [1, 1, 1]
    assert words.BY_INITIALS in text
    assert "do not compare" in text
    assert not re.search(r"\b(rank|ranked|position|best player|worst player)\b", text)


def test_a_pair_has_a_dot_and_a_ring_a_part(
    driver: Chrome, pages: dict[str, Path], reports: dict[str, Report]
) -> None:
    for kind in ("seasons", "benchmarks"):
        look(driver, pages[kind])
        table = reports[kind].tables["against"]
        table = table[table["part"].isin(PART_WORDS)]
        sides = (table["gained_per_round"], table["gained_per_round_other"])
        lows = pd.concat([table["low_per_round"], table["low_per_round_other"]])
        values = sum(int(side.notna().sum()) for side in sides)
        assert values >= 16
        assert _count(driver, "#pairs .mark-symbol.role-mark path") == values
        assert _count(driver, "#pairs .mark-rule.role-mark line") == lows.notna().sum() + 1
        said = _tip(driver, "#pairs .mark-symbol.role-mark path")
        assert "as played" in said
        assert re.search(r"shots \(n\)\s*:?\s*\d", said)
        assert "undefined" not in said
        notes = driver.find_element(By.CSS_SELECTOR, "#against .notes").text
        assert ("do not compare" in notes) == (kind == "seasons")
    assert complaints(driver) == []


@pytest.mark.parametrize("kind", ["seasons", "team"])
def test_a_phone_has_no_sideways_scroll(driver: Chrome, pages: dict[str, Path], kind: str) -> None:
    look(driver, pages[kind], PHONE)
    driver.execute_script(OPEN, True)
    WebDriverWait(driver, DRAW_SECONDS).until(lambda d: not _count(d, ".live:not(.drawn)"))
    width = driver.execute_script("return document.documentElement.scrollWidth")
    edges = driver.execute_script(
        "return [...document.querySelectorAll('.live svg')]"
        ".map(s => s.getBoundingClientRect().right)"
    )
    assert width == PHONE[0]
    assert len(edges) > 4
    assert max(edges) <= PHONE[0]
    assert cut(driver) == []


@pytest.mark.parametrize("kind", ["seasons", "team"])
def test_paper_cuts_no_chart(
    driver: Chrome, pages: dict[str, Path], tmp_path: Path, kind: str
) -> None:
    look(driver, pages[kind])
    sheets = tmp_path / "report.pdf"
    sheets.write_bytes(printed(driver))
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    panels = driver.execute_script(
        "return [...document.querySelectorAll('.panel')].map(p => "
        "[getComputedStyle(p).breakInside, p.getBoundingClientRect().height])"
    )
    live = _count(driver, ".live")
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert len(panels) == live
    assert {kept for kept, _ in panels} == {"avoid"}
    assert min(height for _, height in panels) > 60
    assert max(height for _, height in panels) < PAGE_PX
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", "-layout", sheets, "-"], capture_output=True, text=True, check=True
        ).stdout
        starts = {"seasons": ("Where strokes go",), "team": ("SE", "AL 1", "AL 2", "WZ")}[kind]
        assert text.count("strokes per round") >= len(starts)
        tops = {page.strip().split("\n")[0].strip() for page in text.split("\f")}
        assert kind == "seasons" or set(starts) <= tops  # a sheet for each player


def test_no_word_of_a_chart_on_paper_is_cut_off(driver: Chrome, tmp_path: Path) -> None:
    """In metres: the axes end between two ticks there, so a label stands near the edge."""
    drawn = [
        vl_convert.vegalite_to_svg(pdf.fitted(spec(panel), pdf.room(figure, width), 0.66))
        for row in pdf.in_rows(on_paper(demo_report("metric").page).sections)
        for section, width in zip(row, pdf.widths(row), strict=True)
        for figure in section.figures
        for panel in figure.panels
    ]
    assert len(drawn) > 12
    whole, path = "\n".join(drawn), tmp_path / "charts.html"
    for text, over in ((whole, False), (whole.replace("<text ", '<text dx="900" '), True)):
        path.write_text(f"<meta charset='utf-8'>{text}", encoding="utf-8")
        driver.get(path.as_uri())
        assert bool(cut(driver)) == over, cut(driver)


def test_a_hostile_player_and_benchmark_do_nothing(driver: Chrome, tmp_path: Path) -> None:
    own = tmp_path / "<img src=x onerror=alert(1)>.csv"
    lies = ("fairway,1,yd,2.1", "fairway,150,yd,3.0", "green,1,ft,1.0", "green,60,ft,2.2")
    lines = "".join(f"{line},me\n" for line in lies)
    own.write_text(f"lie,distance,unit,strokes,source\n{lines}", encoding="utf-8")
    path = tmp_path / "report.html"
    with season(card(tmp_path, ONE_HOLE, HOSTILE)) as store:
        alone = player_report(ask(store, other=str(own)))
        team = team_report(ask_all(store, names=True))
    for made, place in ((alone, "#against-title"), (team, "#player_1-title")):
        path.write_text(to_html(made.page), encoding="utf-8")
        look(driver, path)
        assert complaints(driver) == []
        said = driver.execute_script(
            "return document.querySelector(arguments[0]).textContent", place
        )
        assert ("onerror=alert(1)>" in said) or said == HOSTILE
        assert _count(driver, "img:not(.still)") == 0


@needs_axe
@pytest.mark.parametrize("kind", KINDS)
def test_axe_core_finds_nothing_serious(driver: Chrome, pages: dict[str, Path], kind: str) -> None:
    """All rules once with every table open; what hangs on colour or width in all four looks."""
    for screen in (DESKTOP, PHONE):
        for dark in (False, True):
            look(driver, pages[kind], screen, dark=dark)
            first = screen == DESKTOP and not dark
            driver.execute_script(OPEN, first)
            found = axe.violations(driver, () if first else BY_LOOK)
            assert axe.grave(found) == [], (screen, dark)


@needs_axe
def test_axe_core_sees_planted_faults(
    driver: Chrome, pages: dict[str, Path], tmp_path: Path
) -> None:
    """The negative control: a pale text, a picture and a link without words, a nameless image."""
    text = pages["team"].read_text(encoding="utf-8")
    grid = r'(<div class="live" id="squad-grid" role="img") aria-label="[^"]*"'
    faults = (
        (grid, r"\1", "role-img-alt"),
        (r'(<img class="still")( src="[^"]*") alt="[^"]*"', r"\1\2", "image-alt"),
        (r"--soft: #[0-9a-f]{6}", "--soft: #dddddd", "color-contrast"),
        (r'(<a href="#squad">)[^<]*', r"\1", "link-name"),
    )
    for pattern, instead, _ in faults:
        text, times = re.subn(pattern, instead, text)
        assert times
    # The planted style sheet is another than the policy names, so the policy goes too.
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    path = tmp_path / "faulty.html"
    path.write_text(text, encoding="utf-8")
    look(driver, path)
    driver.execute_script(
        "document.querySelectorAll('.live').forEach(l => l.classList.remove('drawn'))"
    )  # show stills too
    found = {name for name, _, _ in axe.grave(axe.violations(driver))}
    assert {name for _, _, name in faults} <= found
