"""Sentences about a squad."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date

import pandas as pd

from sgzone.review.where.summary import TOTAL
from sgzone.stats.change import CHANCE
from sgzone.stats.verdict import (
    CLEAR,
    CLEAR_LOSS,
    LIKELY,
    MORE_THAN_NOISE,
    PROBABLE,
    STRENGTHS,
    SURE,
)
from sgzone.terms import MIN_ROUNDS
from sgzone.words.digits import count, day, listed, number, rows, span, thousands
from sgzone.words.say import Say, Words
from sgzone.words.season import benchmark_words
from sgzone.words.sides import COURSES
from sgzone.words.trend import NO_CHANGE

TAP_GRID = "A cell leads to its player's page."
WEEK = "The squad's week"
IN_ALL = "Who played and practised over the season"
AGREED = "Open agreements"
SINCE = "Since the meeting"

ALL = "all strokes"

PRIVATE = (
    "For the coach. It stays private: a page of this report goes to its own player and to nobody "
    "else without consent.",
)
NO_RANKING = ("Players are in alphabetical order. It is no ranking.", *COURSES)

BY_INITIALS = "Players are shown by initials; the list of who is who stays with the coach."

OWN_REPORT = "Which verdicts are distance-sensitive: see the player's own report."

NO_MEETING = ("No meeting is named yet: an agreement marks one, and so does --since with its day.",)
TOO_FEW_SINCE = f"Too few rounds since to call a change: it takes {MIN_ROUNDS} a player."
NO_ROUND_SINCE, TOO_FEW_YET = "no round since", "too few yet"
_WHOLE_HOURS = 20
_MOST_NAMED = 3  # players in one sentence

NO_PLAYERS = "There are no rounds in this selection, so there is no squad to show."


def squad_title(players: int, say: Say) -> str:
    """Return the title of a squad's report."""
    return f"A squad of {count(players, 'player')}: the strokes from {say.zone} in"


def squad_subtitle(first: date, last: date, rounds: int, against: str) -> str:
    """Return what a squad's report covers."""
    return f"{count(rounds, 'round')}, {span(first, last)}, against {benchmark_words(against)}"


def read_grid(say: Say) -> Words:
    """Return how to read the grid of players and parts."""
    return (
        f"The best estimate of strokes gained a round, and under it its range ({say.chances}).",
        "Coloured: the range leaves out 0. Pale: it does not. Blank: too few shots.",
        TAP_GRID,
    )


def since_words(first: date, agreed: date | None) -> str:
    """Return from when on rounds count as since the meeting.

    ``agreed``: the day of the last agreement, where that is the meeting.
    """
    if agreed is None:
        return f"From {day(first)} on"
    return f"Since the last agreement on {day(agreed)}"


def week_title(first: date | None, agreed: date | None) -> str:
    """Return the title of the table of who played and practised."""
    return IN_ALL if first is None else f"{since_words(first, agreed)}, player by player"


def played_lead(played: pd.DataFrame, first: date | None, agreed: date | None) -> Words:
    """Return who played and practised since the meeting; over the season where there was none.

    ``played``: as ``review.beside.meeting.played``.
    """
    turned_out, practised = played["rounds"] > 0, played["hours"] > 0
    rounds, hours = int(played["rounds"].sum()), float(played["hours"].sum())
    if played["hours"].isna().all():
        logged = "There is no practice log."
    else:
        logged = f"{count(int(practised.sum()), 'player')} practised {hours_words(hours)}."
    who = f"{int(turned_out.sum())} of {count(len(played), 'player')} played"
    if first is None:
        return (f"Over the season {who} {count(rounds, 'round')}. {logged}", *NO_MEETING)
    return (f"{since_words(first, agreed)}, {who} {count(rounds, 'round')}. {logged}",)


def hours_words(hours: float) -> str:
    """Return hours of practice with their unit."""
    return f"{thousands(hours) if hours >= _WHOLE_HOURS else number(hours, 1)} h"


def changed_lead(changes: pd.DataFrame, names: Mapping[str, str], say: Say) -> Words:
    """Return what really changed since the meeting, and how many would by luck.

    ``changes``: as ``review.beside.meeting.changed``. ``names``: what each player is called.
    """
    parts = changes[changes["part"] != TOTAL]
    judged = parts.loc[parts["p"].notna(), "player"].nunique()
    if not judged:
        return (TOO_FEW_SINCE,)
    luck = f"Luck alone lets about {number(judged * CHANCE, 1)} of {judged} look changed."
    moved = parts[parts["verdict"] == MORE_THAN_NOISE]
    if moved.empty:
        of = count(judged, "player")
        return (f"No real change shown in {of} with rounds enough to tell.",)
    told = [
        f"{names[str(who)]} {_moved(own, say)}" for who, own in moved.groupby("player", sort=False)
    ]
    more = f"; {len(told) - _MOST_NAMED} more in the table" if len(told) > _MOST_NAMED else ""
    return (f"Really changed: {'; '.join(told[:_MOST_NAMED])}{more}. {luck}",)


