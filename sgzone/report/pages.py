"""The sections of the report, in their order. Finished tables in, charts and sentences out."""

from __future__ import annotations

import pandas as pd

from sgzone.benchmarks.women import not_claimed
from sgzone.report import words, words_counts, words_method
from sgzone.report.charts import by_part, grid, putt_grid
from sgzone.report.charts_proximity import ENDS, proximity_panel
from sgzone.report.gather import Review
from sgzone.report.parts import Figure, Key, Page, Panel, Section, Show, Table, tabulate
from sgzone.report.sections_clubs import clubs_section
from sgzone.report.sections_practice import agree_section, practice_section
from sgzone.report.sections_why import miss_section, trend_section, why_section
from sgzone.review.counts import GREENS_HIT, PROXIMITY
from sgzone.terms import LIES, MIN_SHOTS, NOT_ENOUGH, band_words, part_words
from sgzone.units import M_PER_FT
from sgzone.words.digits import interval_cells, number

_PARTS = {
    "part": Show("part", words=part_words),
    "shots": Show("shots", 0),
    "rounds": Show("rounds", 0),
    "gained_per_round": Show("gained per round, strokes", 2, signed=True),
    "round_interval": Show("interval", kind="num"),
    "verdict": Show("verdict"),  # a narrow screen shows the first columns
    "gained_per_shot": Show("gained per shot, strokes", 3, signed=True),
    "shot_interval": Show("interval", kind="num"),
    "shrunk_per_shot": Show("adjusted for few shots", 3, signed=True),
    "shrunk_interval": Show("interval", kind="num"),
    "measuring": Show("measuring", kind="text"),
    "basis": Show("benchmark value"),
    "note": Show("note", kind="text"),
}
_GRID = {
    "band": Show("from", words=band_words),
    "lie": Show("lie"),
    **{name: show for name, show in _PARTS.items() if name not in ("part", "measuring")},
}
_PROXIMITY = {
    "lie": Show("lie"),
    "band": Show("from", words=band_words),
    "shots": Show("shots", 0),
    "rounds": Show("rounds", 0),
    "distance_yd": Show("median start", 0, length="yd"),
    "finish_ft": Show("median finish", 1, length="ft"),
    "finish_interval": Show("interval", kind="num"),
    "break_even_ft": Show("break-even", 1, length="ft"),
    "inside": Show("on the green inside break-even", 0, percent=True),
    "inside_interval": Show("interval", kind="num"),
    "note": Show("note", kind="text"),
}
_COUNTS = {
    "measure": Show("measure"),
    "said": Show("value", kind="num"),
    "interval": Show("interval", kind="num"),
    "n": Show("n", 0),
    "counted": Show("of"),
    "rounds": Show("rounds", 0),
    "note": Show("note", kind="text"),
}
_BY_BAND = {
    "band": Show("from", words=band_words),
    "n": Show("strokes", 0),
    "rounds": Show("rounds", 0),
    f"said {GREENS_HIT}": Show(GREENS_HIT, kind="num"),
    f"interval {GREENS_HIT}": Show("interval", kind="num"),
    f"said {PROXIMITY}": Show(PROXIMITY, kind="num"),
    f"interval {PROXIMITY}": Show("interval", kind="num"),
}
_SOURCES = {
    "key": Show("key"),
    "authors": Show("authors"),
    "year": Show("year"),
    "title": Show("title", kind="text"),
    "where": Show("where", kind="text"),
}


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
    table = tabulate(_with_intervals(parts), _PARTS, "Strokes gained by part", review.units)
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
    rows = tabulate(_with_intervals(table), _GRID, "Strokes gained by lie and distance", units)
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
    table = _proximity_rows(review)
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


def _proximity_rows(review: Review) -> Table:
    medians, scale = review.medians, M_PER_FT if review.units == "metric" else 1.0
    rows = medians.assign(
        finish_interval=interval_cells(
            medians["low"] * scale, medians["high"] * scale, 1, signed=False
        ),
        inside_interval=_percents(medians["inside_low"], medians["inside_high"]),
    )
    return tabulate(rows, _PROXIMITY, "Finish against break-even", review.units)


def counts_section(review: Review) -> Section:
    """Return the plain counts as a table."""
    head = ("counts", "Plain counts")
    if review.counts.empty:
        return Section(*head, lead=(words_counts.NO_COUNTS,))
    rows = _count_rows(review)
    by_band = _by_band(rows[rows["band"].notna()])
    tables = [tabulate(rows[rows["band"].isna()], _COUNTS, "Per hole and round", review.units)]
    if len(by_band):
        tables.append(
            tabulate(by_band, _BY_BAND, "Strokes off the green, by distance", review.units)
        )
    return Section(*head, words_counts.counts_lead(rows, review.level), tables=tuple(tables))


def _count_rows(review: Review) -> pd.DataFrame:
    """Return the counts that have something to count, value and interval as text."""
    rows = review.counts[review.counts["n"] > 0]
    said = {
        name: [
            _as(_count_form(unit, review.units), value)
            for unit, value in zip(rows["unit"], rows[name], strict=True)
        ]
        for name in ("value", "low", "high")
    }
    ends = zip(said["low"], said["high"], strict=True)
    between = [f"{low} to {high}" if low and high else "" for low, high in ends]
    return rows.assign(said=said["value"], interval=between)


def _by_band(rows: pd.DataFrame) -> pd.DataFrame:
    """Return one row per band, each measure with its interval beside."""
    keys = ["band", "n", "rounds"]
    wide = rows[keys].drop_duplicates()
    for measure in (GREENS_HIT, PROXIMITY):
        of = rows[rows["measure"] == measure]
        names = {name: f"{name} {measure}" for name in ("said", "interval")}
        wide = wide.merge(of[[*keys, *names]].rename(columns=names), on=keys, how="left")
    return wide


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
    verdicts = Table(
        "What a verdict means", ("words", "mean"), words_method.VERDICTS, ("word", "text")
    )
    return Section(
        "method",
        "How it was worked out",
        words_method.method(review.against, review.level, review.units),
        tables=(verdicts,),
    )


def sources_section(review: Review) -> Section:
    """Return where the benchmark's figures come from."""
    table = tabulate(
        review.sources, _SOURCES, f"Sources of {words.benchmark_words(review.against)}"
    )
    plain = not_claimed([review.against], review.units)
    return Section("sources", "Sources", tuple(plain), tables=(table,))


def _with_intervals(table: pd.DataFrame) -> pd.DataFrame:
    pairs = {
        "round_interval": ("low_per_round", "high_per_round", 2),
        "shot_interval": ("low", "high", 3),
        "shrunk_interval": ("shrunk_low", "shrunk_high", 3),
    }
    return table.assign(
        **{
            name: interval_cells(table[low], table[high], places)
            for name, (low, high, places) in pairs.items()
        }
    )


def _percents(low: pd.Series, high: pd.Series) -> list[str]:
    return [f"{a:.0%} to {b:.0%}" if a == a else "" for a, b in zip(low, high, strict=True)]


def _count_form(unit: str, units: str) -> tuple[float, int, str]:
    """Return factor, decimals and unit sign of a count."""
    if unit == "share":
        return 100.0, 0, "%"
    if unit == "ft":
        return (M_PER_FT, 1, " m") if units == "metric" else (1.0, 1, " ft")
    return 1.0, 1, ""


def _as(form: tuple[float, int, str], value: float) -> str:
    factor, places, sign = form
    return "" if value != value else number(value * factor, places) + sign
