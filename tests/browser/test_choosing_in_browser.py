"""The page is asked: what it adds up is what the command line says, and nothing else moves."""

from __future__ import annotations

import csv
import io
import random
from pathlib import Path
from urllib.parse import unquote, urlencode

import pandas as pd
import pytest
from click.testing import CliRunner
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

from sgzone.cli import sgzone
from sgzone.report.write import write_report
from sgzone.season.store import open_store
from sgzone.words.digits import number
from sgzone.words.screen.chosen import TEXT
from tests.browser import axe
from tests.browser.chromium import DESKTOP, DRAW_SECONDS, PHONE, complaints, look, requests, there
from tests.demo_season import demo_file

pytestmark = [
    pytest.mark.long,
    pytest.mark.browser,
    pytest.mark.skipif(
        not there(), reason="needs chromium and chromium-driver: apt-get install them"
    ),
]

CHOICES = 30
MAY_BE = {
    "since": ("2026-05-01", "2026-06-15", "2026-08-01"),
    "until": ("2026-08-20", "2026-09-15", "2026-10-30"),
    "event": ("competition", "practice"),
    "lie": ("fairway", "rough", "sand", "green", "fringe", "tee"),
    "club": ("50", "54", "58", "9i"),
    "part": ("approach_100_150", "wedge_50_100", "chip_0_30", "putt_0_10", "putt_10_30"),
}
SHOWN = """
const cells = [...document.querySelectorAll('.chosen tbody tr')]
  .map(row => [...row.children].map(cell => cell.textContent));
return [document.querySelector('.told').textContent, cells]"""
IDS = "return [...document.querySelectorAll(arguments[0])].map(e => e.__data__.datum.stroke)"


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("choosing") / "report.html"
    with open_store(demo_file(), read_only=True) as store:
        write_report(path, store)
    return path


def _asked(verb: str, choice: dict[str, str], *more: str) -> pd.DataFrame:
    words = [word for name, value in choice.items() for word in (f"--{name}", value)]
    call = [verb, "--db", str(demo_file()), "--format", "csv", *words, *more]
    done = CliRunner().invoke(sgzone, call)
    assert done.exit_code == 0, done.output
    return pd.read_csv(io.StringIO(done.stdout))


def _draw(rng: random.Random) -> dict[str, str]:
    names = rng.sample(list(MAY_BE), rng.randint(1, 3))
    return {name: rng.choice(MAY_BE[name]) for name in MAY_BE if name in names}


def _choose(driver: Chrome, choice: dict[str, str]) -> None:
    driver.execute_script("location.hash = arguments[0]", urlencode(choice))
    sought = " ".join(choice.values())
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: (
            sought
            == d.execute_script(
                "return ['since', 'until', 'event', 'lie', 'club', 'part']"
                ".map(n => document.querySelector(`.choose [name=${n}]`).value)"
                ".filter(Boolean).join(' ')"
            )
        )
    )


def test_random_choices_say_what_the_command_line_says(driver: Chrome, page: Path) -> None:
    look(driver, page)
    rng, told = random.Random(20260101), 0
    for _ in range(CHOICES):
        choice = _draw(rng)
        _choose(driver, choice)
        sentence, rows = driver.execute_script(SHOWN)
        table = _asked("summary", choice, "--no-measuring", "--by", "part,total")
        listed = _asked("gained", choice)
        valued = listed[listed["gained"].notna() & (listed["part"] != "outside")]
        if valued.empty:
            assert sentence == TEXT["none"], choice
            continue
        told += 1
        total = table[table["part"] == "total"].iloc[0]
        shots = f"{total['shots']:,} stroke{'' if total['shots'] == 1 else 's'}"
        assert f"no verdict: {shots} in " in sentence, choice
        assert len(valued) == total["shots"]
        a_round = number(total["gained_per_round"], 2, signed=True)
        assert f"{a_round} a round" in sentence, (choice, sentence)
        assert f"{number(valued['gained'].mean(), 2, signed=True)} a stroke" in sentence, choice
        parts = table[table["part"] != "total"].sort_values("gained_per_round", kind="stable")
        expected = [
            [
                *(str(row["shots"]), str(row["rounds"])),
                *(number(row[f"gained_per_{of}"], 2, signed=True) for of in ("shot", "round")),
            ]
            for row in parts.to_dict("records")
            if row["shots"]
        ]
        assert [row[1:] for row in rows] == expected, choice
    assert told > CHOICES / 2
    assert complaints(driver) == []


