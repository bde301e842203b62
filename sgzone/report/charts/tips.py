"""What a chart says of a mark on a touch: the words and formats of the dictionary of answers."""

from __future__ import annotations

import altair as alt

from sgzone.answers import Column, columns_of
from sgzone.words.say import Say

_COUNTED = {"shots", "putts", "balls", "n"}
_NUMBER, _TEXT = "Q", "N"


def tips(answer: str, fields: str, say: Say | None = None) -> list[alt.Tooltip]:
    """Return a tooltip for each of the chart's fields, as the answer's tables say that column.

    ``fields``: names with blanks between, columns of ``answer`` or of ``by``. ``name:part``: the
    chart's own field ``name`` holds the words of column ``part``. ``interval:low``: a text that has
    the range whose low end is ``low``. Lengths are already in the reader's units.
    """
    columns = {column.name: column for column in (*columns_of("by"), *columns_of(answer))}
    return [_tip(field, columns, say or Say()) for field in fields.split()]


def _tip(field: str, columns: dict[str, Column], say: Say) -> alt.Tooltip:
    name, _, of = field.partition(":")
    column = columns[of or name]
    ready = bool(of) and bool(column.range_of)
    if column.decimals is None or ready:
        return alt.Tooltip(f"{name}:{_TEXT}", title=_title(column, say, columns, ready))
    title = _title(column, say, columns, ready)
    return alt.Tooltip(f"{name}:{_NUMBER}", title=title, format=_format(column, say))


def _title(column: Column, say: Say, columns: dict[str, Column], ready: bool) -> str:
    if column.range_of:
        low = next(one for one in columns.values() if one.range_of == column.range_of)
        whole = low.heading if "%" in low.heading else f"{say.sure} {low.heading}"
        title = whole if ready else f"{whole} from" if column is low else "to"
    else:
        title = f"{column.heading} (n)" if column.name in _COUNTED else column.heading
    return f"{title}, {say.unit(column.unit)}" if column.unit in ("yd", "ft") else title


def _format(column: Column, say: Say) -> str:
    """Return the number's format, which is the tables' own but for a share's steps of 5%."""
    places = column.decimals or 0
    if column.unit == "ft" and say.metric:
        places = max(places, 1)
    sign = "+" if column.signed else ""
    return f"{sign}.{places}%" if column.share else f"{sign},.{places}f"
