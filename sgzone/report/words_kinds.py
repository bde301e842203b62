"""Sentences of the other kinds of report: the last weeks, a squad, two seasons side by side."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.report.words import benchmark_words
from sgzone.stats.verdict import CLEAR, PROBABLE
from sgzone.terms import part_words, zone_words
from sgzone.words.digits import count, listed, number, span

Words = tuple[str, ...]

READ_PAIRS = ("Dot and ring: strokes gained per round, each with its interval as a line.",)
READ_SQUAD = (
    "Strokes gained per round by part, the same scale for every player; orange lost, blue gained, "
    "grey not settled. The thin line is the interval.",
)
NO_DIFFERENCE = "Nothing can be set side by side: no part has strokes on both sides."
SAME_STROKES = (
    "Both values come from the same strokes, so the difference tells the benchmarks apart, not the "
    "player, and has no interval."
)
COURSES = (
    "Different courses, greens and weather do not compare: part of any difference is theirs.",
)
PRIVATE = (
    "For the coach. It stays private: a page of this report goes to its own player and to nobody "
    "else without consent.",
    "Players stand in alphabetical order. It is no ranking and should not be read as one.",
    "Players who play different courses, greens and weather do not compare: part of any "
    "difference is the courses'.",
)
BY_INITIALS = "Players are shown by initials; the list of who is who stays with the coach."
OWN_REPORT = (
    "Whether a verdict hangs on how distances were measured stands in the player's own report."
)
NO_PLAYERS = "There are no rounds in this selection, so there is no squad to show."


def block_title(player: str, units: str = "yards") -> str:
    """Return the title of the report on the last weeks."""
    return f"{player or 'No player yet'}: the last weeks from {zone_words(units)} in"


def block_note(rounds: int, weeks: float) -> str:
    """Return what so short a time can and cannot say."""
    return (
        f"This looks at {count(rounds, 'round')} of {weeks:.0f} weeks alone: intervals are wide, "
        "and the season's report has more to go on."
    )


def squad_title(players: int, units: str = "yards") -> str:
    """Return the title of a squad's report."""
    return f"A squad of {count(players, 'player')}: the strokes from {zone_words(units)} in"


def squad_subtitle(first: date, last: date, rounds: int, against: str) -> str:
    """Return what a squad's report covers."""
    return f"{count(rounds, 'round')}, {span(first, last)}, against {benchmark_words(against)}"


def false_alarms(verdicts: pd.Series) -> str:
    """Return how many of a squad's verdicts may be wrong by luck: their number times the rate.

    ``verdicts``: of every player and part.
    """
    clear = int(verdicts.str.startswith("clear").sum())
    probable = int(verdicts.str.startswith("probable").sum())
    wrong = clear * (1 - CLEAR) + probable * (1 - PROBABLE)
    if not clear + probable:
        return "No verdict is a clear or probable loss or gain, so none can be a false alarm."
    return (
        f"Over all players there are {count(clear, 'clear verdict')} and "
        f"{count(probable, 'probable one')}. Up to {1 - CLEAR:.0%} of the clear and "
        f"{1 - PROBABLE:.0%} of the probable ones may be wrong: up to {number(wrong, 1)} of them "
        "may be false alarms, and nobody can tell which."
    )


def squad_alt(label: str, parts: pd.DataFrame, units: str = "yards") -> str:
    """Return one player's small chart in words."""
    said = [
        f"{part_words(units)[part]} {number(value, 2, signed=True)}, {verdict}, n {shots}"
        for part, value, verdict, shots in zip(
            *(parts[name] for name in ("part", "gained_per_round", "verdict", "shots")),
            strict=True,
        )
    ]
    return f"Bars of strokes gained per round by part, {label}: {'; '.join(said)}."


def pairs_alt(table: pd.DataFrame, names: tuple[str, str], units: str = "yards") -> str:
    """Return the paired chart in words."""
    both = table[table["difference"].notna()]
    said = [
        f"{_part(part, units)} {number(a, 2, signed=True)} and {number(b, 2, signed=True)}"
        for part, a, b in zip(
            *(both[name] for name in ("part", "gained_per_round", "gained_per_round_other")),
            strict=True,
        )
    ]
    return f"Strokes gained per round, {names[0]} and {names[1]}: {'; '.join(said)}."


def pairs_lead(
    table: pd.DataFrame, names: tuple[str, str], level: float, units: str = "yards"
) -> Words:
    """Return what two seasons show, and what they cannot."""
    known = table[table["difference_low"].notna()]
    if known.empty:
        return (f"{names[0]} beside {names[1]}: too few rounds to say how they differ.",)
    apart = known[(known["difference_low"] > 0) | (known["difference_high"] < 0)]
    luck = number(len(known) * (1 - level), 1)
    said = [
        f"{_part(part, units)} {number(value, 2, signed=True)} ({number(low, 2, signed=True)} to "
        f"{number(high, 2, signed=True)})"
        for part, value, low, high in zip(
            *(apart[name] for name in ("part", "difference", "difference_low", "difference_high")),
            strict=True,
        )
    ]
    start = f"{names[0]} less {names[1]}, strokes per round, plus is better"
    found = f"{start}: {listed(said)}." if said else f"{start}: no difference is shown."
    return (
        found,
        f"Of {len(known)} intervals of {level:.0%} about {luck} miss the true difference by luck "
        "alone.",
    )


def _part(part: str, units: str) -> str:
    return part_words(units).get(part, "all parts")
