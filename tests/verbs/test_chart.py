"""`--chart`: every verb draws its answer, in every kind of file, over nothing that matters."""

from __future__ import annotations

import io
import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import altair as alt
import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.report.charts.file import write_chart
from sgzone.report.charts.rows import MOST_ROWS
from sgzone.season.store import open_store
from sgzone.terms import PART_WORDS
from sgzone.words.notes import as_gains
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome, call, inside

Check = Callable[[list[pd.DataFrame], pd.DataFrame], None]
DATE = "2026-07-15"
NOT_METRIC = re.compile(r"\b(yd|ft|yards|feet)\b")


def _of(tables: list[pd.DataFrame], *columns: str) -> pd.DataFrame:
    """Return the rows that have these columns, of all tables of a chart."""
    found = [table for table in tables if set(columns) <= set(table.columns)]
    assert found, f"no marks with {columns}"
    filled = [table.dropna(axis="columns", how="all") for table in found if len(table)]
    names = list(dict.fromkeys(name for table in found for name in table))
    return pd.concat(filled or found, ignore_index=True).reindex(columns=names)


def _same(drawn: Any, told: Any) -> None:
    left, right = (np.sort(np.asarray(pd.Series(v).dropna(), float)) for v in (drawn, told))
    assert len(right)
    assert left == pytest.approx(right)


