"""The season over time."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts.trend import season_curve
from sgzone.report.page import Figure, Panel, Section
from sgzone.words import trend as words
from sgzone.words.tables import table_of


def trend_section(review: Review) -> Section:
    """Return the season over time and whether it is more than noise."""
    head = ("trend", "Over the season")
    lead, trend = words.trend_lead(review.trend, review.say), review.trend
    total = trend[trend["part"] == "total"]
    if total.empty or total["smoothed"].isna().all():
        return Section(*head, lead)
    last = trend.drop_duplicates("part", keep="last")
    figure = Figure(
        panels=(Panel("trend-total", season_curve(total), words.trend_alt(total)),),
        caption=words.READ_TREND,
        table=table_of(last, "season", review.say, "Change over the season, by part"),
    )
    return Section(*head, lead, (figure,), notes=words.trend_notes(trend, review.say))
