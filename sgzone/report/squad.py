"""A coach's squad: small charts of all, then a page each. No ranking, and initials by default."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.practice.log import planned_load, practice_log
from sgzone.practice.plan import practice_plan
from sgzone.report.asked import BLOCK_WEEKS, Review, gather, hours_to_plan
from sgzone.report.charts.squad import small_bars, squad_reach
from sgzone.report.page import Figure, Page, Panel, Section
from sgzone.report.player import Report
from sgzone.report.sections.counts import counts_section
from sgzone.report.sections.method import cautions_section, method_section, sources_section
from sgzone.report.sections.practice import practice_section
from sgzone.report.sections.where import where_section
from sgzone.review.where.counts import counts, hole_endings
from sgzone.review.where.proximity import with_basis
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL, NOT_ENOUGH, PART_NAMES
from sgzone.units import Units
from sgzone.words import method as method_words
from sgzone.words import season as season_words
from sgzone.words import squad as squad_words
from sgzone.words.notes import noted
from sgzone.words.say import Say
from sgzone.words.tables import table_of

if TYPE_CHECKING:
    from sgzone.season.store import Store

_SMALL_COLUMNS = 2


@bounded
def team_report(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    units: Units = "yards",
    *,
    names: bool = False,
    hours: float | None = None,
    weeks: float = BLOCK_WEEKS,
) -> Report:
    """Return the report of all players of a season file, in alphabetical order.

    ``names``: full names; otherwise initials everywhere, in the tables too. ``hours`` and
    ``weeks``: of every player's plan, as ``gather`` takes them. Raises ``CallError`` where the
    selection's player is nobody in the file.
    """
    store.refuse_unknown(selection.player)
    curve = in_store(store, benchmark)
    sizes = round_sizes(store, selection)
    strokes = scored(store, curve, selection)
    table = summarise(store, curve, selection, ["player", "part", TOTAL], level)
    table = table[table["shots"] > 0]
    labels = labels_of(sizes["player"].unique(), names)
    players = [player for player in labels if player in set(table["player"])]
    labels = {player: labels[player] for player in players}
    table = _in_order(table, labels)
    blank = _blank(store, curve, selection, level, units)
    found = (table, sizes, strokes)
    light = [
        _light_review(store, curve, replace(selection, player=player), blank, found)
        for player in labels
    ]
    reviews = [_with_plan(store, curve, selection, review, (hours, weeks)) for review in light]
    pages = [
        _player_section(number, labels[review.player], review)
        for number, review in enumerate(reviews, start=1)
    ]
    page = Page(
        title=squad_words.squad_title(len(players), blank.say),
        subtitle=_subtitle(sizes, curve.name),
        summary=_summary(table, names) if players else (squad_words.NO_PLAYERS,),
        sections=(
            *([_squad_section(table, labels, level, units)] if players else []),
            *pages,
            replace(method_section(blank), fresh=bool(players)),
            sources_section(blank),
            cautions_section(),
        ),
        colophon=method_words.COLOPHON,
    )
    shown = noted(table, "summary").drop(columns="player").rename(columns={"label": "player"})
    tables = {"squad": shown} if players else {}
    for number, review in enumerate(reviews, start=1):
        tables[f"player_{number}"] = noted(review.parts, "summary")
        tables[f"player_{number}-counts"] = noted(review.counts, "counts")
        if review.plan is not None:
            tables[f"player_{number}-practice"] = review.plan.table
    return Report(page, tables)


def labels_of(players: Iterable[str], names: bool) -> dict[str, str]:
    """Return what each player is called, in alphabetical order: the name, or initials."""
    order = sorted(players)
    return dict(zip(order, order if names else initials(order), strict=True))


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


def _in_order(table: pd.DataFrame, labels: dict[str, str]) -> pd.DataFrame:
    """Return the rows by player and part, both in their own order and not by size."""
    places = {part: place for place, part in enumerate((*PART_NAMES, TOTAL))}
    order = table.assign(place=table["part"].map(places), label=table["player"].map(labels))
    order = order.sort_values(["player", "place"], kind="stable", ignore_index=True)
    return order[["label", *table.columns]]


def _light_review(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    blank: Review,
    found: tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame],
) -> Review:
    """Return what a squad shows of one player before the plan; the rest stays empty.

    ``found``: the squad's summary, rounds and strokes.
    """
    table, sizes, strokes = (frame[frame["player"] == selection.player] for frame in found)
    whole = table["part"] == TOTAL
    parts = table[~whole].sort_values("gained_per_round", kind="stable")
    return replace(
        blank,
        player=selection.player or "",
        first=sizes["date"].min().date(),
        last=sizes["date"].max().date(),
        rounds=len(sizes),
        holes=int(sizes["holes"].sum()),
        total=table[whole].iloc[0] if whole.any() else None,
        parts=with_basis(parts.drop(columns=["label", "player"]), strokes, curve, ["part"]),
        counts=counts(store, selection, blank.level),
        endings=hole_endings(store, selection),
    )


def _with_plan(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    review: Review,
    time: tuple[float | None, float],
) -> Review:
    """Return the review with its player's plan where there are strokes enough for one.

    ``time``: hours a week, None for what the log's last weeks had, and weeks.
    """
    if review.total is None or review.total["verdict"] == NOT_ENOUGH:
        return review
    own = replace(selection, player=review.player)
    log = practice_log(store, own)
    hours, hours_from = hours_to_plan(log, time[0])
    plan = practice_plan(store, hours, time[1], curve, selection=own, level=review.level)
    return replace(review, plan=plan, hours_from=hours_from, load=planned_load(log, hours))


def _blank(
    store: Store, curve: Benchmark, selection: Selection, level: float, units: Units
) -> Review:
    """Return the review of nobody's rounds: every table is there and empty."""
    nobody = next(iter(store.players()), None)
    return gather(store, curve, replace(selection, player=nobody, since=date.max), level, units)


