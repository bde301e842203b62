"""A slip in any word that has a list of its own is answered with the nearest of the list."""

from __future__ import annotations

import shlex
from pathlib import Path

import openpyxl
import pytest

import sgzone as sg
from sgzone.season.store import open_store
from tests.hard.calls import call, inside

SLIPS = {
    "sumary": "summary",
    "benchmarks tuor": "tour",
    "benchmarks tour --at 'farway 100'": "fairway",
    "benchmarks amatuer-90 --at 'green 10'": "amateur-90",
    "summary --benchmark scrach": "scratch",
    "summary --player Anabel": "Annabel",
    "summary --by prat": "part",
    "summary --event practise": "practice",
    "summary --format jsn": "json",
    "summary --units metrc": "metric",
    "summary --chart parts.sgv": ".svg",
    "compare --by clbu": "club",
    "compare --by club --part wege_50_100": "wedge_50_100",
    "compare --by club --lie rouh": "rough",
    "compare --by club --groups 'gap wegde,58'": "gap wedge",
    "why --detail puting": "putting",
    "clubs --detail consistancy": "consistency",
    "clubs --source corse": "course",
    "number 97 --lie rouhg": "rough",
    "number 97 --firmness sft": "soft",
    "number 97 --short snad": "sand",
    "practice --hours 5 --target scrach": "scratch",
    "practice --hours 5 --split weg_50_100=100": "wedge_50_100",
    "practice --hours 5 --ceiling sand_0_5=3": "sand_0_50",
    "practice --hours 5 --settings plan.toml": "putt_0_10",
    "practice --what-if 'wedge_50_100 long_short_spred -20%'": "long_short_spread",
    "practice --what-if 'weg_50_100 long_short_spread -20%'": "wedge_50_100",
    "report review.htm": ".html",
    "report review.html --kind seson": "season",
    "report review.pdf --paper us-leter": "us-letter",
    "report review.html --against amatuer-90": "amateur-90",
    "template card.xlsxx": ".xlsx",
    "fit --name squad --from tuor": "tour",
    "rounds --delete Anabel 2026-05-14 1": "Annabel",
    "check book.xlsx --sheet Jnue": "June",
    "check card.cvs": ".csv",
    "check card.csv --dates dym": "dmy",
    "check card.csv --dates myd": "mdy",
}
"""What is typed -> what was meant."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season file of one player, and files with slips in them."""
    folder = tmp_path_factory.mktemp("slips")
    card = sg.simulate_season(rounds=2).card.assign(player="Annabel", event="practice")
    card["club"] = "gap wedge"
    card.to_csv(folder / "card.csv", index=False)
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    (folder / "card.cvs").write_text("player,date\n")
    (folder / "plan.toml").write_text('parts = ["put_0_10"]\n')
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active.title = "June"
    book.active.append(["player", "date", "hole", "shot", "lie", "distance"])
    book.save(folder / "book.xlsx")
    return folder


@pytest.mark.repeats
@pytest.mark.parametrize("typed", SLIPS)
def test_the_nearest_word_is_offered(typed: str, home: Path) -> None:
    with inside(home):
        done = call(*shlex.split(typed))
    said = " ".join((done.out + done.err).split()).replace("'", "")
    assert f"Did you mean {SLIPS[typed]}?" in said, done.err


def test_where_nothing_is_near_nothing_is_offered(home: Path) -> None:
    with inside(home):
        for typed in ("summary --format xxxx", "compare --by club --lie qqqqq", "report a.docm"):
            assert "Did you mean" not in call(*shlex.split(typed)).err, typed
