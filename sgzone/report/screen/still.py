"""A chart as a still picture, in few bytes: what nobody sees of an SVG is left out.

A squad's page holds over a hundred stills; written out as they are drawn, they are a third of it.
"""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree as ET

from sgzone.report.fonts import to_svg
from sgzone.report.screen.taking import quoted

_SVG = "http://www.w3.org/2000/svg"
_UNSEEN = {"class", "role", "pointer-events", "version"}
_PLAIN = {"opacity": "1", "stroke-width": "1", "stroke-opacity": "1", "transform": "translate(0,0)"}
"""Attributes that say what holds without them (at the root, for those that are inherited)."""
_HANDED_DOWN = ("font-size", "font-weight", "text-anchor", "fill", "stroke", "stroke-width")
_LONG = re.compile(r"-?\d+\.\d{3,}(?:e-?\d+)?")
_KEPT = " !$'()*+,-./:;<=>?@[]^_`{|}~"  # of an address in double quotes; %, #, & and " are not
_OTHER = re.compile(f"[^A-Za-z0-9{re.escape(_KEPT)}]+")

ET.register_namespace("", _SVG)


def still(drawn: dict[str, Any]) -> str:
    """Return a Vega-Lite chart as the data address of an SVG, for an attribute in double quotes."""
    return address(slim(to_svg(drawn)))


def address(svg: str) -> str:
    """Return an SVG as a data address that stands in double quotes as it is."""
    single = re.sub(r"<[^>]*>", lambda tag: tag[0].replace("'", "&#39;").replace('"', "'"), svg)
    return "data:image/svg+xml," + quoted(single, _OTHER)


def slim(svg: str) -> str:
    """Return an SVG that looks the same: no unseen elements or names, hundredths of a pixel."""
    root = ET.fromstring(svg)
    _prune(root)
    _one_family(root)
    _hand_up(root)
    _flatten(root)
    return ET.tostring(root, encoding="unicode").replace(" />", "/>")


def _prune(element: ET.Element) -> None:
    for name, value in list(element.attrib.items()):
        if name in _UNSEEN or name.startswith("aria-") or _PLAIN.get(name) == value:
            del element.attrib[name]
        elif name != "font-family":
            element.set(name, _LONG.sub(_rounded, value))
    for child in list(element):
        _prune(child)
        if _draws_nothing(child):
            element.remove(child)


def _one_family(root: ET.Element) -> None:
    """Name the family of the type once where there is one."""
    written = [element for element in root.iter() if "font-family" in element.attrib]
    families = {element.get("font-family", "") for element in written}
    if len(families) == 1:
        for element in written:
            del element.attrib["font-family"]
        root.set("font-family", families.pop().replace('"', ""))  # no name of ours needs them


def _flatten(element: ET.Element) -> None:
    """Put the children of a group that says nothing in its place."""
    for child in element:
        _flatten(child)
    for place, child in reversed(list(enumerate(element))):
        if child.tag == f"{{{_SVG}}}g" and not child.attrib:
            element[place : place + 1] = list(child)


def _draws_nothing(element: ET.Element) -> bool:
    """Tell whether an element has neither ink nor children; all ink is written on the marks."""
    if element.get("display") == "none":
        return True
    kind = element.tag.removeprefix(f"{{{_SVG}}}")
    if kind == "path":
        return not element.get("d") or not {"fill", "stroke"} & set(element.attrib)
    return kind == "g" and not len(element)


def _hand_up(element: ET.Element) -> None:
    """Write what all children of a group share on the group."""
    for child in element:
        _hand_up(child)
    for name in _HANDED_DOWN:
        values = {child.get(name) for child in element}
        if len(values) == 1 and None not in values and name not in element.attrib:
            element.set(name, values.pop() or "")
            for child in element:
                del child.attrib[name]


def _rounded(match: re.Match[str]) -> str:
    return f"{float(match[0]):.2f}".rstrip("0").rstrip(".")
