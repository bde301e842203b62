"""The season over time."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.chosen.days import brushed
from sgzone.report.charts.trend import season_curve
from sgzone.report.page import Figure, Panel, Section
from sgzone.words import trend as words
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the season over time and what changed, or that nothing is shown to have."""
    lead, trend = words.trend_lead(asked.trend, asked.say), asked.trend
    total = trend[trend["part"] == "total"]
    if total.empty or total["smoothed"].isna().all():
        return Section(lead)
    halves = asked.halves[asked.halves["part"] == "total"]
    chart = brushed(season_curve(total, halves, level=asked.say.level))
    figure = Figure(
        panels=(Panel("trend-total", chart, words.trend_alt(total)),),
        caption=words.read_trend(halves),
        table=table_of(
            words.season_table(trend), "season", asked.say, "Change over the season, by part"
        ),
    )
    return Section(lead, (figure,), notes=words.read_season(trend))


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": asked.trend}
