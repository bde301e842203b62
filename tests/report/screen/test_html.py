"""The page: one file, nothing but text from the card, a policy that holds, the same bytes."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
import vl_convert

from sgzone.benchmarks import benchmark
from sgzone.errors import CallError, DataError
from sgzone.report.asked import Asked
from sgzone.report.player import player_report
from sgzone.report.screen.html import (
    MOST_BYTES,
    javascript_licences,
    json_block,
    kept,
    to_html,
)
from sgzone.report.screen.script import vega_bundle
from sgzone.report.sections import method
from sgzone.report.write import write_report
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from sgzone.words import proximity as proximity_words
from sgzone.words import season as season_words
from sgzone.words import where as where_words
from sgzone.words.say import Say
from tests.report.seasons import (
    HOSTILE,
    ONE_HOLE,
    ONLY_PUTTS,
    ask,
    card,
    demo_again,
    demo_page,
    demo_report,
    season,
)


class Page(HTMLParser):
    """Collects the elements and the visible text of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []
        self.words: list[str] = []
        self._inside = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._inside = tag if tag in ("script", "style") else ""
        if tag == "script" and "type" in dict(attrs):
            self._inside = "data"

    def handle_endtag(self, tag: str) -> None:
        self._inside = ""

    def handle_data(self, data: str) -> None:
        {"script": self.scripts, "style": self.styles, "data": [], "": self.words}[
            self._inside
        ].append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attrs for name, attrs in self.tags if name == tag]


@pytest.fixture(scope="module")
def html() -> str:
    return demo_page()


