"""What is asked of a squad: every answer once for all its players, and then of each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property

import pandas as pd

from sgzone.practice.log import practice_log
from sgzone.report.asked import Asked, answer, card_notes, knowing
from sgzone.review.agreed.going import agreements
from sgzone.review.beside.meeting import changed, played
from sgzone.review.where.cells import OF_LIES
from sgzone.review.where.counts import counts as counted
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.season.agreed.keeping import kept
from sgzone.words import squad as words


def _by_player(squad: Squad) -> pd.DataFrame:
    """Return the summary by player and part, worst loss first, with a row of all strokes each."""
    table = summarise(*squad.game, ["player", "part", TOTAL], squad.say.level)
    return table[table["shots"] > 0]


def _labels(squad: Squad) -> dict[str, str]:
    """Return what each player is called, by name in alphabetical order.

    Everybody with a round, a practice log or an open agreement.
    """
    frames = (squad.sizes, squad.log, squad.agreed)
    order = sorted({name for frame in frames for name in frame["player"]})
    return dict(zip(order, order if squad.names else words.initials(order), strict=True))


def _counts(squad: Squad) -> pd.DataFrame:
    """Return the plain counts with the player as first column, however many there are."""
    table = counted(squad.store, squad.selection, squad.say.level)
    if "player" in table:
        return table
    return table.assign(player=squad.selection.player or next(iter(squad.sizes["player"]), ""))


def _members(squad: Squad) -> tuple[Asked, ...]:
    """Return what is asked of each player with strokes, in alphabetical order.

    What the squad was asked is not asked again, and measuring not at all: the page says so. The
    nearest standard is a player's own report's, which can be made against it.
    """
    found = {
        name: getattr(squad, name) for name in ("sizes", "strokes", "summary", "log", "by_part")
    }
    members = []
    for player in squad.labels:
        own = {name: frame[frame["player"] == player] for name, frame in found.items()}
        if len(own["summary"]):
            chosen = replace(squad.selection, player=player)
            asked = Asked(squad.store, squad.curve, chosen, squad.say, squad.hours, squad.weeks)
            own["summary"] = own["summary"].drop(columns="player")
            mine = squad.counts[squad.counts["player"] == player].drop(columns="player")
            own["counts"] = mine.reset_index(drop=True)
            agreed = squad.agreements[squad.agreements["player"] == player]
            own["agreements"] = agreed.reset_index(drop=True)
            members.append(knowing(asked, **own, measuring=None, beside=None))
    return tuple(members)


def _notes(squad: Squad) -> pd.DataFrame:
    """Return the card's notes, players called as in the rest."""
    notes = card_notes(squad.store, squad.selection)
    return notes.assign(player=notes["player"].map(squad.labels))


def _agreed_on(squad: Squad) -> date | None:
    """Return the day of the squad's last agreement; None where a meeting is named, or no one is."""
    days = kept(squad.store, squad.selection.player)["day"]
    return None if squad.meeting is not None or days.empty else days.max().date()


def _first(squad: Squad) -> date | None:
    """Return the first day that counts as since the meeting.

    The day that was named, or the one after the last agreement, as an agreement's own rounds
    before it count to its day. None where there is neither.
    """
    if squad.meeting is not None or squad.agreed_on is None:
        return squad.meeting
    return squad.agreed_on + timedelta(days=1)


def _agreements(squad: Squad) -> pd.DataFrame:
    """Return what was agreed on with each player and how it goes."""
    return agreements(*squad.game, squad.say.level)


def _agreed(squad: Squad) -> pd.DataFrame:
    """Return the open agreements of the selection's players, and how they go."""
    table = squad.agreements
    return table[table["closed"].isna()].reset_index(drop=True)


def _changes(squad: Squad) -> pd.DataFrame:
    """Return what changed for each player since the meeting; no rows where there was none."""
    sizes = squad.sizes if squad.first is not None else squad.sizes.head(0)
    first = squad.first or date.min
    return changed(squad.sums, sizes, first, squad.say.level)


def _played(squad: Squad) -> pd.DataFrame:
    return played(squad.sizes, squad.strokes, squad.log, squad.first)


@dataclass(frozen=True, eq=False)
class Squad(Asked):
    """All players of the selection, asked once for all of them.

    ``names``: full names. ``meeting``: the first day since the squad last met; None: the day after
    its last agreement, and where there is none over the season alone. The selection is the season,
    whenever they met.
    """

    names: bool = False
    meeting: date | None = None

    summary = cached_property(_by_player)
    counts = cached_property(_counts)
    labels = cached_property(_labels)
    members = cached_property(_members)
    notes = cached_property(_notes)
    log = answer(lambda asked: practice_log(asked.store, asked.selection))
    sums = answer(lambda asked: asked.by_part.drop(columns=list(OF_LIES)))
    agreements = cached_property(_agreements)
    agreed = cached_property(_agreed)
    agreed_on = cached_property(_agreed_on)
    first = cached_property(_first)
    played = cached_property(_played)
    changes = cached_property(_changes)
