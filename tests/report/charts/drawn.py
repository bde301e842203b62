"""What a chart's specification holds: its layers, the rows of each, its tooltips."""

from __future__ import annotations

from typing import Any

import pandas as pd


def layers(spec: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the layers of a chart, those of its layers with them, each with its data."""
    found = []
    for layer in spec["layer"]:
        own = {name: spec[name] for name in ("data",) if name in spec} | layer
        found += layers(own) if "layer" in own else [own]
    return found


def rows(spec: dict[str, Any], layer: dict[str, Any] | None = None) -> pd.DataFrame:
    """Return what a layer draws; without one, what the first draws."""
    one = layer or spec["layer"][0]
    name = one.get("data", spec.get("data"))["name"]
    return pd.DataFrame(spec["datasets"][name])


def of_mark(spec: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    """Return the layers with this kind of mark."""
    return [layer for layer in layers(spec) if layer["mark"]["type"] == kind]


def tooltips(spec: dict[str, Any]) -> set[str]:
    """Return the titles of all tooltips."""
    return {
        tip.get("title", tip["field"])
        for layer in layers(spec)
        for tip in layer["encoding"].get("tooltip", [])
    }
