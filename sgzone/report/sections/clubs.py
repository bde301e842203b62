"""Clubs and numbers: the ladder of stock swings, and what it leaves uncovered."""

from __future__ import annotations

from sgzone.clubs.stock import most_played, often_hit
from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.clubs import number_curve, stock_ladder
from sgzone.report.page import Figure, Panel, Section
from sgzone.words import clubs as words
from sgzone.words.cautions import RULES
from sgzone.words.notes import noted, options
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the stock swings with gaps and overlaps, from course shots."""
    say, ladder = asked.say, noted(most_played(asked.ladder), "clubs")
    if ladder.empty:
        return Section((words.NO_CLUBS,))
    table, drawn = (
        table_of(ladder, "clubs", say, "Stock swings from course shots"),
        often_hit(ladder),
    )
    lead = words.clubs_lead(asked.ladder, asked.cover, say)
    more = (_numbers(asked),) if len(asked.numbers) else ()
    rest = words.clubs_more(len(asked.ladder) - len(ladder))
    notes = (*rest, words.CLUBS_REST, RULES)
    if drawn.empty:
        return Section(lead, more, tables=(table,), notes=notes)
    chart = stock_ladder(drawn, level=say.level, units=say.units)
    figure = Figure(
        panels=(Panel("ladder", chart, words.ladder_alt(drawn, say)),),
        caption=words.READ_LADDER,
        table=table,
    )
    return Section(lead, (figure, *more), notes=notes)


def _numbers(asked: Asked) -> Figure:
    """Return which swing is best at which number; paper has the sheet of ``sgzone number``."""
    numbers, say = asked.numbers, asked.say
    chart = number_curve(numbers, level=say.level, units=say.units)
    return Figure(
        panels=(Panel("numbers", chart, words.numbers_alt(numbers, say)),),
        caption=words.READ_NUMBERS,
        table=table_of(options(numbers, say), "number", say, "The best swings for each number"),
        on_paper=False,
    )


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {
        "": noted(asked.ladder, "clubs"),
        "cover": asked.cover,
        "numbers": options(asked.numbers),
    }
