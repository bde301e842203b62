"""One chart as a file of its own: a page that needs no network, a picture, or Vega-Lite."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import altair as alt
import vl_convert

from sgzone.errors import CallError
from sgzone.inputs import refuse_no_name
from sgzone.report.theme import LIGHT, config
from sgzone.writing import unwritten, write_whole

_PNG_SCALE = 2.0


def _json(drawn: dict[str, Any]) -> bytes:
    return (json.dumps(drawn, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


_MAKERS: dict[str, Callable[[dict[str, Any]], bytes]] = {
    ".html": lambda drawn: vl_convert.vegalite_to_html(drawn, bundle=True).encode(),
    ".svg": lambda drawn: vl_convert.vegalite_to_svg(drawn).encode(),
    ".png": lambda drawn: bytes(vl_convert.vegalite_to_png(drawn, scale=_PNG_SCALE)),
    ".json": _json,
}
KINDS = tuple(_MAKERS)


def check_chart_file(path: Path) -> None:
    """Raise ``CallError`` where no chart can be written as this kind of file."""
    refuse_no_name(path)
    if path.suffix.lower() not in _MAKERS:
        raise CallError(f"A chart cannot be written to {path}; end its name in {', '.join(KINDS)}.")


def write_chart(chart: alt.TopLevelMixin, path: Path) -> None:
    """Write a chart in the house's look; ``DataError`` where the file cannot be written."""
    check_chart_file(path)
    drawn = {**chart.to_dict(), "config": {**config(), "background": LIGHT.paper}}
    made = _MAKERS[path.suffix.lower()](drawn)
    try:
        write_whole(path, made)
    except OSError as wrong:
        raise unwritten(path, wrong, "The chart") from wrong
