"""Draw the picture of every chart page from the demo season: ``python -m tests.docs.pictures``."""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import asdict
from datetime import date
from pathlib import Path

import altair as alt
import pandas as pd

import sgzone as sg
from sgzone.cards import clock
from sgzone.clubs.green import green_of
from sgzone.clubs.sheet import number_sheet, numbers_of
from sgzone.clubs.shots import COURSE
from sgzone.report.asked import Asked, of_player
from sgzone.report.charts.file import drawn as as_file
from sgzone.report.fonts import to_svg
from sgzone.report.pictures import Pictures
from sgzone.report.screen.still import slim
from sgzone.review.agreed.going import going
from sgzone.review.agreed.observed import Observed
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.season.selection import EVERYTHING
from sgzone.season.store import Store, open_store
from sgzone.stats.resample import SEED
from sgzone.words.say import Say
from sgzone.words.sides import compared_where
from sgzone.words.squad import initials
from tests.conftest import TODAY
from tests.demo_season import demo_file
from tests.docs.pages import ROOT
from tests.report.squads import squad

FOLDER = ROOT / "docs" / "charts" / "pictures"
_GRID = 760
_NUMBER, _GREEN = 97.0, green_of(12, 31, 8, 24, ("sand", "rough", "water", "rough"))
_PAIR = ("full", "three-quarter")
_SPLIT = date(2026, 7, 15)
_AGREED = "from 67% to 75% at 4-5 ft"
_SQUAD = ("Ada Birch", "Ben Cole", "Cy Dunn", "Dot Elm", "Eli Fern")

Drawn = dict[str, alt.TopLevelMixin]


def charts_of_the_demo() -> Drawn:
    """Return the chart of every page by the page's name, as the verb draws it that answers it."""
    with open_store(demo_file(), read_only=True) as store:
        asked = of_player(Asked(store, sg.benchmark("tour"), EVERYTHING, Say()))
        found = {**_where(asked), **_why(asked), **_clubs(asked), **_practice(asked)}
        drawn = {name: chart for name, chart in found.items() if not isinstance(chart, str)}
        return drawn | _by_functions(store) | _squad()


def _where(asked: Asked) -> dict[str, alt.TopLevelMixin | str]:
    pictures = Pictures(asked)
    return {
        "round": pictures.one_round(sg.debrief(asked.store)),
        "by-part": pictures.parts(asked.summary),
        "plays-like": pictures.standards(asked.plays_like),
        "grid": pictures.cells(asked.grid),
        "proximity": pictures.proximity(),
        "trend": pictures.season(asked.trend),
        "pairs": pictures.split(_SPLIT),
        "agreed": _agreed(asked),
    }


def _agreed(asked: Asked) -> alt.TopLevelMixin | str:
    """Return the chart of an agreement that the demo's file does not hold."""
    about = {"measure": "holed", "part": None, "from_ft": 4.0, "to_ft": 5.0, "target": 0.75}
    days = {"day": pd.Timestamp(2026, 6, 30), "due": pd.Timestamp(2026, 9, 1)}
    row = pd.Series({"agreement": 1, "text": _AGREED, **about, **days}, dtype=object)
    facts = going(Observed(*asked.game), row, asked.say.level, SEED)
    return Pictures(asked).agreement(pd.Series({**row, **asdict(facts)}, dtype=object))


def _why(asked: Asked) -> dict[str, alt.TopLevelMixin | str]:
    pictures = Pictures(asked)
    return {"why": pictures.causes(asked.why), "miss-map": pictures.misses()}


def _clubs(asked: Asked) -> dict[str, alt.TopLevelMixin | str]:
    pictures, (store, tour, selection) = Pictures(asked), asked.game
    how = {"part": "wedge_50_100", "lie": "fairway"}
    strokes = compared_strokes(store, "swing", None, tour, selection, **how)
    table = compare_table(strokes, groups=_PAIR)
    plan = sg.plan_number(store, _NUMBER, tour, green=_GREEN)
    sheet = number_sheet(store, numbers_of(40, 140, 10), tour)
    only = compared_where(None, how["lie"], how["part"], asked.say)
    return {
        "ladder": pictures.ladder(asked.ladder, COURSE),
        "number": pictures.numbers(sheet, "fairway", COURSE),
        "green": pictures.green(plan, _NUMBER, _GREEN, "fairway", COURSE),
        "wear": pictures.wear(),
        "comparison": pictures.compared(strokes, table, "swing", only),
    }


def _practice(asked: Asked) -> dict[str, alt.TopLevelMixin | str]:
    pictures, plan = Pictures(asked), sg.practice_plan(asked.store, 6, 6, "tour")
    return {
        "hours": pictures.hours(plan, "tour"),
        "return-curves": pictures.returns(plan, "tour"),
        "test-blocks": pictures.blocks("tour"),
    }


def _by_functions(store: Store) -> Drawn:
    """Return the charts that a function of ``sg.charts`` draws and no verb in this form."""
    tour = sg.benchmark("tour")
    outcomes = sg.outcomes(store, tour)
    own = sg.fit_benchmark("own", tour, outcomes)
    return {
        "benchmark": sg.charts.benchmark_curves(
            sg.tables.curves(own, tour), sg.tables.needed(outcomes), "own", "tour"
        ),
        "putting": sg.charts.putting_curve_chart(
            sg.tables.putting_curves(store), sg.tables.putting_points(store)
        ),
    }


def _squad() -> Drawn:
    with tempfile.TemporaryDirectory() as folder, squad(Path(folder), _SQUAD) as store:
        cells = sg.summarise(store, "scratch", by=["player", "part", "total"])
    called = dict(zip(_SQUAD, initials(_SQUAD), strict=True))
    table = cells.assign(player=cells["player"].map(called))
    return {"squad": sg.charts.squad_grid(table).properties(width=_GRID)}


def draw(folder: Path) -> list[Path]:
    """Write every picture into a folder and return their paths; others are removed."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for name, chart in charts_of_the_demo().items():
        drawn = as_file(chart)
        paths.append(folder / f"{name}.svg")
        paths[-1].write_text(slim(to_svg(drawn)) + "\n", encoding="utf-8")
    for path in set(folder.iterdir()) - set(paths):
        path.unlink()
    return paths


if __name__ == "__main__":
    os.environ[clock.VARIABLE] = TODAY  # a picture does not change with the day it is drawn on
    for path in draw(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER):
        sys.stdout.write(f"{path}\n")
