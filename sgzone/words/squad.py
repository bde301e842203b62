"""Sentences about a squad."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.stats.verdict import CLEAR, LIKELY, PROBABLE, STRENGTHS, SURE
from sgzone.words.digits import count, number, rows, span
from sgzone.words.say import Say
from sgzone.words.season import benchmark_words
from sgzone.words.sides import COURSES

READ_SQUAD = (
    "Strokes a round by part, on one scale: orange loses, blue gains, grey is not settled.",
    "Bars: as played. Dot and line: the best estimate and its range.",
)

PRIVATE = (
    "For the coach. It stays private: a page of this report goes to its own player and to nobody "
    "else without consent.",
    "Players are in alphabetical order. It is no ranking.",
    *COURSES,
)

BY_INITIALS = "Players are shown by initials; the list of who is who stays with the coach."

OWN_REPORT = "Which verdicts are distance-sensitive: see the player's own report."

NO_PLAYERS = "There are no rounds in this selection, so there is no squad to show."


def squad_title(players: int, say: Say) -> str:
    """Return the title of a squad's report."""
    return f"A squad of {count(players, 'player')}: the strokes from {say.zone} in"


def squad_subtitle(first: date, last: date, rounds: int, against: str) -> str:
    """Return what a squad's report covers."""
    return f"{count(rounds, 'round')}, {span(first, last)}, against {benchmark_words(against)}"


def false_alarms(verdicts: pd.Series) -> str:
    """Return how many of a squad's verdicts may be wrong by luck: their number times the rate.

    ``verdicts``: of every player and part.
    """
    strength = verdicts.map(STRENGTHS)
    clear, probable = int((strength == SURE).sum()), int((strength == LIKELY).sum())
    wrong = clear * (1 - CLEAR) + probable * (1 - PROBABLE)
    if not clear + probable:
        return "No verdict is a clear or probable loss or gain, so none can be a false alarm."
    return (
        f"Over all players there are {count(clear, 'clear verdict')} and "
        f"{count(probable, 'probable one')}. Up to {1 - CLEAR:.0%} of the clear and "
        f"{1 - PROBABLE:.0%} of the probable ones may be wrong. That is up to {number(wrong, 1)} "
        "false alarms, and nobody can tell which."
    )


def squad_alt(label: str, parts: pd.DataFrame, say: Say) -> str:
    """Return one player's small chart in words."""
    said = [
        f"{say.parts[row.part]} {number(row.gained_per_round, 2, signed=True)}, {row.verdict}, "
        f"n {row.shots}"
        for row in rows(parts)
    ]
    return f"Bars of strokes gained per round by part, {label}: {'; '.join(said)}."
