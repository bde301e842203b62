"""Sentences about a season as a whole: title, how much, where, what is left open."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pandas as pd

from sgzone.harmless import cut
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import (
    GAIN,
    LEVEL,
    LOSS,
    NOT_SETTLED,
    STRENGTHS,
    SURE,
    side_of,
)
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH
from sgzone.words.digits import count, estimate, listed, number, span
from sgzone.words.say import Say, Words
from sgzone.words.where import _named, summary_title

_MOST_SAID = 2  # sentences over a table
_MOST_NAMED = 2  # parts in one sentence
_NAME_ROOM = 28  # columns of a player's name
_BEST = ["shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"]

NO_ROUNDS = "There are no rounds in this selection, so there is nothing to say yet."


def title(player: str, say: Say) -> str:
    """Return the title of the page."""
    return f"{player or 'No player yet'}: the strokes from {say.zone} in"


def no_parts(say: Say) -> str:
    """Return that no stroke has a value."""
    return f"No stroke from {say.zone} or less has a value, so nothing can be drawn here."


def subtitle(first: date | None, last: date | None, rounds: int, holes: int, against: str) -> str:
    """Return what the page covers."""
    if first is None or last is None:
        return "No rounds in this selection."
    days = span(first, last)
    what = f"{count(rounds, 'round')}, {count(holes, 'hole')}"
    return f"{what}, {days}, against {benchmark_words(against)}"


def whose(sizes: pd.DataFrame) -> str:
    """Return whose rounds a chart shows.

    ``sizes``: the rounds as ``scoring.gained.round_sizes``.
    """
    if sizes.empty:
        return NO_ROUNDS
    players = list(sizes["player"].unique())
    who = player_words(players[0]) if len(players) == 1 else f"{len(players)} players"
    what = f"{count(len(sizes), 'round')}, {count(int(sizes['holes'].sum()), 'hole')}"
    return f"{who}: {what}, {span(sizes['date'].min().date(), sizes['date'].max().date())}."


def player_words(player: str) -> str:
    """Return the name of a player over a chart, cut where it is long."""
    return cut(player, _NAME_ROOM, "…") or "No player yet"


def against_words(against: str, say: Say, *, ranges: bool) -> str:
    """Return what a chart is against, and the level of its intervals where it has some."""
    name = cut(against, _NAME_ROOM, "…")
    return (
        f"Against {benchmark_words(name)}; ranges: {say.chances}."
        if ranges
        else (f"Against {benchmark_words(name)}.")
    )


def benchmark_words(name: str) -> str:
    """Return a benchmark in a sentence."""
    return f"the {name} benchmark"


def season(
    total: pd.Series,
    parts: pd.DataFrame,
    rounds: int,
    against: str,
    say: Say,
) -> list[str]:
    """Return the season in three sentences at most: how much, where, what is left open.

    ``total``: the row of all strokes; ``parts``: the summary by part, the worst best estimate
    first.
    """
    said = [_how_much(total, rounds, against, say)]
    if total["verdict"] == NOT_ENOUGH:
        return [*said, _too_few(parts, say)]
    return [*said, *_where(parts, say), _left_open(parts, say)]


def summary_lead(table: pd.DataFrame, keys: Sequence[str], against: str, say: Say) -> Words:
    """Return what a summary answers: of one player by part how much and where, else what it is.

    ``table``: as ``review.where.summary.summarise``, all strokes in its last row.
    """
    if list(keys) == ["part"] and len(table) and table["part"].iloc[-1] == TOTAL:
        total = table.iloc[-1]
        parts = table.iloc[:-1]
        said = season(total, parts[parts["shots"] > 0], int(total["rounds"]), against, say)
        return tuple(said[:_MOST_SAID])
    return (summary_title(table, keys, against),)


def _how_much(total: pd.Series, rounds: int, against: str, say: Say) -> str:
    shots, value = int(total["shots"]), float(total["shrunk_per_round"])
    if shots == 0:
        return no_parts(say)
    played, strokes = count(rounds, "round"), count(shots, "stroke")
    if total["verdict"] == NOT_ENOUGH:
        return f"{played} and {strokes} from {say.zone} in: too few to judge."
    way, to = ("lose", "to") if value < 0 else ("gain", "on")
    name = cut(against, _NAME_ROOM, "…")
    return f"From {say.zone} in you {way} {_size(total, say)} a round {to} {name}, over {played}."


def _size(row: pd.Series, say: Say) -> str:
    """Return the best estimate of a row as a size with its range, signs left to the sentence."""
    value, low, high = row[_BEST].astype(float)
    return estimate(value, low, high, say.level)


def _too_few(parts: pd.DataFrame, say: Say) -> str:
    most = parts.sort_values("shots", ascending=False, kind="stable").head(1)
    if most.empty:
        return "Write down more rounds before asking where strokes go."
    name, shots = say.parts[most.iloc[0]["part"]], int(most.iloc[0]["shots"])
    return (
        f"Most strokes are in {name} ({shots}). A verdict needs {MIN_SHOTS} shots over "
        f"{MIN_ROUNDS} rounds."
    )


def _where(parts: pd.DataFrame, say: Say) -> list[str]:
    """Return where most is lost and where most is gained, in the order of the best estimate."""
    sides = parts["verdict"].map(side_of)
    told = [
        *_most(parts, sides == LOSS, ("most goes in", "clearest losses:"), say),
        *_most(
            parts.iloc[::-1],
            (sides == GAIN).iloc[::-1],
            ("most comes from", "clearest gains:"),
            say,
        ),
    ]
    return told or ["No part shows a loss or a gain yet."]


def _most(
    parts: pd.DataFrame, shown: pd.Series[bool], words: tuple[str, str], say: Say
) -> list[str]:
    """Return the parts of one side by size, ``parts`` in that order; nothing where none is shown.

    ``words``: before parts of which none that is not shown is larger, and before others.
    """
    if not shown.any():
        return []
    first = int(shown.to_numpy().argmax())
    rows = parts[shown].iloc[:_MOST_NAMED]
    unsure = (rows["verdict"].map(STRENGTHS) != SURE).tolist()
    names, sizes = _named(rows["part"], say), rows["shrunk_per_round"].abs()
    each = [
        f"{name} ({number(size, 2)}{', probably' if weak and not all(unsure) else ''})"
        for name, size, weak in zip(names, sizes, unsure, strict=True)
    ]
    lead = f"{'probably ' if all(unsure) else ''}{words[bool(first)]} {listed(each)}."
    return [lead[0].upper() + lead[1:]]


def _left_open(parts: pd.DataFrame, say: Say) -> str:
    said = []
    for verdict, words in (
        (LEVEL, "level: leave alone"),
        (NOT_SETTLED, "not settled yet"),
        (NOT_ENOUGH, "too few shots"),
    ):
        chosen = (parts["verdict"] == verdict) & (parts["shots"] > 0)
        names = _named(parts.loc[chosen, "part"], say)
        if names:
            said.append(f"{listed(names)}: {words}.")
    if said:
        return " ".join(text[0].upper() + text[1:] for text in said)
    if (parts["verdict"].map(side_of) == LOSS).all():
        return "Enough shots everywhere; every part gives strokes away."
    return "Enough shots everywhere for a verdict."


def block_title(player: str, say: Say) -> str:
    """Return the title of the report on the last weeks."""
    return f"{player or 'No player yet'}: the last weeks from {say.zone} in"


def block_note(rounds: int, weeks: float) -> str:
    """Return what so short a time can and cannot say."""
    return (
        f"These are {count(rounds, 'round')} of {weeks:.0f} weeks alone, so ranges are wide. The "
        "season's report has more to go on."
    )
