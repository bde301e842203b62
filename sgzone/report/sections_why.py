"""The sections on causes, misses and the season over time."""

from __future__ import annotations

import pandas as pd

from sgzone.report import words_deeper as words
from sgzone.report.charts_trend import season_curve
from sgzone.report.charts_why import END_WORDS, cause_bars, one_map
from sgzone.report.gather import Review
from sgzone.report.parts import Figure, Key, Panel, Section
from sgzone.report.sections_putting import putting_figures
from sgzone.terms import PART_NAMES, part_words
from sgzone.words.digits import count
from sgzone.words.tables import table_of

_MAPS = 3


def why_section(review: Review) -> Section:
    """Return the causes of each part that can be split, and how many putts go in from where."""
    head, putts = ("why", "Why"), putting_figures(review)
    if not _split(review.why):
        return Section(*head, (words.NO_WHY,), putts)
    lead = words.why_lead(review.why, review.units)
    return Section(*head, lead, (_causes(review), *putts), notes=words.WHY_RESTS)


def _split(table: pd.DataFrame) -> list[str]:
    """Return the parts whose loss is split into causes."""
    split = set(table.loc[table["factor"] == "long_short_spread", "part"])
    return [part for part in PART_NAMES if part in split]


def _causes(review: Review) -> Figure:
    table, panels = review.why, []
    for part in _split(table):
        rows = table[table["part"] == part]
        title = f"{part_words(review.units)[part]}, {count(int(rows['shots'].iloc[0]), 'shot')}"
        chart = cause_bars(rows, level=review.level, units=review.units)
        panels.append(Panel(f"why-{part}", chart, words.cause_alt(rows), title))
    return Figure(
        panels=tuple(panels),
        caption=words.READ_WHY,
        table=table_of(_wide(table), "causes", review.say, "Causes by part"),
        keys=(Key("loss", "proximity"), Key("loss-tint", "missed green")),
        columns=2 if len(panels) > 1 else 1,
    )


def miss_section(review: Review) -> Section:
    """Return where balls finish around the hole, for the parts with most shots."""
    head = ("misses", "Where the ball finishes")
    points, contours = review.miss_points, review.miss_contours
    if contours.empty:
        return Section(*head, lead=(words.NO_MISSES,))
    groups = contours.drop_duplicates("group").nlargest(_MAPS, "shots")["group"]
    panels = []
    for group in (name for name in PART_NAMES if name in set(groups)):
        own = points[points["group"] == group]
        chart = one_map(group, own, contours[contours["group"] == group], None, review.units)
        panels.append(Panel(f"misses-{group}", chart, words.miss_alt(group, own, review.units)))
    happened = review.misses[review.misses["shots"] > 0]
    figure = Figure(
        panels=tuple(panels),
        caption=words.READ_MISS,
        table=table_of(happened, "misses", review.say, "The miss that hurts"),
        keys=(Key("dot", END_WORDS["green"]), Key("triangle", END_WORDS["missed"])),
        columns=2 if len(panels) > 1 else 1,
    )
    return Section(*head, figures=(figure,))


def trend_section(review: Review) -> Section:
    """Return the season over time and whether it is more than noise."""
    head = ("trend", "Over the season")
    lead, trend = words.trend_lead(review.trend, review.units), review.trend
    total = trend[trend["part"] == "total"]
    if total.empty or total["smoothed"].isna().all():
        return Section(*head, lead)
    last = trend.drop_duplicates("part", keep="last")
    figure = Figure(
        panels=(Panel("trend-total", season_curve(total), words.trend_alt(total)),),
        caption=words.READ_TREND,
        table=table_of(last, "season", review.say, "Change over the season, by part"),
    )
    return Section(
        *head, lead, (figure,), notes=words.trend_notes(trend, review.level, review.units)
    )


def _wide(table: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part and cause with its two columns beside the sum."""
    keys = ["part", "factor"]
    wide = table[table["column"] == "total"]
    for column in ("proximity", "missed_green"):
        rows = table[table["column"] == column].set_index(keys)["loss_per_shot"]
        wide = wide.join(rows.rename(column), on=keys)
    return wide