def test_the_dots_follow_and_the_verdicts_stay(driver: Chrome, page: Path) -> None:
    look(driver, page)
    bars = "return [...document.querySelectorAll('#by-part .mark-rect path')].map(p => p.outerHTML)"
    before = driver.execute_script(bars)
    every = driver.execute_script(IDS, "#proximity-rough .mark-symbol path")
    _choose(driver, {"lie": "rough", "club": "54"})
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: len(d.execute_script(IDS, "#proximity-rough .mark-symbol path")) < len(every)
    )
    chosen = _asked("gained", {"lie": "rough", "club": "54"})
    there = driver.execute_script(IDS, "#proximity-rough .mark-symbol path")
    assert len(there) == int((chosen["end_distance_yd"].notna()).sum())
    assert set(there) < set(every)
    assert driver.execute_script(IDS, "#proximity-fairway .mark-symbol path") == []
    middles = driver.execute_script(
        "return [...document.querySelectorAll('#proximity-rough .mark-rule.role-mark line')]"
        ".map(l => getComputedStyle(l).opacity)"
    )
    assert set(middles) == {"0"}
    assert driver.execute_script(bars) == before
    tags = "return [...document.querySelectorAll('.tag')].filter(t => t.checkVisibility()).length"
    assert driver.execute_script(tags) > 8
    driver.find_element(By.CSS_SELECTOR, ".clear").click()
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: (
            sorted(d.execute_script(IDS, "#proximity-rough .mark-symbol path")) == sorted(every)
        )
    )
    assert driver.execute_script(tags) == 0
    assert driver.execute_script("return location.hash") == ""
    assert complaints(driver) == []


def test_a_link_with_a_choice_opens_it_and_nonsense_in_one_does_nothing(
    driver: Chrome, page: Path
) -> None:
    look(driver, page)
    driver.get("about:blank")
    driver.get(f"{page.resolve().as_uri()}#part=wedge_50_100&until=2026-08-20")
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.find_element(By.CSS_SELECTOR, ".told").text.startswith("As played")
    )
    for hostile in (
        "lie=<img src=x onerror=alert(1)>",
        "%E0%A4%A=1",
        "constructor=1",
        "lie=a&lie=b",
    ):
        driver.execute_script("location.hash = arguments[0]", hostile)
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.find_element(By.CSS_SELECTOR, ".told").text == TEXT["none"]
    )
    assert complaints(driver) == []


def test_a_part_s_row_opens_its_strokes_by_the_keyboard(driver: Chrome, page: Path) -> None:
    look(driver, page)
    driver.execute_script("document.querySelector('#where details').open = true")
    button = driver.find_element(By.CSS_SELECTOR, '#where [data-opens="part=wedge_50_100"] button')
    button.send_keys(Keys.ENTER)
    drawer = driver.find_element(By.CSS_SELECTOR, ".drawer")
    assert drawer.is_displayed()
    assert driver.switch_to.active_element.get_attribute("id") == "drawer-title"
    listed = _asked("gained", {"part": "wedge_50_100"})
    link = driver.find_element(By.CSS_SELECTOR, ".drawer .csv").get_attribute("href") or ""
    taken = pd.read_csv(io.StringIO(unquote(link.partition(",")[2])))
    assert len(taken) == len(listed)
    assert taken["gained"].is_monotonic_increasing
    assert sorted(taken["gained"]) == pytest.approx(sorted(listed["gained"]), abs=1e-6)
    first = driver.find_element(By.CSS_SELECTOR, ".drawer tbody tr").text
    assert first.endswith(number(listed["gained"].min(), 2, signed=True))
    driver.find_element(By.CSS_SELECTOR, ".drawer .best").click()
    first = driver.find_element(By.CSS_SELECTOR, ".drawer tbody tr").text
    assert first.endswith(number(listed["gained"].max(), 2, signed=True))
    driver.find_element(By.TAG_NAME, "body").send_keys(Keys.ESCAPE)
    assert not drawer.is_displayed()
    assert driver.switch_to.active_element == button
    assert complaints(driver) == []


