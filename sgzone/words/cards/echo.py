"""A hole of a card read back in words, so that a slip of the pen is heard."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

from sgzone.cards.columns import columns_of
from sgzone.terms import GREEN, HOLED, NEAR_LIES
from sgzone.units import FT_PER_YD, from_ft
from sgzone.words.digits import count, day
from sgzone.words.say import Say

Row = Mapping[str, Any]
"""One row of a card in canonical values, as ``staged`` and ``read_card`` have them."""

_TOLD = {
    *("player", "date", "round", "hole", "shot", "lie", "distance", "unit", "penalty", "result"),
    *("club", "swing", "depth_ft", "side_ft", "course", "event", "format", "par"),
}
"""Columns that have their own place in the sentence, or belong to the round."""
_UNPLAYED = ("conceded", "picked_up")
_ROUND = ("player", "date", "round")


def hole_in_words(rows: Sequence[Row], say: Say | None = None) -> str:
    """Return one hole read back: ``Hole 1, par 4: fairway 112 yd with the 50 to 18 ft; ...``.

    ``rows``: the rows of one hole in order of play, in canonical values; any mapping will do, and
    what is missing, None or NaN is not said. Read are ``hole``, ``shot``, ``lie``,
    ``distance_ft`` (feet), ``penalty``, ``result`` (on the last row; missing there: holed, or
    where ``to_lie`` and ``to_distance_ft`` put the ball),
    ``par``, ``club``, ``swing``, ``depth_ft``, ``side_ft``, and every other column of a card.
    ``say``: in which units; yards without it.
    """
    say = say or Say()
    strokes = [_stroke(rows, place, say) for place in range(len(rows))]
    told = "; ".join(stroke for stroke in strokes if stroke)
    return f"{_head(rows)}: {told}. {_counts(rows)}.{_rest(rows)}"


def _head(rows: Sequence[Row]) -> str:
    par = next((par for row in rows if (par := _of(row, "par")) is not None), None)
    first = _of(rows[0], "shot")
    head = f"Hole {_of(rows[0], 'hole'):g}"
    head += f", par {par:g}" if par is not None else ""
    return head + (f", from shot {first:g}" if first is not None and first > 1 else "")


def _stroke(rows: Sequence[Row], place: int, say: Say) -> str:
    """Return what was done from one place: where from, with what, where to."""
    row = rows[place]
    last = place == len(rows) - 1
    start = f"{place_in_words(row, say)} " if place == 0 else ""
    if last and _result(row) in _UNPLAYED:
        return f"{start}{_ended(row)}"
    how = _with(row)
    if not how and not start:
        how = "putt" if _of(row, "lie") == GREEN else "then"
    miss, penalty = _finish(row, say), _of(row, "penalty") or 0
    if penalty:
        how = f"{how}, {_penalties(int(penalty))}," if how else f"and {_penalties(int(penalty))},"
    if last and _result(row) == HOLED:
        done = f"{start}{how} in" if start or _of(row, "lie") != GREEN or how != "putt" else "in"
    else:
        there = _finish_of_its_own(row) if last else rows[place + 1]
        done = f"{start}{how} to {place_in_words(there, say)}"
    return " ".join(done.split()) + miss


def _result(row: Row) -> str:
    """Return how a last row ended: open where it says itself that the ball came to rest."""
    finish = _of(row, "to_lie")
    return str(_of(row, "result") or (HOLED if finish is None else finish))


def _finish_of_its_own(row: Row) -> Row:
    return {"lie": _of(row, "to_lie"), "distance_ft": _of(row, "to_distance_ft")}


def _ended(row: Row) -> str:
    if _result(row) == "conceded":
        return "given"
    return "picked up, no stroke from there"


def place_in_words(row: Row, say: Say) -> str:
    """Return where a ball lay: ``fairway 112 yd``, ``18 ft`` on the green, ``fringe 9 ft``."""
    lie, feet = _of(row, "lie"), _of(row, "distance_ft")
    if lie is None and feet is None:
        return "a place not written down"
    length = "" if feet is None else length_in_words(float(feet), lie in NEAR_LIES, say)
    if lie is None:
        return length
    return length if lie == GREEN and length else f"{lie} {length}".rstrip()


def length_in_words(feet: float, near: bool, say: Say) -> str:
    """Return a length as a card has it: feet near the hole, yards elsewhere, to a tenth."""
    unit = "m" if say.metric else "ft" if near else "yd"
    value = from_ft(feet, unit) if say.metric else feet / (1 if near else FT_PER_YD)
    return f"{round(value, 1):g} {unit}"


def _with(row: Row) -> str:
    club, swing = _of(row, "club"), _of(row, "swing")
    told = f"with the {club}" if club is not None else ""
    if swing is None:
        return told
    return f"{told}, {swing}," if told else f"{swing} swing"


def _finish(row: Row, say: Say) -> str:
    told = []
    for name, more, less in (("depth_ft", "long", "short"), ("side_ft", "right", "left")):
        value = _of(row, name)
        if value is not None:
            way = f" {more if value > 0 else less}" if value else f" {more} or {less}"
            told.append(length_in_words(abs(float(value)), True, say) + way)
    return f" ({', '.join(told)})" if told else ""


def _penalties(number: int) -> str:
    return "1 penalty" if number == 1 else f"{number} penalties"


def _counts(rows: Sequence[Row]) -> str:
    played = [*rows[:-1], *(row for row in rows[-1:] if _result(row) not in _UNPLAYED)]
    putts = sum(_of(row, "lie") == GREEN for row in played)
    penalties = sum(int(_of(row, "penalty") or 0) for row in rows)
    told = [count(len(played), "stroke"), count(putts, "putt")]
    return ", ".join([*told, _penalties(penalties)] if penalties else told)


def _rest(rows: Sequence[Row]) -> str:
    """Return the columns that have no place in the sentence, each with its values in order."""
    told = []
    for column in columns_of("shot"):
        if column.name not in _TOLD and not column.name.startswith("to_"):
            values = dict.fromkeys(
                str(_plain(v)) for r in rows if (v := _of(r, column.name)) is not None
            )
            if values:
                told.append(f"{column.name}: {', '.join(values)}")
    return f" ({'; '.join(told)})" if told else ""


def _plain(value: Any) -> Any:
    return f"{value:g}" if isinstance(value, float) else value


def _of(row: Row, name: str) -> Any:
    """Return a value of a row, None where it is missing in any of the ways a frame has."""
    value = row.get(name)
    return None if value is None or value != value or str(value) == "<NA>" else value


def card_in_words(rows: Sequence[Row], say: Say | None = None) -> list[str]:
    """Return every hole of a card read back, each round under who played it and when.

    ``rows``: those of ``read_card``, in order of play; what ``hole_in_words`` reads, and
    ``player``, ``date`` and ``round``.
    """
    told: list[str] = []
    for (player, date, number), holes in groupby(rows, key=lambda row: _keys(row, *_ROUND)):
        several = f", round {number:g}" if number and number > 1 else ""
        told.append(f"{player}, {day(date)}{several}")
        told += [
            hole_in_words(list(hole), say) for _, hole in groupby(holes, lambda r: _of(r, "hole"))
        ]
    return told


def _keys(row: Row, *names: str) -> tuple[Any, ...]:
    return tuple(_of(row, name) for name in names)
