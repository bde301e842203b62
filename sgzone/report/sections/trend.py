"""The season over time."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.trend import season_curve
from sgzone.report.page import Figure, Panel, Section
from sgzone.words import trend as words
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the season over time and whether it is more than noise."""
    lead, trend = words.trend_lead(asked.trend, asked.say), asked.trend
    total = trend[trend["part"] == "total"]
    if total.empty or total["smoothed"].isna().all():
        return Section(lead)
    last = trend.drop_duplicates("part", keep="last")
    figure = Figure(
        panels=(Panel("trend-total", season_curve(total), words.trend_alt(total)),),
        caption=words.READ_TREND,
        table=table_of(last, "season", asked.say, "Change over the season, by part"),
    )
    return Section(lead, (figure,), notes=words.trend_notes(trend, asked.say))


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": asked.trend}
