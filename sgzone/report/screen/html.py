"""From a page to one self-contained HTML file: no request leaves it, and a policy says so.

Charts stand in it twice: as live Vega-Lite for the screen, and as a still picture for paper, for
browsers without scripts, and should a script fail. Vega's expressions are interpreted, not
evaluated, so the policy needs no ``unsafe-eval``.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from functools import cache
from importlib.resources import files
from typing import Any

import altair as alt
import jinja2
from markupsafe import Markup, escape

from sgzone.report.charts import rows
from sgzone.report.charts.theme import DARK, LIGHT, SANS, SERIF, WIDE, Palette, config, dark_twins
from sgzone.report.page import Page, Panel
from sgzone.report.screen.packing import pack
from sgzone.report.screen.script import vega_bundle
from sgzone.report.screen.sieve import lies, lies_of, sieve_rules
from sgzone.report.screen.still import still
from sgzone.report.screen.taking import csv_address
from sgzone.words.method import SOFTWARE
from sgzone.words.screen import chosen, listed, taking

CHOSEN = "chosen-chart"
"""The chart of what a reader of the page chose."""
MOST_BYTES = 2_500_000
"""Of a page that goes into a mail without trouble; a squad of more than some 45 is larger."""
STILL_WIDTH = 640
STILL_PANEL_WIDTH = 300

_RANGE = re.compile(r"\d+(?:\.\d)?-\d+(?:\.\d)?(?: (?:yd|ft|m))?\b|\bn \d+|--[a-z]+")


def to_html(page: Page) -> str:
    """Return the page as HTML; the same page gives the same bytes."""
    panels = [
        (panel, figure.columns)
        for section in page.sections
        for figure in section.figures
        for panel in figure.panels
    ]
    specs = {panel.id: rows.read_rows(panel.chart) for panel, _ in panels}
    stills = {panel.id: Markup(_still(specs[panel.id], columns)) for panel, columns in panels}
    style = f"{_colours()}\n{_template_text('style.css')}{sieve_rules()}"
    data: dict[str, Any] = {"config": config(), "twins": dark_twins(), "paper": LIGHT.paper}
    if page.strokes is not None and panels:
        data["strokes"] = page.strokes.data
        specs[CHOSEN] = rows.read_rows(page.strokes.chart)
    data |= pack(specs)
    bundle, script = vega_bundle(), _script(choosing="strokes" in data)
    text: str = (
        _environment()
        .get_template("page.html")
        .render(
            page=page,
            stills=stills,
            style=Markup(style),
            bundle=Markup(bundle) if panels else None,
            software=SOFTWARE,
            licences=javascript_licences(),
            script=Markup(script),
            data=Markup(json_block(data)),
            policy=_policy(style, [bundle, script]),
        )
    )
    return text


def _script(*, choosing: bool) -> str:
    """Return the page's own script: its charts, and where there is something to choose, that."""
    names = ("choosing.js", "page.js") if choosing else ("page.js",)
    parts = "\n".join(_template_text(name) for name in names)
    return f'(() => {{\n"use strict";\n{parts}}})();\n'


def spec(panel: Panel) -> dict[str, Any]:
    """Return the Vega-Lite specification of a panel's chart, without Altair's own config.

    What only our own code decides is held to the schema by the tests, not again for every reader.
    """
    with alt.data_transformers.enable(rows.NAME):
        found: dict[str, Any] = rows.drawable(panel.chart.to_dict(validate=False))
    found.pop("config", None)
    return found


def json_block(data: Any) -> str:
    """Return JSON that cannot end the script element it stands in."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def javascript_licences() -> str:
    """Return the licences of all that is in ``vega_bundle``; they ask to travel with it."""
    path = files("sgzone.report.screen").joinpath("licences", "javascript.txt")
    return path.read_text(encoding="utf-8")


def _still(chart: dict[str, Any], columns: int) -> str:
    """Return a chart as the data address of an SVG in the light look."""
    drawn = {**chart, "config": config()}
    if drawn.get("width") == WIDE:
        drawn["width"] = STILL_WIDTH if columns == 1 else STILL_PANEL_WIDTH
    return still(drawn)


def kept(text: str) -> Markup:
    """Return a sentence, escaped, in which no range (``0-10 ft``) or option is torn apart."""
    return Markup(_RANGE.sub(r'<span class="kept">\g<0></span>', str(escape(text))))


def _policy(style: str, scripts: list[str]) -> str:
    """Return a content security policy that allows these very texts and nothing else."""
    return "; ".join(
        [
            "default-src 'none'",
            "script-src " + " ".join(_digest(text) for text in scripts),
            f"style-src {_digest(style)}",
            "img-src data:",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )


def _digest(text: str) -> str:
    found = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return f"'sha256-{found}'"


def _colours() -> str:
    """Return the palettes and type as style sheet variables, paper always in the light look."""
    look = f"--sans: {SANS}; --serif: {SERIF};"
    light, dark = _variables(LIGHT), _variables(DARK)
    return (
        f":root {{ {look} {light} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ {dark} }} }}"
    )


def _variables(palette: Palette) -> str:
    names = Palette.__dataclass_fields__
    return " ".join(f"--{name.replace('_', '-')}: {getattr(palette, name)};" for name in names)


def _template_text(name: str) -> str:
    return files("sgzone.report.screen").joinpath(name).read_text(encoding="utf-8")


@cache
def _environment() -> jinja2.Environment:
    environment = jinja2.Environment(
        loader=jinja2.FunctionLoader(_template_text),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["kept"] = kept
    environment.filters["csv"] = lambda table: Markup(csv_address(table))
    environment.filters["lies"] = lies
    environment.filters["lies_of"] = lies_of
    environment.globals["listed"] = vars(listed)
    environment.globals["said"] = {**vars(chosen), **vars(taking)}
    environment.globals["chosen"] = CHOSEN
    return environment
