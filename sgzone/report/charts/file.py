"""One chart as a file of its own: a page that needs no network, a picture, or Vega-Lite."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import altair as alt
import vl_convert

from sgzone.errors import CallError, did_you_mean
from sgzone.harmless import named
from sgzone.report.charts.alone import wide
from sgzone.report.charts.rows import drawable
from sgzone.report.charts.theme import LIGHT, config
from sgzone.report.fonts import to_png, to_svg
from sgzone.report.marks import CHART_MARK, CHARTS
from sgzone.writing import NOTHING, Output, Reads

_PNG_SCALE = 2.0


def _json(spec: dict[str, Any]) -> bytes:
    return (json.dumps(spec, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def _html(spec: dict[str, Any]) -> bytes:
    made: str = vl_convert.vegalite_to_html(spec, bundle=True)
    return made.replace("<head>", f"<head>\n    {CHART_MARK}", 1).encode()


_MAKERS: dict[str, Callable[[dict[str, Any]], bytes]] = {
    ".html": _html,
    ".svg": lambda spec: to_svg(spec).encode(),
    ".png": lambda spec: to_png(spec, _PNG_SCALE),
    ".json": _json,
}
KINDS = tuple(_MAKERS)


def chart_output(path: Path, reads: Reads = NOTHING) -> Output:
    """Return where a chart goes, checked before it is drawn.

    Raises ``CallError`` where no chart is written as this kind of file, or over what the call
    reads; ``DataError`` where something else is there.
    """
    kind = path.suffix.lower()
    if kind not in _MAKERS:
        raise CallError(
            f"A chart cannot be written to {named(path)}; end its name in {', '.join(KINDS)}."
            f"{did_you_mean(kind, KINDS)}"
        )
    return Output(path, CHARTS[kind], reads, "The chart").check()


def write_chart(chart: alt.TopLevelMixin, path: Path, reads: Reads = NOTHING) -> None:
    """Write a chart in the house's look; raises as ``chart_output``.

    ``DataError`` too where the file cannot be written.
    """
    output = chart_output(path, reads)
    output.write(_MAKERS[path.suffix.lower()](drawn(chart)))


def drawn(chart: alt.TopLevelMixin) -> dict[str, Any]:
    """Return a chart in Vega-Lite with its own size, look and paper, however many rows it has."""
    with alt.data_transformers.enable("default", max_rows=None):
        spec = drawable(wide(chart).to_dict())
    return {**spec, "config": {**config(), "background": LIGHT.paper}}
