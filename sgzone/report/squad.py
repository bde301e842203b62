"""A coach's squad: small charts of all, then a page each. No ranking, and initials by default."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import pandas as pd

from sgzone.report.asked import Asked, card_notes, knowing
from sgzone.report.charts.squad import small_bars, squad_reach
from sgzone.report.page import Figure, Page, Panel, Section
from sgzone.report.player import Report, summary_of
from sgzone.report.sections import FINE_PRINT, counts, practice, where
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.terms import PART_NAMES
from sgzone.words import method as method_words
from sgzone.words import squad as words
from sgzone.words.notes import noted
from sgzone.words.season import subtitle
from sgzone.words.tables import table_of

_SMALL_COLUMNS = 2


def _by_player(squad: Squad) -> pd.DataFrame:
    """Return the summary by player and part, worst loss first, with a row of all strokes each."""
    table = summarise(*squad.game, ["player", "part", TOTAL], squad.say.level)
    return table[table["shots"] > 0]


def _labels(squad: Squad) -> dict[str, str]:
    """Return what each player with rounds is called, by name in alphabetical order."""
    order = sorted(squad.sizes["player"].unique())
    return dict(zip(order, order if squad.names else initials(order), strict=True))


def _members(squad: Squad) -> tuple[Asked, ...]:
    """Return what is asked of each player with strokes, in alphabetical order.

    What the squad was asked is not asked again, and measuring not at all: the page says so. The
    nearest standard is a player's own report's, which can be made against it.
    """
    found = {name: getattr(squad, name) for name in ("sizes", "strokes", "summary")}
    members = []
    for player in squad.labels:
        own = {name: frame[frame["player"] == player] for name, frame in found.items()}
        if len(own["summary"]):
            chosen = replace(squad.selection, player=player)
            asked = Asked(squad.store, squad.curve, chosen, squad.say, squad.hours, squad.weeks)
            own["summary"] = own["summary"].drop(columns="player")
            members.append(knowing(asked, **own, measuring=None, beside=None))
    return tuple(members)


def _notes(squad: Squad) -> pd.DataFrame:
    """Return the card's notes, players called as in the rest."""
    notes = card_notes(squad.store, squad.selection)
    return notes.assign(player=notes["player"].map(squad.labels))


@dataclass(frozen=True, eq=False)
class Squad(Asked):
    """All players of the selection, asked once for all of them. ``names``: full names."""

    names: bool = False

    summary = cached_property(_by_player)
    labels = cached_property(_labels)
    members = cached_property(_members)
    notes = cached_property(_notes)


def team_report(squad: Squad) -> Report:
    """Return the report of all players of a squad, in alphabetical order.

    Without ``names`` initials everywhere, in the tables too. Raises ``CallError`` where the
    selection's player is nobody in the file.
    """
    squad.store.refuse_unknown(squad.selection.player)
    members = squad.members
    whole = [_squad_section(squad)] if members else []
    pages = [
        _player_section(number, squad.labels[own.player], own)
        for number, own in enumerate(members, start=1)
    ]
    closing = [section for chapter in FINE_PRINT if (section := chapter.section(squad))]
    closing[0] = replace(closing[0], fresh=bool(members))
    page = Page(
        title=words.squad_title(len(members), squad.say),
        subtitle=_subtitle(squad),
        summary=_summary(squad) if members else (words.NO_PLAYERS,),
        sections=(*whole, *pages, *closing),
        colophon=method_words.COLOPHON,
        opened=1,
    )
    return Report(page, _tables(squad))


def initials(players: Iterable[str]) -> list[str]:
    """Return the initials of each player, numbered where two share them.

    >>> initials(["Ada Low", "Al Lee", "Bo"])
    ['AL 1', 'AL 2', 'B']
    """
    short = [
        "".join(next((c for c in word if c.isalpha()), "") for word in player.split()).upper()[:3]
        or "?"
        for player in players
    ]
    often, seen = Counter(short), Counter[str]()
    labels = []
    for text in short:
        seen[text] += 1
        labels.append(f"{text} {seen[text]}" if often[text] > 1 else text)
    return labels


def _tables(squad: Squad) -> dict[str, pd.DataFrame]:
    if not squad.members:
        return {}
    tables = {"squad": noted(_in_order(squad), "summary")}
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


def _squad_section(squad: Squad) -> Section:
    """Return one small chart a player."""
    say, rows = squad.say, _in_order(squad)
    parts = rows[rows["part"] != TOTAL]
    reach = squad_reach(parts)
    panels = []
    for number, own in enumerate(squad.members, start=1):
        label = squad.labels[own.player]
        mine = parts[parts["player"] == label].drop(columns="player")
        chart = small_bars(mine, reach, level=say.level, units=say.units)
        panels.append(Panel(f"squad-{number}", chart, words.squad_alt(label, mine, say), label))
    figure = Figure(
        panels=tuple(panels),
        caption=words.READ_SQUAD,
        table=table_of(rows, "squad", say, "Strokes gained by player and part"),
        columns=_SMALL_COLUMNS if len(panels) > 1 else 1,
    )
    return Section(figures=(figure,), id="squad", title="The squad, part by part")


def _player_section(number: int, label: str, own: Asked) -> Section:
    """Return a player's own page: where strokes go, the hours to practise, the counts a round."""
    strokes, hours = where.section(own), practice.hours(own)
    mine = f"player_{number}"
    figures = (
        *(_of(mine, figure) for figure in strokes.figures),
        *(_of(mine, figure, hours.lead) for figure in hours.figures),
    )
    return Section(
        summary_of(own) if own.total is not None else strokes.lead,
        figures,
        counts.section(own).tables[:1],
        (*strokes.notes, *hours.notes, words.OWN_REPORT),
        fresh=True,
        id=mine,
        title=label,
    )


def _of(mine: str, figure: Figure, lead: tuple[str, ...] = ()) -> Figure:
    """Return a figure as one of a player's among many, with the sentences that lead to it."""
    panels = tuple(replace(panel, id=f"{mine}-{panel.id}") for panel in figure.panels)
    return replace(figure, panels=panels, caption=(*lead, *figure.caption), in_numbers=False)


def _summary(squad: Squad) -> tuple[str, ...]:
    verdicts = squad.summary.loc[squad.summary["part"] != TOTAL, "verdict"]
    who = () if squad.names else (words.BY_INITIALS,)
    return (*words.PRIVATE, *who, words.false_alarms(verdicts))


def _subtitle(squad: Squad) -> str:
    against = squad.curve.name
    if squad.days is None:
        return subtitle(None, None, 0, 0, against)
    return words.squad_subtitle(*squad.days, squad.rounds, against)
