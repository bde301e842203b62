"""Names of many signs, and of signs of many parts: they are cut between signs, never within one."""

from __future__ import annotations

import re
import unicodedata
from itertools import cycle
from pathlib import Path

import altair as alt
import pandas as pd
import pytest
import vl_convert
from hypothesis import given
from hypothesis import strategies as st

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import green_of
from sgzone.clubs.number import number_table
from sgzone.clubs.picture import picture
from sgzone.clubs.stock import clubs
from sgzone.harmless import cut
from sgzone.report import charts
from sgzone.report.charts.file import write_chart
from sgzone.report.write import write_report
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.review.beside.pairs import finish_shares
from sgzone.season.store import Store, open_store
from sgzone.words.notes import options
from tests.clubs.swings import known_swings
from tests.report.seasons import demo

FAMILY = "\U0001f469\u200d\U0001f469\u200d\U0001f467\u200d\U0001f466"
FLAG = "\U0001f1eb\U0001f1f7"
SIGNS = (
    "\U0001f3cc",  # two units of UTF-16
    FAMILY,
    FLAG,
    "\U0001f3cc\U0001f3fd\u200d\u2642\ufe0f",
    "e\u0301\u0302",
    "\u6c49",
    "\U0001d510",
    "x",
)
NAMES = [(("x" * odd) + sign * 80)[: 78 - odd] for sign in SIGNS for odd in (0, 1)]
"""Long names; every sign once at an odd and once at an even place."""


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's card with such names for everything that has one."""
    card = pd.read_csv(demo(), dtype=str)
    for column in ("club", "swing", "course", "event"):
        words = card[column].dropna().unique()
        card[column] = card[column].map(dict(zip(words, cycle(NAMES), strict=False)))
    card["player"] = FAMILY * 11
    path = tmp_path_factory.mktemp("names") / "card.csv"
    card.to_csv(path, index=False)
    return path


@pytest.fixture(scope="module")
def store(card: Path) -> Store:
    with open_store() as opened:
        assert opened.load(card).rows
        yield opened


def _drawn(chart: alt.TopLevelMixin) -> str:
    svg: str = vl_convert.vegalite_to_svg(chart.to_dict())
    return svg


@pytest.mark.repeats
@pytest.mark.parametrize("name", NAMES, ids=lambda name: name[:2].encode("unicode_escape").decode())
def test_every_chart_with_names_is_drawn(name: str, store: Store) -> None:
    ladder = clubs(store)
    both = [name, f"{name}2"]
    swings = known_swings()
    sheet = number_table(swings, 97, green_of(), benchmark("tour"))
    rows = compared_strokes(store, "club")
    table = compare_table(rows).head(2).assign(first=both[0], second=both[1])
    shares = finish_shares(rows.assign(group=both[0]).head(30), [both[0]])
    drawn = [
        charts.stock_ladder(ladder.assign(club=name)),
        charts.number_curve(sheet.assign(club=name, number_yd=97.0, rank=1)),
        charts.green_map(picture(options(sheet.assign(club=name)), 97, green_of())),
        charts.differences(table),
        charts.comparison(pd.concat([shares, shares.assign(group=both[1])]), float("nan")),
    ]
    for chart in drawn:
        assert "<svg" in _drawn(chart)


def test_two_names_that_look_alike_are_two_rows(store: Store) -> None:
    ladder = clubs(store).head(2).assign(club=["x" * 70 + "1", "x" * 70 + "2"], swing="full")
    spec = charts.stock_ladder(ladder).to_dict()
    rows = next(iter(spec["datasets"].values()))
    assert len({row["name"] for row in rows}) == 2
    svg = _drawn(charts.stock_ladder(ladder))
    assert svg.count("x" * 28 + "…") == 2
    assert not re.search(r">[^<]*x{29}[^<]*<", svg)


def test_a_short_name_is_shown_as_ever(store: Store) -> None:
    ladder = clubs(store).assign(club="54", swing="three-quarter")
    axis = charts.stock_ladder(ladder).to_dict()["layer"][0]["encoding"]["y"]["axis"]
    assert "labelExpr" not in axis
    assert axis["labelLimit"] == 0


@pytest.mark.long
def test_the_report_on_screen_and_on_paper(store: Store, tmp_path: Path) -> None:
    files = [tmp_path / "report.html", tmp_path / "report.pdf"]
    write_report(files, store)
    page = files[0].read_text(encoding="utf-8")
    assert FAMILY * 11 in page
    assert "\\ud83c…" not in page.lower()
    assert files[1].read_bytes().startswith(b"%PDF")


def test_a_chart_file_of_such_names(store: Store, tmp_path: Path) -> None:
    for ending in (".svg", ".png", ".html", ".json"):
        write_chart(charts.stock_ladder(clubs(store)), tmp_path / f"ladder{ending}")
        assert (tmp_path / f"ladder{ending}").stat().st_size > 1000


@given(text=st.lists(st.sampled_from((*SIGNS, "A", " ")), max_size=60), room=st.integers(1, 40))
def test_what_is_cut_is_cut_between_signs(text: list[str], room: int) -> None:
    whole = "".join(text)
    short = cut(whole, room, "…")
    if short == whole:
        return
    kept = short.removesuffix("…")
    assert whole.startswith(kept)
    ends = {0}
    for sign in text:
        ends.add(max(ends) + len(sign))
    if "\U0001f1f7" + "\U0001f1eb" not in whole:  # a run of flags is read in twos from its start
        assert len(kept) in ends
    nearest = next(end for end in sorted(ends) if end > len(kept))
    wide = sum(2 if ord(c) >= 0x1F000 or c == "\u6c49" else 1 for c in whole[:nearest])
    assert wide > room  # the next sign has no room


@pytest.mark.parametrize("text", ["", "x", "e" + "\u0301" * 5000, "\u200d" * 5000, FAMILY * 5000])
def test_any_text_is_cut_and_soon(text: str) -> None:
    short = cut(text, 10)
    assert len(short) <= 10 * 40 + 3
    assert not unicodedata.combining((short.removesuffix("...") + "x")[0]) or text[0] == short[0]
