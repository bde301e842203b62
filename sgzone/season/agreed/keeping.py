"""Agreements of coach and player: added, edited, closed, dropped, listed.

``day``: agreed on. Rounds up to it are before the agreement, later ones since.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

import pandas as pd

from sgzone.cards.clock import today
from sgzone.errors import CallError, did_you_mean
from sgzone.harmless import one_line
from sgzone.season.selection import Selection
from sgzone.season.steps import step_text
from sgzone.season.store import Store
from sgzone.terms import MEASURE, PART_NAMES, SHARE

MOST_LETTERS = 200
"""A line of a report, twice as long as it can be printed: what is longer is no agreement."""
FARTHEST_FT = 600.0
"""The greatest length of a range or a target, beyond the zone and beyond any putt."""
AGREEMENT_COLUMNS = (
    *("agreement", "player", "day", "text", "part", "measure"),
    *("from_ft", "to_ft", "target", "due", "closed"),
)


def _refuse_unknown_word(kind: str, word: str | None, known: Collection[str]) -> None:
    if word is not None and word not in known:
        hint = did_you_mean(word, known)
        raise CallError(f'"{word[:40]}" is no {kind}; write one of {", ".join(known)}.{hint}')


@dataclass(frozen=True, slots=True)
class About:
    """What an agreement is about: a part, or a measure from somewhere with a target, or neither.

    ``from_ft``, ``to_ft``: start distances; None, all that the measure takes in. ``target``: of the
    measure, a share from 0 to 1, or feet. Raises ``CallError`` for what does not fit together.
    """

    part: str | None = None
    measure: str | None = None
    from_ft: float | None = None
    to_ft: float | None = None
    target: float | None = None
    due: date | None = None

    def __post_init__(self) -> None:
        _refuse_unknown_word("part", self.part, PART_NAMES)
        _refuse_unknown_word("measure", self.measure, MEASURE)
        if self.part is not None and self.measure is not None:
            raise CallError("An agreement is about a part or a measure, not both: leave one out.")
        lone = {"from": self.from_ft, "to": self.to_ft, "value": self.target}
        if self.measure is None:
            if idle := [name for name, given in lone.items() if given is not None]:
                raise CallError(f"{' and '.join(idle)} need a measure: {', '.join(MEASURE)}.")
            return
        self._refuse_lengths()
        self._refuse_target(MEASURE[self.measure].unit)

    def _refuse_lengths(self) -> None:
        for length in (self.from_ft, self.to_ft):
            if length is not None and not 0 <= length <= FARTHEST_FT:
                raise CallError(f"A distance is from 0 to {FARTHEST_FT:.0f} ft, not {length:g}.")
        if None not in (self.from_ft, self.to_ft) and not (self.from_ft or 0) < (self.to_ft or 0):
            raise CallError("from must be less than to: from 4 to 5 ft.")

    def _refuse_target(self, unit: str) -> None:
        if self.target is None:
            return
        if unit == SHARE and not 0 <= self.target <= 1:
            raise CallError(f"A share is from 0 to 100%, not {self.target:.0%}; write 75%.")
        if not 0 <= self.target <= FARTHEST_FT:
            raise CallError(f"A target is from 0 to {FARTHEST_FT:.0f} ft, not {self.target:g}.")


NOTHING = About()


def add(
    store: Store, player: str, text: str, about: About = NOTHING, day: date | None = None
) -> int:
    """Keep one more agreement and return its number.

    ``day``: agreed on; None: today, or the player's newest round where that is later, since all
    that is in the file was known then. Raises ``CallError`` for an unknown player, for a text that
    is none, and for a due day that is not later.
    """
    store.refuse_unknown(player)
    made = day or _newest(store, player)
    if about.due is not None and about.due <= made:
        raise CallError(
            f"Due {about.due} is not after {made}, when it is agreed: name a later day."
        )
    values = {name: getattr(about, name) for name in About.__dataclass_fields__}
    bound = {"player": player, "text": plain_text(text), "day": made, **values}
    with store.transaction():
        store.execute(step_text("agreement_added"), bound)
        return int(store.frame("SELECT max(agreement) AS n FROM agreements")["n"].iloc[0])


def edit(store: Store, number: int, text: str) -> None:
    """Give an agreement another text. ``CallError`` for an unknown number, or no text."""
    one(store, number)
    bound = {"number": number, "text": plain_text(text)}
    with store.transaction():
        store.execute("UPDATE agreements SET text = $text WHERE agreement = $number", bound)


def close(store: Store, number: int, day: date | None = None) -> None:
    """Close an agreement, done on ``day`` (None: today). ``CallError`` where none is open."""
    closed = one(store, number)["closed"]
    if not pd.isna(closed):
        raise CallError(f"Agreement {number} was done on {closed:%Y-%m-%d} already.")
    bound = {"number": number, "day": day or today()}
    with store.transaction():
        store.execute("UPDATE agreements SET closed = $day WHERE agreement = $number", bound)


def drop(store: Store, number: int) -> None:
    """Delete an agreement. ``CallError`` for an unknown number."""
    one(store, number)
    with store.transaction():
        store.execute("DELETE FROM agreements WHERE agreement = $number", {"number": number})


def one(store: Store, number: int) -> pd.Series:
    """Return one agreement, as a row of ``kept``. ``CallError`` where there is none."""
    table = kept(store)
    found = table[table["agreement"] == number]
    if found.empty:
        there = ", ".join(map(str, table["agreement"])) or "none yet"
        raise CallError(f"No agreement {number} in the season file (there: {there}).")
    return found.iloc[0]


def kept(store: Store, player: str | None = None) -> pd.DataFrame:
    """Return the agreements of one player or all: ``AGREEMENT_COLUMNS``, by player, day, number.

    ``closed`` is missing while an agreement is open.
    """
    return store.frame(step_text("agreements_kept"), {"player": player})


def last_days(store: Store) -> pd.DataFrame:
    """Return player and day: when each of those with an agreement last agreed on something."""
    return store.frame(step_text("agreement_days"))


def plain_text(text: str) -> str:
    """Return the text of an agreement on one line; ``CallError`` for what is none.

    >>> plain_text(" holed from  4 ft ")
    'holed from 4 ft'
    """
    line = " ".join(text.split())
    if not line:
        raise CallError('An agreement needs a text, such as "two putts from 30 ft".')
    if len(line) > MOST_LETTERS:
        raise CallError(
            f"The text has {len(line):,} letters; an agreement has at most {MOST_LETTERS}. Say it "
            "in a sentence."
        )
    if one_line(line) != line:
        raise CallError("The text has control characters in it. Type it anew, in plain letters.")
    return line


def _newest(store: Store, player: str) -> date:
    rounds = store.rounds(Selection(player))
    newest = rounds["date"].max().date() if len(rounds) else today()
    return max(today(), newest)
