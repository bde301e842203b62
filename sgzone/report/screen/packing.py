"""The charts of a page in few bytes: no column that no chart reads, each form written once.

Squads show the same chart for every player; what differs are the rows. So a chart is a form
(its specification with the data sets named ``d0``, ``d1``, ...) and rows without column names.
``page.js`` puts them together again.
"""

from __future__ import annotations

import json
import re
from typing import Any

_DIGITS = 7  # of a number in the data: a pixel is a thousandth of a chart
_WORD = re.compile(r"\w+")

Spec = dict[str, Any]


def pack(specs: dict[str, Spec]) -> dict[str, Any]:
    """Return the charts as ``forms`` and, by id, ``charts``: a form's number and its data sets.

    A data set is ``[columns, rows]``. ``unpack`` undoes it, but for columns that no chart reads.
    """
    forms: dict[str, int] = {}
    charts = {}
    for name, spec in specs.items():
        form, sets = _apart(spec)
        number = forms.setdefault(json.dumps(form, ensure_ascii=False), len(forms))
        charts[name] = [number, sets]
    return {"forms": [json.loads(form) for form in forms], "charts": charts}


def unpack(packed: dict[str, Any]) -> dict[str, Spec]:
    """Return the charts by id; ``page.js`` does the same."""
    return {
        name: {
            **packed["forms"][form],
            "datasets": {
                f"d{k}": [dict(zip(columns, row, strict=True)) for row in rows]
                for k, (columns, rows) in enumerate(sets)
            },
        }
        for name, (form, sets) in packed["charts"].items()
    }


def _apart(spec: Spec) -> tuple[Spec, list[Any]]:
    """Return a chart's form, and its data sets in the order of their new names."""
    named = spec.get("datasets", {})
    form = json.dumps({key: value for key, value in spec.items() if key != "datasets"})
    for place, name in enumerate(named):
        form = form.replace(f'"{name}"', f'"d{place}"')
    read = set(_WORD.findall(form))
    return json.loads(form), [_rows(rows, read) for rows in named.values()]


def _rows(rows: list[dict[str, Any]], read: set[str]) -> list[Any]:
    columns = [name for name in (rows[0] if rows else {}) if set(_WORD.findall(name)) <= read]
    return [columns, [[_short(row[name]) for name in columns] for row in rows]]


def _short(value: Any) -> Any:
    if not isinstance(value, float):
        return value
    short = float(f"{value:.{_DIGITS}g}")
    return int(short) if short.is_integer() else short