@pytest.fixture
def no_stills(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw no stills, for a test of what else a page says; drawing them takes long."""
    monkeypatch.setattr("sgzone.report.screen.html.still", lambda _: "data:,")


def test_nothing_in_the_page_is_fetched_and_it_is_small(html: str) -> None:
    page = Page(html)
    assert len(html.encode()) < MOST_BYTES
    for attrs in (attrs for _, attrs in page.tags):
        for name in ("src", "href"):
            assert (attrs.get(name) or "#").startswith(("#", "data:"))
    assert not {tag for tag, _ in page.tags} & {"iframe", "object", "embed", "form", "base"}
    assert not re.search(r"@import|url\(", page.styles[0])


def test_the_policy_allows_these_scripts_and_styles_only(html: str) -> None:
    page = Page(html)
    (policy,) = [m["content"] for m in page.all("meta") if m.get("http-equiv")]
    assert policy is not None
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    for text in (*page.scripts, *page.styles):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    assert not [attrs for _, attrs in page.tags if "style" in attrs]
    assert not [name for _, attrs in page.tags for name in attrs if name.startswith("on")]


def test_every_chart_has_words_a_still_and_its_numbers(html: str, asked: Asked) -> None:
    page = Page(html)
    live = [attrs for attrs in page.all("div") if attrs.get("class") == "live"]
    stills = [attrs for attrs in page.all("img") if attrs.get("class") == "still"]
    assert len(live) == len(stills) == 18
    for one, other in zip(live, stills, strict=True):
        assert one["role"] == "img"
        assert one["aria-label"] == other["alt"]
        assert len(other["alt"] or "") > 60
    kinds = Counter(attrs.get("class") for attrs in page.all("details"))
    assert kinds == {
        **{"numbers": 11, "fold": 12, "contents": 1, "software": 1},
        **{"choose": 1, "rows": len(asked.parts)},
    }
    assert len(page.all("figure")) == 11
    worst = asked.parts.iloc[0]
    assert f"{worst['gained_per_round']:.2f}".replace("-", "−") in (live[0]["aria-label"] or "")
    links = [attrs.get("href") or "" for attrs in page.all("a")]
    anchors = {link[1:] for link in links if not link.startswith("data:text/csv")}
    assert anchors <= {attrs.get("id") for _, attrs in page.tags}


@pytest.mark.long
def test_the_same_season_gives_the_same_bytes(html: str) -> None:
    assert to_html(demo_again().page) == html


def test_no_cell_is_nan_or_none(html: str) -> None:
    text = Page(html).text
    assert not re.search(r"\b(nan|NaN|None|NaT|inf|null)\b", text)


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("rows", "says", "charts"),
    [
        (ONE_HOLE, "too few to judge", 0),
        (ONLY_PUTTS, "No stroke at a green has a known finish", 4),
    ],
)
def test_a_small_season_makes_a_short_honest_page(
    tmp_path: Path, rows: str, says: str, charts: int
) -> None:
    with season(card(tmp_path, rows)) as store:
        page = Page(to_html(player_report(ask(store)).page))
    assert says in page.text
    assert len([a for a in page.all("div") if a.get("class") == "live"]) == charts
    assert not re.search(r"\b(nan|NaN|None|NaT|inf)\b", page.text)


@pytest.mark.parametrize("name", ["tour", "amateur-90"])
def test_no_rounds_is_said_in_a_sentence(name: str) -> None:
    with season() as store:
        text = to_html(player_report(ask(store, name)).page)
    page = Page(text)
    assert season_words.NO_ROUNDS in page.text
    assert page.scripts == []
    assert not page.all("figure")
    assert "Cautions" in page.text


@pytest.mark.long
@pytest.mark.usefixtures("no_stills")
def test_a_benchmark_that_lacks_lies_leaves_them_out(store: Store, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    head = "lie,distance,unit,strokes,source\n"
    own.write_text(f"{head}fairway,50,yd,2.6,<i>me\nfairway,150,yd,3.0,<i>me\n", encoding="utf-8")
    page = Page(to_html(player_report(ask(store, benchmark(own))).page))
    assert season_words.no_parts(Say()) in page.text  # no stroke ends in a lie it has
    assert "<i>me" in page.text
    own.write_text(f"{head}green,3,ft,1.05,me\ngreen,60,ft,2.2,me\n", encoding="utf-8")
    page = Page(to_html(player_report(ask(store, benchmark(own))).page))
    assert len([a for a in page.all("div") if a.get("class") == "live"]) == 11
    assert "left out" in page.text
    assert "too few shots to judge" not in page.text
    assert proximity_words.NO_BREAK_EVEN in page.text
    assert "break-even, the" not in page.text


@pytest.mark.long
def test_a_hostile_name_comes_out_as_text(tmp_path: Path) -> None:
    with season(card(tmp_path, ONLY_PUTTS, HOSTILE)) as store:
        text = to_html(player_report(ask(store)).page)
    page = Page(text)
    assert " ".join(HOSTILE.split()) in page.text
    assert len(page.scripts) == 2
    assert "<script>alert" not in text


def test_data_cannot_end_their_script() -> None:
    block = json_block({"a": HOSTILE, "b": "\u2028", "c": [1, None, "<!--"]})
    assert not set("<>&\u2028") & set(block)
    assert json.loads(block) == {"a": HOSTILE, "b": "\u2028", "c": [1, None, "<!--"]}
    assert "</script" not in vega_bundle()


def test_the_licences_of_the_javascript_travel_with_the_page(html: str) -> None:
    """The versions in the text are those bundled: a newer bundle needs a look at its licences."""
    page = Page(html)
    assert " ".join(javascript_licences().split()) in page.text
    for word in ("Redistribution and use in source and binary forms", "SOFTWARE IS PROVIDED"):
        assert word in page.text
    for name, version in (
        ("Vega", vl_convert.get_vega_version()),
        ("Vega-Lite", vl_convert.get_vegalite_versions()[-1]),
        ("Vega-Embed", vl_convert.get_vega_embed_version()),
    ):
        assert f"{name} {version}" in page.text
    for name in ("d3-array", "topojson-client", "vega-tooltip", "fast-json-patch", "delaunator"):
        assert name in page.text


def test_ranges_are_kept_together_and_the_rest_is_escaped() -> None:
    assert kept("<b> 0-10 ft & n 12") == (
        '&lt;b&gt; <span class="kept">0-10 ft</span> &amp; <span class="kept">n 12</span>'
    )
    assert kept("sgzone why --detail ratio") == (
        'sgzone why <span class="kept">--detail</span> ratio'
    )


@pytest.mark.long
@pytest.mark.usefixtures("no_stills")
def test_values_that_are_not_published_are_marked_and_named(store: Store) -> None:
    asked = ask(store, "amateur-90")
    page = Page(to_html(player_report(asked).page))
    assert page.text.count(where_words.MARKED["some"]) == 2  # by part, and in the grid
    assert {"derived", "uncertain", "published"} <= set(page.text.split())
    assert "women's curve" not in page.text
    [said] = method.sources(replace(asked, curve=replace(asked.curve, name="women-bogey"))).lead
    assert "No women's curve is claimed there" in said


@pytest.mark.long
@pytest.mark.usefixtures("no_stills")
def test_metric_units_reach_charts_tables_and_words() -> None:
    page = Page(to_html(demo_report("metric").page))
    labels = " ".join(attrs.get("aria-label") or "" for attrs in page.all("div"))
    assert "median finish, m" in page.text
    assert re.search(r"break-even \d+\.\d m", labels)
    assert re.search(r"\d\.\d m to \d+\.\d m", page.text)  # proximity among the counts
    assert not re.search(r"\.\d ft", page.text + labels)


@pytest.mark.long
def test_writing_checks_kind_place_and_player(tmp_path: Path) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    first.mkdir()
    second.mkdir()
    with season(card(first, ONE_HOLE, "Ada"), card(second, ONLY_PUTTS, "Bo")) as store:
        with pytest.raises(CallError, match=r"\.docx.*must end in"):
            write_report(tmp_path / "x.docx", store)
        with pytest.raises(CallError, match="Ada, Bo"):
            write_report(tmp_path / "x.html", store)
        with pytest.raises(DataError, match=r"The report cannot be written to .*another place"):
            write_report(first / "card.csv" / "x.html", store, selection=Selection("Ada"))
        paths = write_report([tmp_path / "new" / "x.html"], store, selection=Selection("Bo"))
    assert "Bo: the strokes" in paths[0].read_text(encoding="utf-8")


def test_no_two_elements_share_an_id(html: str) -> None:
    """A chart is drawn into its element: with two of a name one of them stays empty."""
    ids = [attrs["id"] for _, attrs in Page(html).tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    assert len(ids) > 20
