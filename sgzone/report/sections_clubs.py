"""The section on clubs and numbers: the ladder of stock swings, and what it leaves uncovered."""

from __future__ import annotations

import pandas as pd

from sgzone.clubs.sheet import RULES
from sgzone.report import words_deeper as words
from sgzone.report.charts_clubs import stock_ladder
from sgzone.report.gather import Review
from sgzone.report.numbers import interval_words
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


def clubs_section(review: Review) -> Section:
    """Return the stock swings with gaps and overlaps, from course shots."""
    head = ("clubs", "Clubs and numbers")
    ladder = review.ladder
    if ladder.empty:
        return Section(*head, lead=(words.NO_CLUBS,))
    scale = M_PER_YD if review.units == "metric" else 1.0
    rows = ladder.assign(interval=_blank(ladder["low"] * scale, ladder["high"] * scale))
    table = tabulate(rows, _LADDER, "Stock swings from course shots", review.units)
    lead = words.clubs_lead(ladder, review.cover, review.units)
    notes = (words.CLUBS_REST, RULES)
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
    return Section(*head, lead, (figure,), notes=notes)


def _blank(low: pd.Series, high: pd.Series) -> list[str]:
    texts = interval_words(low, high, 0, signed=False)
    return ["" if text.startswith("none") else text for text in texts]
