"""Finish against break-even, a panel per lie."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.proximity import ENDS, proximity_panel
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.review.where.proximity import BEYOND, WITHIN, against_break_even
from sgzone.stats.verdict import OPEN
from sgzone.terms import LIES, MIN_SHOTS
from sgzone.words import proximity as words
from sgzone.words import season as season_words
from sgzone.words.tables import table_of

_MIDDLES = {BEYOND: "upright-loss", WITHIN: "upright-gain", OPEN: "upright"}


def section(asked: Asked) -> Section:
    """Return where balls finished against break-even, a panel per lie with strokes enough."""
    if asked.points.empty:
        return Section((words.NO_PROXIMITY,))
    shots = asked.points.groupby("lie").size()
    lies = [lie for lie in LIES if shots.get(lie, 0) >= MIN_SHOTS]
    lead, notes = words.proximity_lead(asked.medians, asked.say), words.left_out(asked.points, lies)
    table = table_of(asked.medians, "proximity", asked.say, "Finish against break-even")
    if not lies:
        return Section(lead, tables=(table,), notes=notes)
    figure = Figure(
        panels=tuple(_panel(asked, lie, int(shots[lie])) for lie in lies),
        caption=words.READ_PROXIMITY if len(asked.break_even) else words.READ_FINISH,
        table=table,
        keys=keys(asked),
        columns=2 if len(lies) > 1 else 1,
    )
    return Section(lead, (figure,), notes=notes, follows=True)


def keys(asked: Asked) -> tuple[Key, ...]:
    """Return what the marks of the panels are."""
    sides = set(against_break_even(asked.medians[asked.medians["finish_ft"].notna()]))
    keys = [Key(mark, words.MIDDLE[side]) for side, mark in _MIDDLES.items() if side in sides]
    if len(asked.break_even):
        against = season_words.benchmark_words(asked.curve.name)
        keys.append(Key("upright-dashed", f"break-even, {against}"))
    keys += [Key("soft-dot", ENDS["green"]), Key("soft-triangle", ENDS["missed"])]
    return tuple(keys)


def _panel(asked: Asked, lie: str, strokes: int) -> Panel:
    say, tables = asked.say, (asked.points, asked.medians, asked.break_even)
    chart = proximity_panel(*tables, lie, level=say.level, units=say.units, legend=False)
    medians = asked.medians[asked.medians["lie"] == lie]
    alt = words.proximity_alt(lie, strokes, medians, say)
    return Panel(f"proximity-{lie}", chart, alt, f"{lie}, {strokes} strokes")


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    strokes = asked.points.drop(columns=["round_key", "stroke"])
    return {"": asked.medians, "strokes": strokes, "break-even": asked.break_even}
