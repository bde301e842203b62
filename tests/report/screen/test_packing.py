"""What makes a page small changes no chart: the same rows, the same picture."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import unquote
from xml.etree import ElementTree as ET

import pytest

from sgzone.report.charts.theme import WIDE, config
from sgzone.report.fonts import to_svg
from sgzone.report.screen.html import MOST_BYTES, spec, to_html
from sgzone.report.screen.packing import pack, unpack
from sgzone.report.screen.still import address, slim
from sgzone.report.squad import team_report
from tests.report.seasons import demo_report
from tests.report.squads import ask_all, squad

SPEC = {
    "mark": "bar",
    "data": {"name": "data-9f"},
    "encoding": {"x": {"field": "low"}, "y": {"field": "name"}},
    "transform": [{"filter": "isValid(datum.low) && datum.n_rounds > 1"}],
}
ROW = {"low": 1 / 3, "name": "a", "n_rounds": 4, "note": "nobody reads this"}
TYPE = ("font-family", "font-size", "font-weight", "text-anchor")
INHERITED = (
    *("fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-opacity", "fill-opacity"),
    *TYPE,
)
FORM = ("d", "x", "y", "x1", "x2", "y1", "y2", "dx", "dy", "r", "width", "height")
DRAWN = ("path", "line", "text", "tspan", "rect", "circle")
OTHER = {"low": None, "name": "low <b>", "n_rounds": 2.0, "note": ""}


def _with(*rows: dict[str, Any], name: str = "data-9f") -> dict[str, Any]:
    return {**SPEC, "data": {"name": name}, "datasets": {name: list(rows)}}


@pytest.fixture(scope="module")
def specs() -> dict[str, dict[str, Any]]:
    panels = [p for s in demo_report("plain").page.sections for f in s.figures for p in f.panels]
    return {panel.id: spec(panel) for panel in panels}


def test_a_form_is_written_once_and_unread_columns_never() -> None:
    packed = pack({"one": _with(ROW, OTHER), "two": _with(OTHER, name="data-77")})
    assert len(packed["forms"]) == 1
    assert packed["charts"]["one"] == [
        0,
        [[["low", "name", "n_rounds"], [[0.3333333, "a", 4], [None, "low <b>", 2]]]],
        [],
    ]
    assert "nobody" not in json.dumps(packed)
    there = unpack(packed)
    assert there["two"]["datasets"] == {"d0": [{"low": None, "name": "low <b>", "n_rounds": 2}]}
    assert there["two"]["data"] == {"name": "d0"}
    assert there["one"]["encoding"] == SPEC["encoding"]


def test_forms_that_differ_stay_apart() -> None:
    other = _with(ROW)
    other["encoding"] = {**other["encoding"], "y": {"field": "note"}}
    packed = pack({"one": _with(ROW), "two": other, "none": {"mark": "bar"}})
    assert len(packed["forms"]) == 3
    assert unpack(packed)["two"]["datasets"]["d0"][0]["note"] == "nobody reads this"
    assert packed["charts"]["none"] == [2, [], []]


def test_ends_of_scales_and_heights_make_no_other_form() -> None:
    specs = {}
    for name, end in (("one", 0.4), ("two", {"expr": "width > 0 ? 1 : 2"})):
        specs[name] = _with(ROW) | {"height": 90 if name == "one" else 120}
        x = {"field": "low", "scale": {"domainMax": end, "domainMin": 0, "nice": False}}
        specs[name]["encoding"] = {**specs[name]["encoding"], "x": x}
    packed = json.loads(json.dumps(pack(specs)))
    assert len(packed["forms"]) == 1
    for name, chart in unpack(packed).items():
        assert chart["height"] == specs[name]["height"]
        assert chart["encoding"] == specs[name]["encoding"]


@pytest.mark.long
def test_every_chart_is_drawn_the_same_from_the_packed_data(
    specs: dict[str, dict[str, Any]],
) -> None:
    there = unpack(json.loads(json.dumps(pack(specs))))
    assert there.keys() == specs.keys()
    for name, chart in specs.items():
        before, after = (_svg(one) for one in (chart, there[name]))
        assert _shape(before) == _shape(after), name
        assert _numbers(after) == pytest.approx(_numbers(before), abs=0.01), name


@pytest.mark.long
def test_a_slim_still_has_all_ink_and_all_words(specs: dict[str, dict[str, Any]]) -> None:
    for name, chart in specs.items():
        svg = _svg(chart)
        small = slim(svg)
        assert len(small) < 0.75 * len(svg)
        before, after = _ink(svg), _ink(small)
        assert [_looks(one) for one in before] == [_looks(one) for one in after], name
        for one, other in zip(before, after, strict=True):
            assert _numbers(other["at"]) == pytest.approx(_numbers(one["at"]), abs=0.03), name
            assert _numbers(other["form"]) == pytest.approx(_numbers(one["form"]), abs=0.006)


def test_ink_is_what_is_seen_wherever_it_is_written() -> None:
    """The control of the test above: colours count on the group too, and empty paths do not."""
    head = '<svg xmlns="http://www.w3.org/2000/svg">'
    marks = '<path d=""/><line x2="9" y2="0" stroke="#000"/><text font-size="9px">a</text>'
    red = f'{head}<g fill="red" transform="translate(0,0)">{marks}</g></svg>'
    assert [one["fill"] for one in _ink(red)] == ["red", "red"]
    assert [_looks(one) for one in _ink(slim(red))] == [_looks(one) for one in _ink(red)]
    assert "path" not in slim(red)
    moved = red.replace("0,0", "0,7")
    assert [one["at"] for one in _ink(slim(moved))] != [one["at"] for one in _ink(slim(red))]
    for other in (
        red.replace("red", "none"),
        red.replace(">a<", "><"),
        red.replace("#000", "#111"),
    ):
        assert [_looks(one) for one in _ink(other)] != [_looks(one) for one in _ink(red)]


def test_an_address_stands_in_double_quotes_and_comes_back() -> None:
    words = "<text>5\" 100% it's <tspan>&lt;b</tspan></text>"
    svg = f'<svg fill="#fff" font="&quot;A B&quot;">{words}</svg>'
    made = address(svg)
    assert not set('"&#%') & set(re.sub(r"%[0-9A-F]{2}", "", made))
    there = ET.fromstring(unquote(made.removeprefix("data:image/svg+xml,")))
    given = ET.fromstring(svg)
    assert there.attrib == given.attrib == {"fill": "#fff", "font": '"A B"'}
    assert "".join(there.itertext()) == "5\" 100% it's <b"


@pytest.mark.long
def test_a_squad_of_forty_goes_into_a_mail(tmp_path: Path) -> None:
    """From what each further player adds; charts and tables are as long for few rounds as many."""
    sizes = {}
    for players in (2, 4):
        with squad(tmp_path, [f"Player {letter}" for letter in "ABCD"[:players]], 8) as store:
            sizes[players] = len(to_html(team_report(ask_all(store)).page).encode())
    each = (sizes[4] - sizes[2]) / 2
    assert each > 10_000
    assert sizes[4] + 36 * each < MOST_BYTES


def _svg(chart: dict[str, Any]) -> str:
    drawn = {**chart, "config": config()}
    if drawn.get("width") == WIDE:
        drawn["width"] = 640
    return to_svg(drawn)


def _ink(svg: str) -> list[dict[str, str]]:
    """Return every element that is seen, with what it inherits and where it stands."""
    found: list[dict[str, str]] = []

    def walk(element: ET.Element, above: dict[str, str]) -> None:
        own = {k: v for k, v in element.attrib.items() if k in INHERITED or k == "opacity"}
        if "font-family" in own:  # a name of words needs no quotes
            own["font-family"] = own["font-family"].replace('"', "")
        state = {**above, **own, "at": f"{above['at']} {element.get('transform', '')}"}
        kind = element.tag.split("}")[1]
        painted = {"none"} != {state.get("fill", "black"), state.get("stroke", "none")}
        if kind in DRAWN and painted and element.get("d") != "" and "display" not in own:
            form = " ".join(element.get(name, "") for name in FORM)
            found.append({**state, "kind": kind, "form": form, "text": element.text or ""})
        for child in element:
            walk(child, state)

    walk(ET.fromstring(svg), {"at": ""})
    return found


def _looks(ink: dict[str, str]) -> dict[str, str]:
    plain = {"opacity": "1", "stroke-width": "1", "stroke-opacity": "1"}
    left_out = {"at", "form"} | (set() if ink["kind"] in ("text", "tspan") else set(TYPE))
    return {k: v for k, v in ink.items() if k not in left_out and plain.get(k) != v}


def _shape(svg: str) -> list[str]:
    return [element.tag for element in ET.fromstring(svg).iter()]


def _numbers(text: str) -> list[float]:
    places = re.sub(r"translate\(0,0\)", "", text)
    return [float(found) for found in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", places)]
