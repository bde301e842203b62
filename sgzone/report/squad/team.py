"""The report of a coach's squad: the week of all, then a page each. No ranking."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from sgzone.report.asked import Asked
from sgzone.report.page import Figure, Page, Section
from sgzone.report.player import Report, summary_of
from sgzone.report.sections import FINE_PRINT, counts, practice, where
from sgzone.report.squad.members import Squad
from sgzone.report.squad.week import own_lead, week_section, week_tables
from sgzone.review.where.summary import TOTAL
from sgzone.terms import PART_NAMES
from sgzone.words import method as method_words
from sgzone.words import squad as words
from sgzone.words.notes import noted
from sgzone.words.season import subtitle


def team_report(squad: Squad) -> Report:
    """Return the report of all players of a squad, in alphabetical order.

    Without ``names`` initials everywhere, in the tables too. Raises ``CallError`` where the
    selection's player is nobody in the file.
    """
    squad.store.refuse_unknown(squad.selection.player)
    members = squad.members
    places = {own.player: f"player_{number}" for number, own in enumerate(members, start=1)}
    whole = [week_section(squad, _in_order(squad), places)] if members else []
    pages = [_player_section(places[own.player], squad, own) for own in members]
    closing = [section for chapter in FINE_PRINT if (section := chapter.section(squad))]
    closing[0] = replace(closing[0], fresh=bool(members))
    page = Page(
        title=words.squad_title(len(members), squad.say),
        subtitle=_subtitle(squad),
        summary=_summary(squad) if members else (words.NO_PLAYERS,),
        sections=(*whole, *pages, *closing),
        colophon=method_words.COLOPHON,
        opened=len(whole),
    )
    return Report(page, _tables(squad))


def _summary(squad: Squad) -> tuple[str, ...]:
    """Return the answer, whose page this is, and that nobody is ranked."""
    since = words.changed_lead(squad.changes, squad.labels, squad.say) if squad.first else ()
    return (
        *words.played_lead(squad.played, squad.first, squad.agreed_on),
        *since,
        *words.shared_lead(squad.summary, squad.say),
        *words.PRIVATE,
    )


def _tables(squad: Squad) -> dict[str, pd.DataFrame]:
    if not squad.members:
        return {}
    tables = {"squad": noted(_in_order(squad), "summary"), **week_tables(squad)}
    for number, own in enumerate(squad.members, start=1):
        mine = f"player_{number}"
        tables[mine] = noted(own.parts, "summary")
        tables[f"{mine}-counts"] = noted(own.counts, "counts")
        if own.plan is not None:
            tables[f"{mine}-practice"] = own.plan.table
    return tables


def _in_order(squad: Squad) -> pd.DataFrame:
    """Return the summary by player and part, both in their own order and not by size."""
    places = {part: place for place, part in enumerate((*PART_NAMES, TOTAL))}
    table = squad.summary.assign(place=squad.summary["part"].map(places))
    table = table.sort_values(["player", "place"], kind="stable", ignore_index=True)
    return table.assign(player=table["player"].map(squad.labels)).drop(columns="place")


def _player_section(mine: str, squad: Squad, own: Asked) -> Section:
    """Return a player's own page: the week, where strokes go, the hours, the counts a round."""
    strokes, hours = where.section(own), practice.hours(own)
    figures = (
        *(_of(mine, figure) for figure in strokes.figures),
        *(_of(mine, figure, hours.lead) for figure in hours.figures),
    )
    return Section(
        (*(summary_of(own) if own.total is not None else strokes.lead), *own_lead(squad, own)),
        figures,
        counts.section(own).tables[:1],
        (*strokes.notes, *hours.notes, words.OWN_REPORT),
        fresh=True,
        id=mine,
        title=squad.labels[own.player],
    )


def _of(mine: str, figure: Figure, lead: tuple[str, ...] = ()) -> Figure:
    """Return a figure as one of a player's among many, with the sentences that lead to it."""
    panels = tuple(replace(panel, id=f"{mine}-{panel.id}") for panel in figure.panels)
    return replace(figure, panels=panels, caption=(*lead, *figure.caption), in_numbers=False)


def _subtitle(squad: Squad) -> str:
    against = squad.curve.name
    if squad.days is None:
        return subtitle(None, None, 0, 0, against)
    return words.squad_subtitle(*squad.days, squad.rounds, against)
