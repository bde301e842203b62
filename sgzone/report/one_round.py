"""The report of one round: one page on the screen, one sheet on paper."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.report import charts
from sgzone.report.asked import Asked, Tables
from sgzone.report.page import Figure, Page, Panel, Section
from sgzone.report.player import Report
from sgzone.review.debrief.one_round import Debrief, debrief
from sgzone.words import cautions
from sgzone.words import method as method_words
from sgzone.words.rounds import debrief as words
from sgzone.words.rounds import strip as strip_words
from sgzone.words.say import Say
from sgzone.words.tables import Table, table_of


def round_report(asked: Asked, day: date | None, number: int | None, *, with_notes: bool) -> Report:
    """Return the report of the round of this day and number, without them of the last.

    ``asked``: of one player, as ``asked.of_player`` gives it. ``with_notes``: what the card says
    beside the strokes is told too. Raises ``CallError`` where there is no such round.
    """
    found = debrief(asked.store, asked.curve, asked.selection, date=day, round=number)
    say = asked.say
    sections = (
        _holes(found, say),
        _parts(found, say),
        _strokes(found, say, with_notes=with_notes),
        _cautions(),
    )
    page = Page(
        title=words.title(found),
        subtitle=words.subtitle(found),
        summary=words.lead(found, say),
        sections=sections,
        colophon=method_words.COLOPHON,
        one_sheet=True,
        opened=len(sections),
    )
    return Report(page, _tables(found, with_notes=with_notes))


def _holes(found: Debrief, say: Say) -> Section:
    title = "Hole by hole"
    if found.holes["gained"].isna().all():
        return Section((strip_words.NOTHING,), id="holes", title=title)
    chart = charts.round_strip(found.holes, found.worst, units=say.units)
    panel = Panel("holes-strip", chart, strip_words.alt(found, say))
    table = table_of(words.by_hole(found), "round_holes", say, "Strokes gained by hole and part")
    figure = Figure((panel,), strip_words.read(found, say), table)
    return Section(figures=(figure,), id="holes", title=title)


def _parts(found: Debrief, say: Say) -> Section:
    parts = table_of(
        words.by_part(found, halves=True), "round_parts", say, "By part, the worst first"
    )
    counts = table_of(words.by_count(found), "round_counts", say, "Counted")
    return Section(
        tables=(parts.only_short(), counts.only_short()),
        notes=words.care(found, say),
        id="parts",
        title="Beside the usual",
    )


def _strokes(found: Debrief, say: Say, *, with_notes: bool) -> Section:
    tables = [
        _told(strokes, say, caption, with_notes=with_notes)
        for strokes, caption in ((found.worst, "The worst"), (found.best, "The best"))
        if len(strokes)
    ]
    lead = () if tables else (words.NO_STROKES,)
    return Section(lead, tables=tuple(tables), id="strokes", title="Strokes to talk about")


def _told(strokes: pd.DataFrame, say: Say, caption: str, *, with_notes: bool) -> Table:
    table = words.told_on_paper(strokes, say, notes=with_notes)
    return table_of(table, "round_strokes", say, caption).only_short()


def _cautions() -> Section:
    return Section((cautions.RULES, cautions.PRIVATE), id="cautions", title="Cautions")


def _tables(found: Debrief, *, with_notes: bool) -> Tables:
    """Return what is exported; notes only where they were asked for."""
    strokes = found.strokes if with_notes else found.strokes.drop(columns="note")
    return {
        "holes": found.holes,
        "parts": words.by_part(found),
        "parts-counts": found.counts,
        "strokes": strokes,
    }