def _moved(own: pd.DataFrame, say: Say) -> str:
    return listed(
        [f"{say.part(row.part)} {number(row.difference, 2, signed=True)}" for row in rows(own)]
    )


def change_words(own: pd.DataFrame, say: Say) -> str:
    """Return what changed for one player: parts, that nothing did, or that rounds are too few.

    ``own``: the player's rows of ``review.beside.meeting.changed``.
    """
    if own.empty:
        return NO_ROUND_SINCE
    after = int(own["rounds_after"].iloc[0])
    parts = own[own["part"] != TOTAL]
    if not after:
        return NO_ROUND_SINCE
    if after < MIN_ROUNDS or parts["p"].isna().all():
        return TOO_FEW_YET
    moved = parts[parts["verdict"] == MORE_THAN_NOISE]
    return _moved(moved, say) if len(moved) else NO_CHANGE


def shared_lead(summary: pd.DataFrame, say: Say) -> Words:
    """Return the part that most of a squad clearly loses in, where half of it or more does.

    ``summary``: by player and part.
    """
    parts = summary[(summary["part"] != TOTAL) & summary["shrunk_per_round"].notna()]
    of = parts["player"].nunique()
    lost = parts[parts["verdict"] == CLEAR_LOSS].groupby("part", sort=False)["shrunk_per_round"]
    if not of or not len(lost):
        return ()
    found = pd.DataFrame({"players": lost.size(), "each": lost.mean()})
    most = found.sort_values(["players", "each"], ascending=[False, True], kind="stable").iloc[0]
    if most["players"] < max(of / 2, 2):
        return ("No part is a clear loss for half of the squad: each plan is the player's own.",)
    part = say.part(str(most.name))
    return (
        f"{part[0].upper()}{part[1:]}: {most['players']:.0f} of {count(of, 'player')} clearly lose "
        f"there, {number(abs(most['each']), 2)} a round on average.",
    )


def own_week(
    played: pd.DataFrame, own: pd.DataFrame, first: date | None, agreed: date | None, say: Say
) -> Words:
    """Return one player's row of the week in sentences: played, practised, changed."""
    row = next(rows(played), None)
    if row is None or first is None:
        return ()
    hours = "" if row.hours != row.hours else f", {hours_words(row.hours)} of practice"
    done = f"{count(row.rounds, 'round')}, {count(row.shots, 'shot')}{hours}"
    return (f"{since_words(first, agreed)}: {done}.", *_own_change(own, say))


def _own_change(own: pd.DataFrame, say: Say) -> Words:
    found = change_words(own, say)
    if found in (NO_ROUND_SINCE, TOO_FEW_YET):
        return (TOO_FEW_SINCE,)
    whole = next(rows(own[own["part"] == TOTAL]))
    value, low, high = (
        number(end, 2, signed=True) for end in (whole.difference, whole.joint_low, whole.joint_high)
    )
    in_all = f"All strokes: {value} a round (between {low} and {high}, 95 in 100)."
    if found == NO_CHANGE:
        return (in_all, "No part shows a real change.")
    return (in_all, f"Really changed: {found}.")


def agreed(line: str) -> str:
    """Return an open agreement in a player's own part. ``line``: as ``words.agreed.going.line``."""
    return f"Agreed: {line}"


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


def grid_alt(table: pd.DataFrame, say: Say) -> str:
    """Return a squad's grid in words: what leaves out 0, player by player.

    ``table``: as ``review.where.summary.summarise`` by player and part.
    """
    low, high = table["shrunk_low_per_round"], table["shrunk_high_per_round"]
    apart = table[((low > 0) | (high < 0)) & (table["part"] != TOTAL)]
    said = [f"{player}: {_gained(own, say)}" for player, own in apart.groupby("player", sort=False)]
    told = "; ".join(said) or "no range leaves out 0"
    return f"Grid of strokes gained a round, players by parts: {told}."


def _gained(own: pd.DataFrame, say: Say) -> str:
    return ", ".join(
        f"{say.parts[row.part]} {number(row.shrunk_per_round, 2, signed=True)}" for row in rows(own)
    )


def initials(players: Iterable[str]) -> list[str]:
    """Return the initials of each player, numbered where two share them.

    >>> initials(["Ada Low", "Al Lee", "Bo"])
    ['AL 1', 'AL 2', 'B']
    """
    short = [
        "".join(next((c for c in word if c.isalpha()), "") for word in player.split()).upper()[:3]
        or "?"
        for player in players
    ]
    often, seen = Counter(short), Counter[str]()
    labels = []
    for text in short:
        seen[text] += 1
        labels.append(f"{text} {seen[text]}" if often[text] > 1 else text)
    return labels
