"""The notes beside the rows of an answer, made of the facts that the row carries."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pandas as pd

from sgzone.clubs import number, stock
from sgzone.review.beside import field, pairs
from sgzone.review.where import counts, summary
from sgzone.review.why import costs, split
from sgzone.review.why.notes import MIN_RANK, MIN_SPLIT
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH
from sgzone.words.cautions import RULES
from sgzone.words.digits import count
from sgzone.words.number import out_of_reach, played
from sgzone.words.say import Say

THIN = "mostly the average of your game"
HELD_BACK = "its own strokes and the rest of your game lean opposite ways"
LARGEST = "largest cause"
UNSURE = "may be luck or the model"
NOT_LOST = "no loss is shown, so no largest cause"
ALONE = "no round shared with others: nothing to compare with"
FEW = f"fewer than {MIN_ROUNDS} shared rounds"

CAREFUL = "careful:"
INFERRED = "no carry written down: the finish is used"
POOLED = "under 5 shots: spread of your other swings"

Row = Any
"""A row of a frame as ``itertuples`` gives it."""


def joined(*said: str) -> str:
    """Return the words that are there, side by side."""
    return "; ".join(filter(None, said))


def of_cell(row: Row, _: Say) -> str:
    """Return the note of a cell of a summary."""
    return joined(
        HELD_BACK if row.held_back else THIN if row.thin else "",
        left_out(row),
    )


def left_out(row: Row) -> str:
    """Return how many strokes of a cell have no value, by why; empty where all have one."""
    return joined(
        f"{count(row.unended, 'stroke')} skipped: finish not written down" if row.unended else "",
        f"{count(row.unvalued, 'stroke')} skipped: the standard has no value there"
        if row.unvalued
        else "",
    )


def of_count(row: Row, _: Say) -> str:
    """Return the note of a plain count."""
    return joined(
        f"{row.gifts} by a conceded putt" if row.gifts else "",
        f"{row.given_up} picked up, counted as missed" if row.given_up else "",
        f"{row.open} conceded off the green, left out" if row.open else "",
        f"{row.untold} without the strokes that followed, left out" if row.untold else "",
        f"{count(row.conceded, 'hole')} conceded, left out" if row.conceded else "",
        f"{count(row.picked_up, 'hole')} picked up, left out" if row.picked_up else "",
    )


def of_cause(row: Row, say: Say) -> str:
    """Return the note of a factor of a part, and of the part."""
    return joined(of_factor(row, say), of_part(row))


def of_factor(row: Row, say: Say) -> str:
    """Return where shots tend or how they spread, and whether it is the largest cause."""
    return joined(
        LARGEST if row.largest else "",
        UNSURE if row.largest and not row.sure else "",
        _tends(row, say) if row.mean_ft == row.mean_ft else "",
        f"sd {say.length(row.sd_ft, 'ft', 1)}, the benchmark's "
        f"{say.length(row.reference_sd_ft, 'ft', 1)}"
        if row.sd_ft == row.sd_ft
        else "",
    )


def _tends(row: Row, say: Say) -> str:
    ways = ("short", "long") if row.factor == costs.DIRECTIONS[0] else ("left", "right")
    mean, low, high = (
        f"{say.length(abs(feet), 'ft', 1)} {ways[feet >= 0]}"
        for feet in (row.mean_ft, row.mean_low_ft, row.mean_high_ft)
    )
    if row.mean_low_ft != row.mean_low_ft:
        return f"on average {mean}"
    return f"on average {mean} ({say.sure}: {low} to {high})"


def of_part(row: Row) -> str:
    """Return what to know of all numbers of a part."""
    one_round = "one round: no range" if row.rounds == 1 else ""
    if not row.split:
        return one_round
    known, aimed = row.known, row.shots - row.from_fringe
    few = known < aimed
    apart = row.missed_known == row.missed_known
    return joined(
        one_round,
        f"{count(row.from_fringe, 'shot')} from the fringe, not split" if row.from_fringe else "",
        f"direction known for {known} of {aimed} shots" if few else "",
        f"{MIN_SPLIT} with direction needed for a split" if known < MIN_SPLIT else "",
        f"{MIN_RANK} with direction needed to rank the causes"
        if MIN_SPLIT <= known < MIN_RANK
        else "",
        NOT_LOST if known >= MIN_RANK and not row.lost else "",
        f"{CAREFUL} direction missing for more than half" if MIN_SPLIT <= known < aimed / 2 else "",
        f"{CAREFUL} shots with direction missed the green {row.missed_known:.0%} of the time, "
        f"those without {row.missed_unknown:.0%}"
        if known >= MIN_SPLIT and apart
        else "",
    )


def of_player(row: Row, _: Say) -> str:
    """Return the note of a player beside the field."""
    blank = row.without_course
    return joined(
        ALONE if row.shared_rounds == 0 else FEW if row.shared_rounds < MIN_ROUNDS else "",
        f"{blank} rounds without a course: not shared" if blank else "",
    )


def of_pair(row: Row, say: Say) -> str:
    """Return where two groups were played from other places, and what does not count."""
    apart = row.other_lies == row.other_lies
    return joined(
        f"{CAREFUL} {row.other_lies:.0%} of the shots come from other lies; compared within "
        "each lie"
        if apart
        else "",
        _farther(row.farther_yd, say),
        f"{count(row.alone, 'shot')} of {row.of_shots} had no fair match" if row.alone else "",
        f"{row.unnamed} shots without it written down are left out" if row.unnamed else "",
    )


def _farther(yards: float, say: Say) -> str:
    if yards != yards:
        return ""
    far = say.length(abs(yards), "yd")
    if yards > 0:
        return f"{CAREFUL} the second was played from {far} farther on average"
    return f"{CAREFUL} the second was played from {far} nearer on average"


def of_swing(row: Row, _: Say) -> str:
    """Return the note of a stock swing."""
    return joined(
        NOT_ENOUGH if row.shots < MIN_SHOTS else "",
        POOLED if row.pooled else "",
        INFERRED if row.inferred else "",
    )


def of_strikes(row: Row, _: Say) -> str:
    """Return the note of a swing whose strikes are compared with one another."""
    most = max(row.carry_yd_shots, row.launch_deg_shots, row.spin_rpm_shots)
    return NOT_ENOUGH if most < MIN_SHOTS else ""


def of_wear(row: Row, _: Say) -> str:
    """Return the note of a club's change since new."""
    return NOT_ENOUGH if row.shots < MIN_SHOTS or row.rounds < MIN_ROUNDS else ""


