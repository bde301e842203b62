"""Finish against break-even, a panel per lie."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts.proximity import ENDS, proximity_panel
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.terms import LIES, MIN_SHOTS
from sgzone.words import proximity as proximity_words
from sgzone.words import season as season_words
from sgzone.words.tables import table_of


def proximity_section(review: Review) -> Section:
    """Return where balls finished against break-even, a panel per lie with strokes enough."""
    head = ("proximity", "Proximity against break-even")
    points, medians = review.points, review.medians
    if points.empty:
        return Section(*head, lead=(proximity_words.NO_PROXIMITY,))
    shots = points.groupby("lie").size()
    lies = [lie for lie in LIES if shots.get(lie, 0) >= MIN_SHOTS]
    lead = proximity_words.proximity_lead(medians, review.say)
    table = table_of(medians, "proximity", review.say, "Finish against break-even")
    notes = proximity_words.left_out(points, lies)
    if not lies:
        return Section(*head, lead, tables=(table,), notes=notes)
    panels = tuple(_proximity_panel(review, lie, int(shots[lie])) for lie in lies)
    figure = Figure(
        panels=panels,
        caption=proximity_words.READ_PROXIMITY
        if len(review.break_even)
        else proximity_words.READ_FINISH,
        table=table,
        keys=_proximity_keys(review),
        columns=2 if len(panels) > 1 else 1,
    )
    return Section(*head, lead, (figure,), notes=notes)


def _proximity_keys(review: Review) -> tuple[Key, ...]:
    keys = [Key("dot", ENDS["green"]), Key("triangle", ENDS["missed"])]
    if review.medians["finish_ft"].notna().any():
        keys.append(Key("median", f"median of the band, {review.level:.0%} interval in grey"))
    if len(review.break_even):
        keys.append(Key("dashed", f"break-even, {season_words.benchmark_words(review.against)}"))
    return tuple(keys)


def _proximity_panel(review: Review, lie: str, strokes: int) -> Panel:
    chart = proximity_panel(
        review.points,
        review.medians,
        review.break_even,
        lie,
        level=review.level,
        units=review.units,
        legend=False,
    )
    alt = proximity_words.proximity_alt(
        lie, strokes, review.medians[review.medians["lie"] == lie], review.say
    )
    return Panel(f"proximity-{lie}", chart, alt, f"{lie}, {strokes} strokes")