def columns(*names: str, rows: str = "index == index") -> Check:
    """Return the check that marks hold these columns of the chosen rows of the answer."""

    def check(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
        marks = _of(tables, *names)
        for name in names:
            _same(marks[name], answer.query(rows)[name])

    return check


def proximity(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    dots = _of(tables, "distance_yd", "ended")
    near = dots[dots["distance_yd"].between(10, 20, inclusive="left")]
    told = answer[(answer["measure"] == "median proximity") & (answer["band"] == "10-20 yd")]
    assert (near["finish_ft"].median(), len(near)) == (told["value"].item(), told["n"].item())


def misses(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    """A holed ball is a mark and no miss; it would be long and right."""
    dots = _of(tables, "ended", "depth_ft", "group")
    place = np.where(dots["depth_ft"] >= 0, "long", "short")
    place = place + np.where(dots["side_ft"] >= 0, "-right", "-left").astype(object)
    count = dots.groupby(["group", place]).size()
    told = answer[answer["shots"] > 0].set_index(["part", "miss"])["shots"]
    left = {key: shots for key, shots in told.items() if key[1] != "long-right"}
    assert {key: count[key] for key in left} == left


def putting(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    """Points of two feet each: fewer and more than the bands of the table."""
    points = _of(tables, "putts", "holed_share", "interval", "basis")
    assert 0 < points["putts"].sum() < answer["putts"].sum()
    band = answer[answer["band"] == "5-10 ft"].iloc[0]
    inside = points[points["distance_ft"].between(5, 10)]["holed_share"]
    assert inside.min() < band["holed_share"] < inside.max()


def split(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    rows = _of(tables, "side", "gained")
    parts = answer[answer["part"] != "total"].assign(name=lambda t: t["part"].map(PART_WORDS))
    for side, column in (("before", "before"), ("from", "after")):
        mine = rows[rows["side"].str.startswith(side)].set_index("name")["gained"]
        told = parts.set_index("name")[column]
        assert mine.to_dict() == pytest.approx(told.to_dict())


def wear(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    """Of a club's shots at most nine are in no mark of twenty."""
    drawn = _of(tables, "since_new", "mean").groupby(["club", "in_play_from"])["shots"].sum()
    whole = answer[answer["measure"] == "gained"].set_index(["club", "in_play_from"])["shots"]
    assert len(drawn) >= 5
    for (club, since), shots in drawn.items():
        assert 0 <= whole[club, str(since)[:10]] - shots < 10


def green(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    marks = _of(tables, "play", "what")
    best = answer.drop_duplicates(["club", "swing"]).head(3)
    for what, told in (
        ("landing", (best["landing_yd"] - 97) * 3),
        ("finish", best["finish_ft"]),
    ):
        _same(marks[marks["what"] == what]["depth_ft"], told)


def numbers(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    marks = _of(tables, "number_yd", "rank").drop_duplicates(["number_yd", "rank"])
    _same(marks["expected_strokes"], answer["expected_strokes"])


def causes(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    """Main causes a round, a loss to the left, with their ranges; with the rest the totals."""
    marks = _of(tables, "factor", "folded", "number").drop_duplicates(["part", "factor"])
    main = marks[marks["folded"] == 0]
    told = as_gains(answer[answer["column"] == "total"]).set_index(["part", "factor"])
    same = told.loc[list(zip(main["part"], main["factor"], strict=True))]
    a_round = same["gained_per_round"] / same["gained_per_shot"]
    _same(main["gained_per_round"], same["gained_per_round"])
    for end in ("low", "high"):
        _same(main[end], same[end] * a_round)
    whole = told.xs("total", level="factor").loc[main["part"].unique(), "gained_per_round"]
    assert marks["gained_per_round"].sum() == pytest.approx(whole.sum())


def returns(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    points = _of(tables, "hours", "point")
    _same(points[points["point"] == "plan"]["hours"], answer["hours_per_week"] * 6)


def blocks(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    days = _of(tables, "median_ratio", "panel")
    _same(days.groupby("panel")["balls"].sum(), answer["balls"])


def one_round(tables: list[pd.DataFrame], answer: pd.DataFrame) -> None:
    """A bar is a part of a hole, and the dots are the holes."""
    bars = _of(tables, "gained", "top", "bottom")
    _same(bars["gained"], answer.groupby(["hole", "part"])["gained"].sum())
    dots = _of(tables, "hole_gained").drop_duplicates("hole")
    _same(dots["hole_gained"], answer.groupby("hole")["gained"].sum())
    (mark,) = _of(tables, "text", "low")["hole"]
    assert int(mark) == answer.loc[answer["gained"].idxmin(), "hole"]


CALLS: dict[str, Check] = {
    "debrief": one_round,
    "counts": proximity,
    "why": causes,
    "why --detail misses": misses,
    "why --detail putting": putting,
    "summary --no-measuring": columns("gained_per_round", "low_per_round", rows="part != 'total'"),
    "summary --no-measuring --by lie,band": columns("shrunk_per_shot", "shots"),
    "summary --no-measuring --by band,lie": columns("shrunk_per_shot", "shots"),
    "summary --plays-like": columns("score_low", "score_high", "k", rows="score_low == score_low"),
    "compare --by swing --part wedge_50_100": columns("difference", "low", "high", "adjusted"),
    "compare --by swing --lie fairway --groups full,half": columns("difference", "low"),
    "trend": columns("gained_per_round", "smoothed", "low", rows="part == 'total'"),
    f"trend --split-date {DATE}": split,
    "clubs": columns("carry_yd", "low", "high", rows="shots >= 5"),  # fewer are not drawn
    "clubs --detail wear": wear,
    "number 97": green,
    "number --from 60 --to 100 --step 20": numbers,
    "practice --hours 6": columns("share", "share_low", "share_high", "share_now"),
    "practice --hours 6 --target tour": columns("share", "share_low", "share_high"),
    "practice --hours 6 --detail": returns,
    "practice --blocks": blocks,
}
"""Every way of asking that has a chart, and what its marks must hold of the answer."""

REFUSED = (
    *("summary --by club", "summary --by part,lie", "summary --by total"),
    *("summary --in strokes.parquet",),
    *("why --detail short-sided", "why --detail carry", "why --detail ratio"),
    *("clubs --detail cover", "clubs --detail consistency", "clubs --detail questions"),
    *("clubs --detail bag", "clubs --detail changes"),
    *("practice --hours 5 --week", "practice --what-if 'wedge_50_100 long_short_spread -20%'"),
)
NEVER = ("gained", "field", "rounds", "sources", "report", "fit", "load")


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with three rounds, a curve and settings of the player's own."""
    folder = tmp_path_factory.mktemp("three")
    card = sg.simulate_season(rounds=3).card.assign(player="Ada Low", club="54", swing="full")
    card.to_csv(folder / "card.csv", index=False)
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    knots = "lie,distance,unit,strokes,source\ngreen,3,ft,1.1,own\ngreen,9,ft,1.6,own\n"
    (folder / "own.csv").write_text(knots, encoding="utf-8")
    sand = "lie,distance,unit,strokes,source\nsand,140,yd,3.4,own\nsand,149,yd,3.5,own\n"
    (folder / "only-sand.csv").write_text(sand, encoding="utf-8")
    (folder / "own.toml").write_text("", encoding="utf-8")
    return folder


def ask(folder: Path, text: str, *more: str) -> Outcome:
    with inside(folder):
        return call(*shlex.split(text), *more)


def of_demo(folder: Path, text: str, *more: str) -> Outcome:
    done = ask(folder, text, *more, "--db", str(demo_file()))
    assert done.code == FINE, done.err
    return done


def said(value: Any) -> list[str]:
    """Return every text of a chart in Vega-Lite that a reader may see."""
    if isinstance(value, dict):
        return [text for key, inner in value.items() if key != "config" for text in said(inner)]
    if isinstance(value, list):
        return [text for inner in value for text in said(inner)]
    return [value] if isinstance(value, str) else []


@pytest.mark.parametrize("text", CALLS)
def test_every_verb_draws_its_answer(text: str, tmp_path: Path) -> None:
    done = of_demo(tmp_path, text, "--chart", "a.json", "--format", "csv")
    assert "Chart: a.json\n" in done.err
    spec = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    tables = [pd.DataFrame(rows) for rows in spec["datasets"].values()]
    CALLS[text](tables, pd.read_csv(io.StringIO(done.out)))
    title = spec["title"]
    assert len(title["text"][0]) > 20
    assert "Wrenna Oddlethorpe" in title["subtitle"][0]
    against = any("the tour benchmark" in line for line in title["subtitle"])
    assert against != ("--plays-like" in text)  # the one chart that no benchmark changes
    assert "container" not in json.dumps(spec)


@pytest.mark.repeats
@pytest.mark.parametrize("text", ["counts", "number 97", "compare --by swing --groups full,half"])
def test_metres_where_they_are_asked_for(text: str, tmp_path: Path) -> None:
    of_demo(tmp_path, text, "--chart", "a.json", "--units", "metric")
    spec = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    shown = {key: value for key, value in spec.items() if key != "datasets"}
    assert not [words for words in said(shown) if NOT_METRIC.search(words)]
    assert any(re.search(r", m$", words) for words in said(shown))


def _is_png(held: bytes) -> bool:
    return held.startswith(b"\x89PNG\r\n\x1a\n")


def _is_svg(held: bytes) -> bool:
    return ET.fromstring(held).tag.endswith("}svg") and b"Wrenna Oddlethorpe" in held


def _is_html(held: bytes) -> bool:
    text = held.decode()
    return text.startswith("<!DOCTYPE html>") and not re.search(r"<script[^>]+src=", text)


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("kind", "right"), [("png", _is_png), ("svg", _is_svg), ("html", _is_html), ("PNG", _is_png)]
)
def test_a_file_is_what_its_ending_says(
    kind: str, right: Callable[[bytes], bool], tmp_path: Path
) -> None:
    plain = of_demo(tmp_path, "clubs")
    done = of_demo(tmp_path, "clubs", "--chart", f"ladder.{kind}")
    assert right((tmp_path / f"ladder.{kind}").read_bytes())
    assert done.out == plain.out
    assert done.err == f"{plain.err}Chart: ladder.{kind}\n"


@pytest.mark.parametrize("text", REFUSED)
def test_a_way_without_a_chart_says_so(text: str, three: Path) -> None:
    done = ask(three, text, "--chart", "a.svg")
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    way = re.search(r"--(by|detail|week|what-if|in)", text)
    assert way is not None
    assert f"--chart does nothing with {way[0]}" in done.err
    assert not (three / "a.svg").exists()


@pytest.mark.parametrize("verb", NEVER)
def test_a_verb_that_has_none_does_not_offer_it(verb: str, three: Path) -> None:
    assert "--chart" not in ask(three, f"{verb} --help").out


@pytest.mark.parametrize(
    ("text", "file", "words"),
    [
        ("summary", "a.gif", "end its name in .html, .svg, .png, .json"),
        ("trend", "chart", "end its name in"),
        ("clubs", "nowhere/a.svg", "There is no folder nowhere"),
        ("why --benchmark own.csv", "own.csv", "end its name in"),
        ("number --from 60 --to 90 --out a.html", "./a.html", "Two files would be written"),
    ],
)
def test_where_no_chart_can_be_written(text: str, file: str, words: str, three: Path) -> None:
    done = ask(three, text, "--chart", file)
    assert done.code in (CALL_AT_FAULT, DATA_AT_FAULT)
    assert words in done.err


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("trend --benchmark a.json", "own.csv"),
        ("practice --hours 5 --benchmark a.json", "own.csv"),
        ("practice --hours 5 --settings a.json", "own.toml"),
    ],
)
def test_no_chart_over_what_is_read(text: str, read: str, three: Path, tmp_path: Path) -> None:
    held = (three / read).read_bytes()
    (tmp_path / "a.json").write_bytes(held)
    done = ask(tmp_path, text, "--chart", "a.json", "--db", str(three / "sgzone.duckdb"))
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert "a.json is read by this very call" in done.err
    assert (tmp_path / "a.json").read_bytes() == held


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("debrief --benchmark only-sand.csv", "No stroke of this round has a value"),
        ("summary", "Too few shots"),
        ("summary --by band,lie", "Too few shots"),
        ("why", "To say why, write down where balls finish"),
        ("why --detail putting", "under 5 rounds of putts"),
        ("trend", "Fewer than 10 rounds"),
        (f"trend --split-date {DATE}", "Nothing can be set side by side"),
        ("compare --by club", "not two groups"),
        ("clubs --source test", "no test shots"),
        ("clubs --detail wear", "No club of the bag"),
        ("number 30", "No stock swing"),
        ("number --from 30 --to 40", "No stock swing"),
        ("practice --hours 5", "Too few strokes to plan from"),
        ("practice --hours 5 --detail", "Too few strokes to plan from"),
        ("practice --blocks", "no test blocks"),
        ("counts --until 1999-01-01", "No stroke at a green"),
        ("why --detail misses --until 1999-01-01", "No misses to draw"),
        ("practice --hours 5 --until 1999-01-01", "Too few strokes to plan from"),
    ],
)
def test_nothing_to_draw_is_said_and_nothing_is_written(text: str, why: str, three: Path) -> None:
    done = ask(three, text, "--chart", "none.svg")
    assert done.code == FINE, done.err
    (line,) = [line for line in done.err.splitlines() if line.startswith("No chart: ")]
    assert why in line
    assert not (three / "none.svg").exists()


def test_a_chart_of_more_strokes_than_a_page_holds(tmp_path: Path) -> None:
    rows = pd.DataFrame({"x": np.arange(MOST_ROWS + 1.0)})
    write_chart(alt.layer(alt.Chart(rows).mark_point().encode(x="x:Q")), tmp_path / "a.json")
    spec = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    (drawn,) = spec["datasets"].values()
    assert len(drawn) == MOST_ROWS + 1


@pytest.mark.long
def test_several_players_are_counted(tmp_path: Path) -> None:
    for player in ("Ada", "Bo"):
        card = sg.simulate_season(rounds=6, seed=len(player)).card.assign(player=player)
        card.to_csv(tmp_path / f"{player}.csv", index=False)
        with open_store(tmp_path / "sgzone.duckdb") as store:
            store.load(tmp_path / f"{player}.csv")
    for more, who in (([], "2 players: 12 rounds"), (["--player", "Bo"], "Bo: 6 rounds")):
        assert ask(tmp_path, "counts", "--chart", "a.json", *more).code == FINE
        spec = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
        assert spec["title"]["subtitle"][0].startswith(who)
