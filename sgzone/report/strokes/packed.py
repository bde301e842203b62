"""Every stroke of a player's page in few bytes, and what can be chosen among them.

The page adds up and counts, nothing more: every word, heading and length it needs is handed to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import altair as alt
import pandas as pd

from sgzone.answers import SHORT, columns_of
from sgzone.harmless import cell, one_line
from sgzone.terms import LIES, OUTSIDE, PART_NAMES
from sgzone.words.rounds.strokes import length_of
from sgzone.words.say import Say
from sgzone.words.screen import chosen as words

ANSWER = "page_strokes"
_DIGITS = 6
"""Decimals of what a stroke gained: the sum of thousands is right to the digits that are shown."""

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to choose: its name, as the option of the command line, and what it may be."""

    name: str
    label: str
    options: Options


@dataclass(frozen=True, slots=True)
class Strokes:
    """What the page's script is given.

    ``days``: the first and the last, ISO. ``fields``: what can be chosen beside days. ``data``:
    strokes, rounds and words. ``chart``: what was played by part, to be drawn anew for a choice.
    """

    days: tuple[str, str]
    fields: tuple[Field, ...]
    data: dict[str, Any]
    chart: alt.LayerChart


def packed(
    strokes: pd.DataFrame,
    sizes: pd.DataFrame,
    say: Say,
    chart: alt.LayerChart,
    notes: pd.DataFrame | None = None,
) -> Strokes:
    """Return the strokes of one player, packed.

    ``strokes``: as ``scoring.scored``, whose index is each stroke's number; ``sizes``: as
    ``round_sizes``. ``notes``: as ``report.asked.card_notes``; None where nobody asked for them.
    """
    rounds = sizes.sort_values("round_key", ignore_index=True)
    texts = {
        "part": list(PART_NAMES),
        "lie": [*LIES, "holed"],
        "band": list(dict.fromkeys(strokes["band"].dropna())),
        "club": sorted(set(strokes["club"].dropna().astype(str))),
        "event": sorted(set(rounds["event"].dropna().astype(str))),
    }
    told = {} if notes is None else _notes(strokes, notes)
    data = {
        "rounds": _rounds(rounds, texts["event"]),
        "rows": _rows(strokes, rounds, texts),
        "notes": told,
        "words": texts,
        "said": {"part": say.parts, "band": say.bands},
        "lengths": {lie: length_of(lie, say) for lie in LIES},
        "headings": headings(notes=bool(told)),
        "guarded": _guarded([*texts["club"], *texts["event"], *told.values()]),
        "text": words.TEXT,
    }
    days = rounds["date"]
    return Strokes(
        days=(f"{days.min():%Y-%m-%d}", f"{days.max():%Y-%m-%d}"),
        fields=_fields(strokes, texts, say),
        data=data,
        chart=chart,
    )


def headings(*, notes: bool) -> list[list[str]]:
    """Return name and heading of the columns of a list of strokes."""
    columns = [c for c in columns_of(ANSWER) if c.shown == SHORT and (notes or c.name != "note")]
    return [[column.name, column.heading] for column in columns]


def _rounds(rounds: pd.DataFrame, events: list[str]) -> list[list[Any]]:
    place = {event: number for number, event in enumerate(events)}
    days = rounds["date"].dt.strftime("%Y-%m-%d")
    event = [place.get(word, -1) for word in rounds["event"]]
    columns = (days, rounds["round"].astype(int), event, rounds["holes"].astype(int))
    return [list(row) for row in zip(*columns, strict=True)]


def _rows(
    strokes: pd.DataFrame, rounds: pd.DataFrame, texts: dict[str, list[str]]
) -> list[list[Any]]:
    """Return a row per stroke; words as their numbers, -1 for none."""

    def place(name: str, column: str) -> list[int]:
        found: list[int] = (
            pd.Index(texts[name]).get_indexer(pd.Index(strokes[column].astype(object))).tolist()
        )
        return found

    part = [
        -1 if word == OUTSIDE else number
        for word, number in zip(strokes["part"], place("part", "part"), strict=True)
    ]
    whose = pd.Index(rounds["round_key"]).get_indexer(pd.Index(strokes["round_key"])).tolist()
    columns = (
        *(whose, _whole(strokes["hole"]), _whole(strokes["shot"])),
        *(place("lie", "lie"), _short(strokes["distance_yd"])),
        *(part, place("band", "band"), place("club", "club")),
        *(place("lie", "end_lie"), _short(strokes["end_distance_yd"])),
        *(_whole(strokes["penalty"]), _short(strokes["gained"])),
    )
    return [list(row) for row in zip(*columns, strict=True)]


def _whole(column: pd.Series[Any]) -> list[int]:
    found: list[int] = column.astype(int).tolist()
    return found


def _short(column: pd.Series[float]) -> list[float | None]:
    values = column.round(_DIGITS).astype(float)
    return [
        None if value != value else int(value) if value.is_integer() else value
        for value in values.tolist()
    ]


def _notes(strokes: pd.DataFrame, notes: pd.DataFrame) -> dict[int, str]:
    keys = ["date", "round", "hole", "shot"]
    own = strokes[keys].reset_index(names="stroke").merge(notes[[*keys, "note"]], on=keys)
    return {
        int(stroke): one_line(str(note))
        for stroke, note in zip(own["stroke"], own["note"], strict=True)
    }


def _guarded(texts: list[str]) -> dict[str, str]:
    """Return the texts that a spreadsheet would take for a formula, and what csv has of each."""
    return {text: cell(text) for text in texts if cell(text) != text}


def _fields(strokes: pd.DataFrame, texts: dict[str, list[str]], say: Say) -> tuple[Field, ...]:
    zone = strokes[strokes["part"] != OUTSIDE]
    there = {name: set(zone[name].dropna().astype(str)) for name in ("part", "lie", "club")}
    there["event"] = set(texts["event"])
    found = []
    for name in words.LABELS:
        options = tuple(
            (word, say.parts.get(word, word) if name == "part" else word)
            for word in texts[name]
            if word in there[name]
        )
        found.append(Field(name, words.LABELS[name], options))
    return tuple(field for field in found if field.options)
