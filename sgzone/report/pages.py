"""The sections of the report, in their order. Finished tables in, charts and sentences out."""

from __future__ import annotations

import pandas as pd

from sgzone.benchmarks.women import not_claimed
from sgzone.report import words, words_counts, words_method
from sgzone.report.charts import by_part, grid, putt_grid
from sgzone.report.charts_proximity import ENDS, proximity_panel
from sgzone.report.gather import Review
from sgzone.report.parts import Figure, Key, Page, Panel, Section
from sgzone.report.sections_clubs import clubs_section
from sgzone.report.sections_practice import agree_section, practice_section
from sgzone.report.sections_why import miss_section, trend_section, why_section
from sgzone.review.counts import counts_by_band
from sgzone.terms import LIES, MIN_SHOTS, NOT_ENOUGH
from sgzone.words.tables import table_of


def build(review: Review) -> Page:
    """Return the page of a review; a section without data says so in one sentence."""
    summary = [words.NO_ROUNDS]
    if review.total is not None:
        summary = words.season(
            review.total,
            review.parts,
            review.rounds,
            review.against,
            review.level,
            review.units,
        )
    return Page(
        title=words.title(review.player, review.units),
        subtitle=words.subtitle(
            review.first, review.last, review.rounds, review.holes, review.against
        ),
        summary=tuple(summary),
        sections=(
            *(make(review) for make in RESULTS if review.rounds),
            method_section(review),
            sources_section(review),
            Section("cautions", "Cautions", notes=words_method.CAUTIONS),
        ),
        colophon=words_method.COLOPHON,
    )


def where_section(review: Review) -> Section:
    """Return strokes gained per round by part."""
    head = ("where", "Where strokes go")
    parts = review.parts[review.parts["shots"] > 0]
    if parts.empty:
        return Section(*head, lead=(words.no_parts(review.units),))
    table = table_of(parts, "summary", review.say, "Strokes gained by part", keys=("part",))
    lead = words.parts_lead(parts, review.level, review.units)
    notes = words.leaning(parts, review.units) + words_counts.holes_note(review.endings)
    if review.total is not None:
        notes += words_counts.unscored(review.total["note"])
    if review.measuring is not None:
        notes += words_counts.heaped(review.measuring.heaping)
    if (parts["verdict"] == NOT_ENOUGH).all():  # bars of single strokes would look like a finding
        return Section(*head, lead, tables=(table,), notes=notes)
    figure = Figure(
        panels=(
            Panel(
                "by-part",
                by_part(parts, level=review.level, units=review.units),
                words.parts_alt(parts, review.units),
            ),
        ),
        caption=words.read_parts(parts["verdict"]) + words.marked(parts["basis"]),
        table=table,
    )
    return Section(*head, lead, (figure,), notes=notes)


def grid_section(review: Review) -> Section:
    """Return gained per shot by lie and distance, off the green and on it."""
    head = ("grid", "By lie and distance")
    table, level, units = review.grid[review.grid["shots"] > 0], review.level, review.units
    if table.empty:
        return Section(*head, lead=(words.NO_GRID,))
    lead, notes = words.grid_lead(table, units), words.grid_notes(table)
    said = "Strokes gained by lie and distance"
    rows = table_of(table, "summary", review.say, said, keys=("band", "lie"))
    if (table["verdict"] == NOT_ENOUGH).all():
        return Section(*head, lead, tables=(rows,), notes=notes)
    putts = table["lie"] == "green"
    panels = []
    if (~putts).any():
        alt = words.grid_alt(table[~putts], "off the green by lie and distance", units)
        panels.append(
            Panel("grid-off-green", grid(table, level=level, units=units), alt, "Off the green")
        )
    if putts.any():
        alt = words.grid_alt(table[putts], "putts by distance", units)
        panels.append(
            Panel("grid-putts", putt_grid(table, level=level, units=units), alt, "On the green")
        )
    figure = Figure(
        panels=tuple(panels),
        caption=words.READ_GRID + words.marked(table["basis"]),
        table=rows,
        keys=(
            Key("loss-tint", "lost"),
            Key("gain-tint", "gained"),
            Key("faint", "too few shots"),
        ),
    )
    return Section(*head, lead, (figure,), notes=notes)


def proximity_section(review: Review) -> Section:
    """Return where balls finished against break-even, a panel per lie with strokes enough."""
    head = ("proximity", "Proximity against break-even")
    points, medians = review.points, review.medians
    if points.empty:
        return Section(*head, lead=(words.NO_PROXIMITY,))
    shots = points.groupby("lie").size()
    lies = [lie for lie in LIES if shots.get(lie, 0) >= MIN_SHOTS]
    lead = words.proximity_lead(medians, review.level, review.units)
    table = table_of(medians, "proximity", review.say, "Finish against break-even")
    notes = words.left_out(points, lies)
    if not lies:
        return Section(*head, lead, tables=(table,), notes=notes)
    panels = tuple(_proximity_panel(review, lie, int(shots[lie])) for lie in lies)
    figure = Figure(
        panels=panels,
        caption=words.READ_PROXIMITY if len(review.break_even) else words.READ_FINISH,
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
        keys.append(Key("dashed", f"break-even, {words.benchmark_words(review.against)}"))
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
    alt = words.proximity_alt(
        lie, strokes, review.medians[review.medians["lie"] == lie], review.units
    )
    return Panel(f"proximity-{lie}", chart, alt, f"{lie}, {strokes} strokes")


def counts_section(review: Review) -> Section:
    """Return the plain counts as a table."""
    head = ("counts", "Plain counts")
    if review.counts.empty:
        return Section(*head, lead=(words_counts.NO_COUNTS,))
    rows = review.counts[review.counts["n"] > 0]
    whole, by_band = rows[rows["band"].isna()], counts_by_band(rows)
    tables = [table_of(whole, "counts", review.say, "Per hole and round")]
    if len(by_band):
        said = "Strokes off the green, by distance"
        tables.append(table_of(by_band, "counts_by_band", review.say, said))
    return Section(*head, words_counts.counts_lead(rows, review.level), tables=tuple(tables))


RESULTS = (
    agree_section,
    where_section,
    grid_section,
    proximity_section,
    why_section,
    miss_section,
    counts_section,
    clubs_section,
    practice_section,
    trend_section,
)
"""What a report shows of a player with rounds, in order."""


def method_section(review: Review) -> Section:
    """Return how the numbers were made, and what the verdicts mean."""
    means = pd.DataFrame(words_method.VERDICTS, columns=["words", "mean"])
    verdicts = table_of(means, "verdicts", review.say, "What a verdict means")
    return Section(
        "method",
        "How it was worked out",
        words_method.method(review.against, review.level, review.units),
        tables=(verdicts,),
    )


def sources_section(review: Review) -> Section:
    """Return where the benchmark's figures come from."""
    said = f"Sources of {words.benchmark_words(review.against)}"
    table = table_of(review.sources, "sources", review.say, said)
    plain = not_claimed([review.against], review.units)
    return Section("sources", "Sources", tuple(plain), tables=(table,))
