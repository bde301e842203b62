"""The section on clubs and numbers: the ladder of stock swings, and what it leaves uncovered."""

from __future__ import annotations

from sgzone.clubs.number import played_words
from sgzone.clubs.sheet import RULES
from sgzone.clubs.stock import most_played
from sgzone.report import words_deeper as words
from sgzone.report.charts_clubs import number_curve, stock_ladder
from sgzone.report.gather import Review
from sgzone.report.numbers import interval_cells
from sgzone.report.parts import Figure, Panel, Section, Show, tabulate
from sgzone.units import M_PER_YD

_LADDER = {
    "club": Show("club"),
    "swing": Show("swing"),
    "carry_yd": Show("carry", 0, length="yd"),
    "interval": Show("interval", kind="num"),
    "shots": Show("shots", 0),
    "depth_sd_ft": Show("spread short/long", 0, length="ft"),
    "side_sd_ft": Show("spread left/right", 0, length="ft"),
    "spread_shots": Show("shots of the spread", 0),
    "mishit_share": Show("mishits", 0, percent=True),
    "gap_yd": Show("to the next", 0, length="yd"),
    "step": Show("step"),
    "note": Show("note", kind="text"),
}


_NUMBERS = {
    "number_yd": Show("number", 0, length="yd"),
    "place": Show("place", 0),
    "club": Show("club"),
    "swing": Show("swing"),
    "played": Show("played"),
    "landing_yd": Show("land it", 0, length="yd"),
    "expected_strokes": Show("strokes to hole out", 2),
    "difference": Show("more than the best", 2, signed=True),
    "interval": Show("interval", kind="num"),
    "shots": Show("shots", 0),
    "verdict": Show("verdict"),
}


def clubs_section(review: Review) -> Section:
    """Return the stock swings with gaps and overlaps, from course shots."""
    head = ("clubs", "Clubs and numbers")
    if review.ladder.empty:
        return Section(*head, lead=(words.NO_CLUBS,))
    ladder = most_played(review.ladder)
    scale = M_PER_YD if review.units == "metric" else 1.0
    rows = ladder.assign(
        interval=interval_cells(ladder["low"] * scale, ladder["high"] * scale, signed=False)
    )
    table = tabulate(rows, _LADDER, "Stock swings from course shots", review.units)
    lead = words.clubs_lead(review.ladder, review.cover, review.units)
    notes = (*words.clubs_more(len(review.ladder) - len(ladder)), words.CLUBS_REST, RULES)
    figure = Figure(
        panels=(
            Panel(
                "ladder",
                stock_ladder(ladder, level=review.level, units=review.units),
                words.ladder_alt(ladder, review.units),
            ),
        ),
        caption=words.READ_LADDER,
        table=table,
    )
    more = (_numbers_figure(review),) if len(review.numbers) else ()
    return Section(*head, lead, (figure, *more), notes=notes)


def _numbers_figure(review: Review) -> Figure:
    """Return which swing is best at which number; paper has the sheet of ``sgzone number``."""
    numbers, units = review.numbers, review.units
    rows = numbers.assign(
        place=numbers["rank"],
        played=played_words(numbers["moved_yd"], units),
        interval=interval_cells(numbers["low"], numbers["high"], 2),
    )
    chart = number_curve(numbers, level=review.level, units=units)
    return Figure(
        panels=(Panel("numbers", chart, words.numbers_alt(numbers, units)),),
        caption=words.READ_NUMBERS,
        table=tabulate(rows, _NUMBERS, "The best swings for each number", units),
        on_paper=False,
    )
