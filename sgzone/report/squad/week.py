"""The squad's week: one page of who plays how, who practised, what changed, what is agreed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.squad import squad_grid
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.report.squad.members import Squad
from sgzone.review.beside.meeting import in_all
from sgzone.words import digits
from sgzone.words import squad as words
from sgzone.words.agreed.going import line
from sgzone.words.tables import Table, table_of

KEYS = (Key("loss-tint", "lost"), Key("gain-tint", "gained"), Key("faint", "too few shots"))
_OF_ALL = ["player", "difference", "joint_low", "joint_high"]


def week_section(squad: Squad, rows: pd.DataFrame, places: Mapping[str, str]) -> Section:
    """Return the page of the week: the grid, who did what since the meeting, open agreements.

    ``rows``: the summary by player and part, in order, players as they are called. ``places``: the
    id of each player's own section, by name.
    """
    say = squad.say
    links = {squad.labels[name]: place for name, place in places.items()}
    chart = squad_grid(
        rows,
        links={label: f"#{place}" for label, place in links.items()},
        level=say.level,
        units=say.units,
    )
    numbers = table_of(rows, "squad", say, "Strokes gained by player and part")
    figure = Figure(
        panels=(Panel("squad-grid", chart, words.grid_alt(rows, say)),),
        caption=words.read_grid(say),
        table=_linked(numbers, links),
        keys=KEYS,
    )
    verdicts = squad.summary.loc[squad.summary["part"] != "total", "verdict"]
    who = () if squad.names else (words.BY_INITIALS,)
    return Section(
        figures=(figure,),
        tables=tuple(_linked(table, links) for table in _tables(squad)),
        notes=(*words.NO_RANKING, *who, words.false_alarms(verdicts)),
        id="squad",
        title=words.WEEK,
    )


def _tables(squad: Squad) -> tuple[Table, ...]:
    title = words.week_title(squad.first, squad.agreed_on)
    week = table_of(_week(squad), "squad_week", squad.say, title, kept=("changed",))
    if squad.agreed.empty:
        return (week,)
    agreed = _called(squad, squad.agreed)
    agreed = agreed.assign(said=[line(row, squad.say) for row in digits.rows(agreed)])
    return (week, table_of(agreed, "squad_agreed", squad.say, words.AGREED))


def _week(squad: Squad) -> pd.DataFrame:
    """Return a row a player: what was done since the meeting, and what changed."""
    table = squad.played
    if squad.first is not None:
        own = dict(list(squad.changes.groupby("player")))
        none = squad.changes.head(0)
        said = [words.change_words(own.get(name, none), squad.say) for name in table["player"]]
        whole = in_all(squad.changes)[_OF_ALL]
        table = table.merge(whole, on="player", how="left").assign(changed=said)
        table.loc[table["joint_low"].isna(), "difference"] = float("nan")
    return _called(squad, table)


def _called(squad: Squad, table: pd.DataFrame) -> pd.DataFrame:
    return table.assign(player=table["player"].map(squad.labels))


def _linked(table: Table, links: Mapping[str, str]) -> Table:
    """Return a table whose rows lead to the section of the player they begin with."""
    return replace(table, links=tuple(links.get(row[0], "") for row in table.rows))


def own_lead(squad: Squad, own: Asked, *, alone: bool = False) -> tuple[str, ...]:
    """Return one player's week in sentences, and a line for each open agreement.

    ``alone``: for the player's eyes, who may not learn when others agreed on something, and has
    the agreements in a section of their own.
    """
    mine = [
        frame[frame["player"] == own.player]
        for frame in (squad.played, squad.changes, squad.agreed)
    ]
    agreed_on = None if alone else squad.agreed_on
    week = words.own_week(mine[0], mine[1], squad.first, agreed_on, squad.say)
    if alone:
        return week
    return (*week, *(words.agreed(line(row, squad.say)) for row in digits.rows(mine[2])))


def week_tables(squad: Squad) -> Tables:
    """Return what is exported of the week, players as they are called."""
    found = {"squad-week": _called(squad, squad.played)}
    if squad.first is not None:
        found["squad-changes"] = _called(squad, squad.changes)
    if len(squad.agreed):
        found["squad-agreed"] = _called(squad, squad.agreed)
    return found