def of_option(row: Row, say: Say) -> str:
    """Return the note of a way to play a number."""
    return joined(
        out_of_reach(row.finish_ft, say) if row.short == 1 else "",
        POOLED if row.pooled == 1 else "",
    )


_NOTES: dict[str, tuple[tuple[str, ...], Callable[[Row, Say], str]]] = {
    "summary": (summary.FACTS, of_cell),
    "counts": (counts.FACTS, of_count),
    "why": (split.FACTS, of_cause),
    "compare": (pairs.FACTS, of_pair),
    "field": (field.FACTS, of_player),
    "clubs": (stock.FACTS, of_swing),
    "consistency": ((), of_strikes),
    "wear": ((), of_wear),
    "number": (number.FACTS, of_option),
}
"""Answer -> the facts of its notes, which stand side by side in its frame, and what says them.

Where the columns that are shown are facts enough the note comes last.
"""


def noted(frame: pd.DataFrame, answer: str, say: Say | None = None) -> pd.DataFrame:
    """Return a frame with ``note`` in place of the facts it is made of."""
    facts, of = _NOTES[answer]
    say = say or Say()
    said = [of(row, say) for row in frame.itertuples()]
    place = list(frame.columns).index(facts[0]) if facts else len(frame.columns)
    plain = frame.drop(columns=list(facts))
    plain.insert(place, "note", pd.Series(said, index=frame.index, dtype=object))
    return plain


def met(table: pd.DataFrame) -> pd.DataFrame:
    """Return the rows of ``why`` without the causes that no stroke of their part met."""
    none = table[["loss_per_shot", "low", "high"]].fillna(0).eq(0).all(axis=1)
    nothing = none.groupby([table["part"], table["factor"]]).transform("all")
    return table[~nothing | table["factor"].isin((*costs.DIRECTIONS, costs.TOTAL))]


def causes(table: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return one row per part and cause of ``why``, with its two columns beside their sum.

    What holds for a whole part is said once, on its total. A cause that nothing was lost or won by,
    such as the fringe of a part without it, is left out.
    """
    table = as_gains(met(table))
    keys = ["part", "factor"]
    wide = table[table["column"] == costs.TOTAL]
    for column in split.COLUMNS[:2]:
        rows = table[table["column"] == column].set_index(keys)["gained_per_shot"]
        wide = wide.join(rows.rename(column), on=keys)
    said = [
        of_part(row) if row.factor == costs.TOTAL else of_factor(row, say)
        for row in wide.itertuples()
    ]
    return wide.drop(columns=list(split.FACTS)).assign(note=said)


def as_gains(table: pd.DataFrame) -> pd.DataFrame:
    """Return rows of ``why`` or ``misses`` as a person reads them: + gains, - loses.

    A loss is minus a gain, so the ends of its range change places.
    """
    losses = [name for name in ("loss_per_shot", "loss_per_round") if name in table]
    gains = {name.replace("loss", "gained"): -table[name] for name in losses}
    kept = table.drop(columns=losses)
    return kept.assign(low=-table["high"], high=-table["low"], **gains)


def options(table: pd.DataFrame, say: Say | None = None) -> pd.DataFrame:
    """Return the ways to play a number (or a sheet of them) with how each is played in words.

    A sheet, which may go to the course, says on every row what the Rules limit.
    """
    said = noted(table, "number", say)
    ways = [played(moved, say or Say()) for moved in table["moved_yd"].astype(float)]
    said.insert(list(said.columns).index("moved_yd"), "played", ways)
    return said.assign(prepare=RULES) if "number_yd" in table else said
