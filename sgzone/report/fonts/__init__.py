"""Charts drawn as pictures, in a font that travels with the package.

A machine's own fonts would set the same chart otherwise, and two machines would give two pictures.
The font has a name that no machine's font has, for the drawer asks the machine first.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import vl_convert

FOLDER = Path(__file__).parent
FAMILY = "Sgzone Sans"
"""The font of the charts; its licence is beside it."""

_ROWS = ("data", "datasets")
_TOUCHED = ("tooltip", "key")
"""What a mark says when it is pointed at, and which it is in the next drawing."""


def to_svg(drawn: dict[str, Any]) -> str:
    """Return a Vega-Lite chart as SVG; the same chart gives the same text on any machine."""
    _known()
    made: str = vl_convert.vegalite_to_svg(_at_rest(drawn))
    return made


def to_png(drawn: dict[str, Any], scale: float) -> bytes:
    """Return a Vega-Lite chart as PNG, ``scale`` times as many pixels as its size says."""
    _known()
    return bytes(vl_convert.vegalite_to_png(_at_rest(drawn), scale=scale))


def _at_rest(drawn: dict[str, Any]) -> dict[str, Any]:
    """Return a chart without what a hand could choose on it or point at.

    A picture would show the edges of a choice, and nobody reads its tooltips.
    """
    params = [param for param in drawn.get("params", ()) if "select" not in param]
    chart = {**drawn, "params": params} if "params" in drawn else drawn
    return {key: inner if key in _ROWS else _still(inner) for key, inner in chart.items()}


def _still(spec: Any) -> Any:
    if isinstance(spec, list):
        return [_still(inner) for inner in spec]
    if isinstance(spec, dict):
        return {
            key: inner if key in _ROWS else _still(inner)
            for key, inner in spec.items()
            if key not in _TOUCHED
        }
    return spec


@cache
def _known() -> None:
    """Tell the drawer where the font is, once."""
    vl_convert.register_font_directory(str(FOLDER))
