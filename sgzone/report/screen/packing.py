"""The charts of a page in few bytes: no column that no chart reads, each form written once.

Squads show the same chart for every player; what differs are the rows. So a chart is a form
(its specification with the data sets named ``d0``, ``d1``, ...), rows without column names, and
what follows from the rows in its scales and height. ``page.js`` puts them together again.
"""

from __future__ import annotations

import json
from typing import Any

from sgzone.report.charts.rows import WORD

_DIGITS = 7  # of a number in the data: a pixel is a thousandth of a chart


_OF_ROWS = ("domainMax", "domainMin", "height")
"""Keys of a specification whose values follow from the rows; a form has their place, ``$``."""

Spec = dict[str, Any]


def pack(specs: dict[str, Spec]) -> dict[str, Any]:
    """Return the charts as ``forms`` and, by id, ``charts``: form's number, data sets, values.

    A data set is ``[columns, rows]``. ``unpack`` undoes it, but for columns that no chart reads.
    """
    forms: dict[str, int] = {}
    charts = {}
    for name, spec in specs.items():
        whole, sets = _apart(spec)
        values: list[Any] = []
        form = _without(whole, values)
        number = forms.setdefault(json.dumps(form, ensure_ascii=False), len(forms))
        charts[name] = [number, sets, values]
    return {"forms": [json.loads(form) for form in forms], "charts": charts}


def unpack(packed: dict[str, Any]) -> dict[str, Spec]:
    """Return the charts by id; ``page.js`` does the same."""
    return {
        name: {
            **_with(packed["forms"][form], values),
            "datasets": {
                f"d{k}": [dict(zip(columns, row, strict=True)) for row in rows]
                for k, (columns, rows) in enumerate(sets)
            },
        }
        for name, (form, sets, values) in packed["charts"].items()
    }


def _without(value: Any, values: list[Any]) -> Any:
    """Return a form with the places of what follows from rows, which go into ``values``."""
    if isinstance(value, list):
        return [_without(one, values) for one in value]
    if not isinstance(value, dict):
        return value
    found: dict[str, Any] = {}
    for key, one in value.items():
        if key in _OF_ROWS:
            found[key] = {"$": len(values)}
            values.append(one)
        else:
            found[key] = _without(one, values)
    return found


def _with(value: Any, values: list[Any]) -> Any:
    """Return a form with the values at their places."""
    if isinstance(value, list):
        return [_with(one, values) for one in value]
    if not isinstance(value, dict):
        return value
    if value.keys() == {"$"}:
        return values[value["$"]]
    return {key: _with(one, values) for key, one in value.items()}


def _apart(spec: Spec) -> tuple[Spec, list[Any]]:
    """Return a chart's form, and its data sets in the order of their new names."""
    named = spec.get("datasets", {})
    form = json.dumps({key: value for key, value in spec.items() if key != "datasets"})
    for place, name in enumerate(named):
        form = form.replace(f'"{name}"', f'"d{place}"')
    read = set(WORD.findall(form))
    return json.loads(form), [_rows(rows, read) for rows in named.values()]


def _rows(rows: list[dict[str, Any]], read: set[str]) -> list[Any]:
    columns = [name for name in (rows[0] if rows else {}) if set(WORD.findall(name)) <= read]
    return [columns, [[_short(row[name]) for name in columns] for row in rows]]


def _short(value: Any) -> Any:
    if not isinstance(value, float):
        return value
    short = float(f"{value:.{_DIGITS}g}")
    return int(short) if short.is_integer() else short
