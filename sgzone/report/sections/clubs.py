"""The section on clubs and numbers: the ladder of stock swings, and what it leaves uncovered."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts.clubs import number_curve, stock_ladder
from sgzone.report.page import Figure, Panel, Section
from sgzone.words import clubs as words
from sgzone.words.cautions import RULES
from sgzone.words.notes import noted, options
from sgzone.words.tables import table_of


def clubs_section(review: Review) -> Section:
    """Return the stock swings with gaps and overlaps, from course shots."""
    head = ("clubs", "Clubs and numbers")
    ladder = noted(review.ladder, "clubs")
    if ladder.empty:
        return Section(*head, lead=(words.NO_CLUBS,))
    table = table_of(ladder, "clubs", review.say, "Stock swings from course shots")
    lead = words.clubs_lead(ladder, review.cover, review.say)
    notes = (words.CLUBS_REST, RULES)
    figure = Figure(
        panels=(
            Panel(
                "ladder",
                stock_ladder(ladder, level=review.level, units=review.units),
                words.ladder_alt(ladder, review.say),
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
    rows = options(numbers, review.say)
    chart = number_curve(numbers, level=review.level, units=units)
    return Figure(
        panels=(Panel("numbers", chart, words.numbers_alt(numbers, review.say)),),
        caption=words.READ_NUMBERS,
        table=table_of(rows, "number", review.say, "The best swings for each number"),
        on_paper=False,
    )