def _squad_section(
    table: pd.DataFrame, labels: dict[str, str], level: float, units: Units
) -> Section:
    """Return one small chart a player."""
    parts = table[table["part"] != TOTAL]
    reach = squad_reach(parts)
    panels = []
    for number, (player, label) in enumerate(labels.items(), start=1):
        own = parts[parts["player"] == player]
        chart = small_bars(own.drop(columns=["label", "player"]), reach, level=level, units=units)
        said = squad_words.squad_alt(label, own, Say(units, level))
        panels.append(Panel(f"squad-{number}", chart, said, label))
    rows = table.assign(player=table["label"])
    figure = Figure(
        panels=tuple(panels),
        caption=squad_words.READ_SQUAD,
        table=table_of(rows, "squad", Say(units, level), "Strokes gained by player and part"),
        columns=_SMALL_COLUMNS if len(panels) > 1 else 1,
    )
    return Section("squad", "The squad, part by part", (), (figure,))


def _player_section(number: int, label: str, review: Review) -> Section:
    """Return a player's own page."""
    where, plan, plain = where_section(review), practice_section(review), counts_section(review)
    lead: tuple[str, ...] = where.lead
    if review.total is not None:
        said = season_words.season(
            review.total,
            review.parts,
            review.rounds,
            review.against,
            review.say,
        )
        lead = tuple(said)
    mine = f"player_{number}"
    figures = tuple(
        replace(
            figure,
            panels=tuple(replace(panel, id=f"{mine}-{panel.id}") for panel in figure.panels),
            caption=(*said, *figure.caption),
        )
        for section, said in ((where, ()), (plan, plan.lead))
        for figure in section.figures
    )
    return Section(
        mine,
        label,
        lead,
        figures,
        plain.tables[:1],
        (*where.notes, *plan.notes, squad_words.OWN_REPORT),
        fresh=True,
    )


def _summary(table: pd.DataFrame, names: bool) -> tuple[str, ...]:
    verdicts = table.loc[table["part"] != TOTAL, "verdict"]
    who = () if names else (squad_words.BY_INITIALS,)
    return (*squad_words.PRIVATE, *who, squad_words.false_alarms(verdicts))


def _subtitle(sizes: pd.DataFrame, against: str) -> str:
    if sizes.empty:
        return season_words.subtitle(None, None, 0, 0, against)
    first, last = sizes["date"].min().date(), sizes["date"].max().date()
    return squad_words.squad_subtitle(first, last, len(sizes), against)