CLICK = """
const at = document.querySelector(arguments[0]).getBoundingClientRect();
const where = {bubbles: true, clientX: at.x + at.width / 2, clientY: at.y + at.height / 2};
for (const kind of ['mousemove', 'mouseover', 'click']) {
  document.querySelector(arguments[0]).dispatchEvent(new MouseEvent(kind, where));
}"""


def test_bar_cell_and_dot_open_their_strokes(driver: Chrome, page: Path) -> None:
    look(driver, page)
    title = driver.find_element(By.ID, "drawer-title")
    driver.execute_script(CLICK, "#by-part .layer_0_marks path")
    assert title.text.startswith("approach 100-150 yd: ")
    driver.execute_script(CLICK, "#grid-putts .mark-rect path")
    assert title.text.startswith("green, ")
    driver.execute_script("location.hash = 'lie=green'")
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.find_element(By.CSS_SELECTOR, ".told").text.startswith("As played")
    )
    driver.execute_script(CLICK, "#grid-putts .mark-rect path")
    assert title.text.count("green") == 1  # chosen and opened, and said once
    driver.find_element(By.CSS_SELECTOR, ".clear").click()
    WebDriverWait(driver, DRAW_SECONDS).until(
        lambda d: d.find_element(By.CSS_SELECTOR, ".told").text == TEXT["cleared"]
    )
    driver.execute_script(CLICK, "#misses-wedge_50_100 .mark-symbol path")
    [row] = driver.find_elements(By.CSS_SELECTOR, ".drawer tr.marked")
    marked = driver.execute_script(IDS, ".live path.marked")
    assert set(marked) == {int(row.get_attribute("data-stroke") or -1)}
    assert len(marked) == 2  # in its map, and by its lie
    assert complaints(driver) == []


def test_tables_and_charts_are_taken_without_a_request(driver: Chrome, page: Path) -> None:
    look(driver, page)
    requests(driver)
    links = driver.execute_script(
        "return [...document.querySelectorAll('.take a')].map(a => [a.download, a.href])"
    )
    taken = {name: unquote(href.partition(",")[2]) for name, href in links}
    assert len(taken) == len(links)
    rows = list(csv.DictReader(io.StringIO(taken["where-1.csv"])))
    table = _asked("summary", {}, "--by", "part")
    assert [float(r["gained_per_round"]) for r in rows] == table["gained_per_round"].tolist()
    assert taken["by-part.svg"].startswith("<svg")
    driver.execute_script("document.querySelector('a[download=\"by-part.svg\"]').click()")
    assert [url for url in requests(driver) if not url.startswith("data:")] == []
    assert complaints(driver) == []


def test_without_scripts_tables_and_lists_of_strokes_are_there(driver: Chrome, page: Path) -> None:
    look(driver, page)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        driver.get(page.resolve().as_uri())
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert not driver.find_element(By.CSS_SELECTOR, ".choose").is_displayed()
    assert not driver.find_element(By.CSS_SELECTOR, ".drawer").is_displayed()
    fold = driver.find_element(By.CSS_SELECTOR, "details.rows")
    driver.execute_script("arguments[0].open = true", fold)
    assert len(fold.find_elements(By.CSS_SELECTOR, "tbody tr")) == 10
    seen = "return arguments[0].checkVisibility({contentVisibilityAuto: true})"
    assert driver.execute_script(seen, fold.find_element(By.TAG_NAME, "table"))


@pytest.mark.skipif(not axe.there(), reason="needs axe-core: `make check` gets it")
@pytest.mark.parametrize("screen", [DESKTOP, PHONE])
@pytest.mark.parametrize("dark", [False, True])
def test_a_choice_and_its_list_are_accessible(
    driver: Chrome, page: Path, screen: tuple[int, int], dark: bool
) -> None:
    look(driver, page, screen, dark=dark)
    driver.execute_script("document.querySelector('.choose').open = true")
    _choose(driver, {"lie": "rough"})
    driver.execute_script("document.querySelector('.show').click()")
    assert axe.grave(axe.violations(driver)) == []
    assert driver.execute_script("return document.documentElement.scrollWidth") <= screen[0]
    assert complaints(driver) == []
