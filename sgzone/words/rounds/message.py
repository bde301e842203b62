"""One round as a message: plain text, short enough to send."""

from __future__ import annotations

import pandas as pd

from sgzone.harmless import cut, one_line
from sgzone.review.debrief.one_round import Debrief
from sgzone.words.digits import MINUS, count, listed, number, rows
from sgzone.words.rounds.debrief import NO_STROKES, of_chances, place_words
from sgzone.words.rounds.strokes import places
from sgzone.words.say import Say

MOST_LETTERS = 600
_NAME_ROOM = 28
_MOST_NAMED = 2


def message(of: Debrief, say: Say) -> str:
    """Return the round in under ``MOST_LETTERS`` letters, without any note of the card."""
    head = f"{_head(of)}:"
    if not of.total["shots"].iloc[-1]:
        return f"{head} {NO_STROKES}"
    said = [
        f"{head} {_in_all(of, say)}",
        *_parts(of, say),
        *_strokes("Worst", of.worst, say),
        *_strokes("Best", of.best, say),
        *_counts(of),
        "One round: no verdict.",
    ]
    return " ".join(said)


def _head(of: Debrief) -> str:
    where = f", {_short(of.course)}" if of.course else ""
    return f"{_short(of.player)}, {of.date}{where}"


def _short(text: str) -> str:
    return cut(one_line(text), _NAME_ROOM, "...")


def _in_all(of: Debrief, say: Say) -> str:
    whole = of.total.iloc[-1]
    gained, place = float(whole["gained"]), place_words(whole)
    way, to = ("lost", "to") if gained < 0 else ("gained", "on")
    rank = f", {place} rounds" if place else ""
    holes = count(of.holes_played, "hole")
    against = f"{to} {_short(of.benchmark)}"
    return f"{way} {number(abs(gained), 2)} {against} from {say.zone} in ({holes}{rank})."


def _parts(of: Debrief, say: Say) -> list[str]:
    halves = [
        f"{name} {_signed(row.gained)}"
        for name, row in zip(("off the green", "putting"), rows(of.total.iloc[:-1]), strict=True)
        if row.shots
    ]
    order = of.parts.sort_values("gained", kind="stable")
    lost = order[order["gained"] < 0].head(_MOST_NAMED)
    gained = order[order["gained"] > 0].iloc[::-1].head(_MOST_NAMED)
    return [
        _sentence(halves),
        *_named("Most lost", lost, say),
        *_named("Most gained", gained, say),
    ]


def _named(what: str, parts: pd.DataFrame, say: Say) -> list[str]:
    named = [f"{say.part(row.part)} {_signed(row.gained)}" for row in rows(parts)]
    return [f"{what}: {listed(named)}."] if named else []


def _strokes(what: str, strokes: pd.DataFrame, say: Say) -> list[str]:
    first = strokes.head(1)
    if first.empty:
        return []
    row = next(rows(first))
    (start,) = places(first["lie"], first["distance_yd"], say)
    (end,) = places(first["end_lie"], first["end_distance_yd"], say)
    lost = f", {count(row.penalty, 'penalty stroke')}" if row.penalty else ""
    return [f"{what}: hole {row.hole}, {start} to {end}{lost}, {_signed(row.gained)}."]


def _counts(of: Debrief) -> list[str]:
    said = [f"{row.measure} {of_chances(row)}" for row in rows(of.counts) if row.chances]
    return [_sentence(said)] if said else []


def _sentence(said: list[str]) -> str:
    text = ", ".join(said)
    return f"{text[0].upper()}{text[1:]}."


def _signed(value: float) -> str:
    return number(value, 2, signed=True).replace(MINUS, "-")
