"""The debrief: all facts of one round, beside the player's other rounds where there are any.

Places among rounds and plain comparisons alone. One round has too few strokes of a part for a
verdict or a cause, so there is none.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.review.debrief.beside import beside_others
from sgzone.review.debrief.chosen import Chosen, choose, one_player
from sgzone.review.debrief.tallies import tallies
from sgzone.review.where.counts import ask
from sgzone.scoring.gained import FACTORS, round_sizes, round_sums, scored
from sgzone.scoring.recipe import GAINED_COLUMNS
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import OUTSIDE, PART_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

MOST = 5  # strokes, worst and best
_DIGITS = 9
STROKES = (*GAINED_COLUMNS, *FACTORS, "note")
TOLD = (
    *("hole", "shot", "part", "lie", "distance_yd", "club", "swing", "end_lie"),
    *("end_distance_yd", "penalty", "gained", "note"),
)
"""What is told of the best and the worst strokes."""
HOLES = ("hole", "par", "ending", "part", "shots", "unscored", "gained")


@dataclass(frozen=True, slots=True, eq=False)
class Debrief:
    """One round of one player against one benchmark.

    ``holes_played``: recorded. ``compared``: the player's other rounds of the selection with as
    many holes; ``left_out``: those with more or fewer; ``same_day``: rounds of that day.
    ``picked_up``, ``conceded``: holes that ended so. ``unended``, ``unvalued``: strokes without a
    value, since nobody wrote their finish down or the benchmark lacks the lie. ``outside``: later
    strokes from farther than the zone, which no sum holds.

    Frames, strokes gained in strokes, lengths in yards:
    ``total``: off the green, putting, all. ``parts``: a row per part with a stroke. ``counts``: a
    row per thing counted. All three with ``usual``, ``compared``, ``better``, ``equal``, ``worse``.
    ``best``, ``worst``: five strokes at most, that gained or lost most. ``holes``: a row per hole
    and part, in order; of a hole without a stroke in the zone one, its part missing.
    ``strokes``: every stroke with every column.
    """

    player: str
    date: date
    round: int
    course: str | None
    event: str | None
    benchmark: str
    holes_played: int
    compared: int
    left_out: int
    same_day: int
    picked_up: int
    conceded: int
    unended: int
    unvalued: int
    outside: int
    total: pd.DataFrame
    parts: pd.DataFrame
    best: pd.DataFrame
    worst: pd.DataFrame
    counts: pd.DataFrame
    holes: pd.DataFrame
    strokes: pd.DataFrame

    def __repr__(self) -> str:
        gained = self.total["gained"].iloc[-1]
        return (
            f"Debrief({self.player!r}, {self.date}, round {self.round}, {gained:+.2f} strokes "
            f"against {self.benchmark})"
        )


@bounded
def debrief(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    date: date | None = None,
    round: int | None = None,  # noqa: A002
) -> Debrief:
    """Return one round of a player: the last of the selection, or that of this day and number.

    The usual is the player's other rounds of the selection with as many holes. Raises
    ``CallError`` where there is no such round, or the selection has rounds of several players.
    """
    if date is not None and not isinstance(date, _DAY):
        raise CallError(f"date={date!r} is no day; write datetime.date(2026, 5, 14)")
    store.refuse_unknown(selection.player)
    sizes = round_sizes(store, selection)
    one_player(sizes)
    chosen = choose(sizes, date.date() if isinstance(date, datetime) else date, round)
    curve = in_store(store, benchmark)
    of_day = Selection(chosen.row.player, chosen.day, chosen.day)
    strokes = _strokes(store, curve, of_day, chosen)
    zone = strokes[strokes["part"] != OUTSIDE]
    holes = ask(store, "round_holes", of_day, number=int(chosen.row["round"]))
    sums = round_sums(store, curve, selection, ["part"])
    parts, total = beside_others(sums, chosen)
    return Debrief(
        player=str(chosen.row.player),
        date=chosen.day,
        round=int(chosen.row["round"]),
        course=_word(chosen.row.course),
        event=_word(chosen.row.event),
        benchmark=curve.name,
        holes_played=int(chosen.row.holes),
        compared=len(chosen.keys),
        left_out=chosen.left_out,
        same_day=chosen.same_day,
        picked_up=int((holes["ending"] == "picked_up").sum()),
        conceded=int((holes["ending"] == "conceded").sum()),
        unended=int((zone["status"] == "unknown_end").sum()),
        unvalued=int((zone["status"] == "no_benchmark").sum()),
        outside=len(strokes) - len(zone),
        total=total,
        parts=parts,
        best=_ends(zone[zone["gained"] > 0], best=True),
        worst=_ends(zone[zone["gained"] < 0], best=False),
        counts=tallies(store, selection, chosen),
        holes=_holes(holes, zone),
        strokes=strokes,
    )


def no_strokes() -> pd.DataFrame:
    """Return the strokes of no round: their columns."""
    return pd.DataFrame(columns=list(STROKES))


_DAY = date


def _strokes(store: Store, curve: Benchmark, day: Selection, chosen: Chosen) -> pd.DataFrame:
    rows = scored(store, curve, day)
    number = int(chosen.row["round"])
    notes = ask(store, "round_notes", day, number=number)
    rows = rows[rows["round"] == number].drop(columns="note", errors="ignore")
    return rows.merge(notes, on=["hole", "shot"], how="left")[list(STROKES)]


def _ends(strokes: pd.DataFrame, *, best: bool) -> pd.DataFrame:
    """Return the strokes that gained or lost most, the most first; alike ones in order of play."""
    size = strokes["gained"].round(_DIGITS)  # what is alike but for the computer's last digits
    order = strokes.assign(size=size).sort_values("size", ascending=not best, kind="stable")
    return order.head(MOST)[list(TOLD)].reset_index(drop=True)


def _holes(holes: pd.DataFrame, zone: pd.DataFrame) -> pd.DataFrame:
    """Return ``HOLES``: what each hole gained by part; the part of no stroke is missing."""
    part = pd.Categorical(zone["part"], PART_NAMES)
    by_part = zone.assign(part=part).groupby(["hole", "part"], observed=True)["gained"]
    sums = by_part.agg(shots="count", size="size", gained="sum").reset_index()
    sums["unscored"] = sums["size"] - sums["shots"]
    sums.loc[sums["shots"] == 0, "gained"] = float("nan")
    found = holes.merge(sums.astype({"part": "str"}), on="hole", how="left")
    found = found.fillna({"shots": 0, "unscored": 0}).astype({"shots": int, "unscored": int})
    return found[list(HOLES)]


def _word(value: object) -> str | None:
    return value if isinstance(value, str) else None
