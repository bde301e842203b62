"""The verb that keeps what coach and player agreed on, and says how it goes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from math import isfinite, nan
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError
from sgzone.terms import FEET, MEASURE, MEASURES, PART_NAMES
from sgzone.units import split_distance, to_ft
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.nearest import put_together
from sgzone.verbs.options import DAY, Ask, number, reading_options, the_player
from sgzone.verbs.season.deleting import agreed
from sgzone.verbs.show import asked_of_tables, emit, say, tell
from sgzone.words.digits import rows

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.agreed.keeping import About
    from sgzone.season.store import Store

_NEW = ("part", "measure", "from_", "to", "value", "due", "day")
_CHANGES = ("edit", "done", "drop")
_ID = number("agreement")


@click.command()
@click.argument("text", required=False)
@click.option(
    "--part",
    type=click.Choice(PART_NAMES),
    metavar="PART",
    help="Follow a part of the game, such as --part chip_0_30.",
)
@click.option(
    "--measure",
    type=click.Choice([measure.name for measure in MEASURES]),
    metavar="MEASURE",
    help=f"Follow a count: --measure {', '.join(MEASURE)}.",
)
@click.option("--from", "from_", metavar="LENGTH", help="From where: --from 4 (putts: feet).")
@click.option("--to", metavar="LENGTH", help="To where, included: --to 5, or --to 1.5m.")
@click.option("--value", metavar="TARGET", help="The target: --value 75%, or 12ft of proximity.")
@click.option("--due", type=DAY, help="The day the target is for: --due 2026-08-01.")
@click.option(
    "--day", type=DAY, help="Agreed on: --day 2026-05-14. Else today, or the newest round."
)
@click.option("--edit", nargs=2, metavar="ID TEXT", help='Another text: --edit 2 "two putts".')
@click.option("--done", type=_ID, metavar="ID", help="Close an agreement: --done 2.")
@click.option("--drop", type=_ID, metavar="ID", help="Delete one: --drop 2. It asks first.")
@click.option("--yes", is_flag=True, help="Delete without asking, for scripts.")
@click.option("--number", "only", type=_ID, metavar="ID", help="Only this one: --number 2.")
@reading_options
@chart_option()
def agree(
    ask: Ask,
    text: str | None,
    part: str | None,
    measure: str | None,
    from_: str | None,
    to: str | None,
    value: str | None,
    due: datetime | None,
    day: datetime | None,
    edit: tuple[str, str] | None,
    done: int | None,
    drop: int | None,
    yes: bool,
    only: int | None,
    chart: Chart,
) -> None:
    """Keep what you agree on, and see how it goes."""
    changes = [one for one in (text, edit, done, drop) if one is not None]
    if len(changes) > 1:
        raise CallError("A text, --edit, --done and --drop are changes: give one at a time.")
    if text is None:
        refuse_idle("agree without a text", _NEW)
    if drop is None:
        refuse_idle("agree unless it drops", ("yes",))
    if text is not None:
        lengths = (from_, to, value)
        about = _about(part, measure, lengths, _day(due), metric=ask.say.metric)
        _add(ask, text, about, _day(day))
    elif changes and not _changed(ask, edit, done, drop, yes=yes):
        return
    _list(ask, only, chart)


def _day(when: datetime | None) -> date | None:
    return when.date() if when else None


def _about(
    part: str | None,
    measure: str | None,
    typed: Sequence[str | None],
    due: date | None,
    *,
    metric: bool,
) -> About:
    """Return what an agreement is about; ``typed``: from, to and value."""
    from sgzone.season.agreed.keeping import About

    if measure is None and (idle := [n for n in ("from_", "to", "value") if _typed(n, typed)]):
        names = " and ".join(f"--{name.rstrip('_')}" for name in idle)
        verb = "needs" if len(idle) == 1 else "need"
        raise CallError(f"{names} {verb} a measure: add --measure, one of {', '.join(MEASURE)}.")
    from_, to, value = typed
    if measure is None:
        return About(part, due=due)
    feet = MEASURE[measure].on_green
    ends = [_length(text, feet=feet, metric=metric) for text in (from_, to)]
    target = None if value is None else _target(value, measure, metric=metric)
    return About(part, measure, ends[0], ends[1], target, due)


def _typed(name: str, typed: Sequence[str | None]) -> bool:
    return typed[("from_", "to", "value").index(name)] is not None


def _length(text: str | None, *, feet: bool, metric: bool) -> float | None:
    """Return a length in feet; a bare number is feet of a putt, else yards, or metres."""
    if text is None:
        return None
    try:
        amount, unit = split_distance(text)
    except ValueError as wrong:
        raise CallError(f"{wrong}.") from None
    return to_ft(amount, unit or ("m" if metric else "ft" if feet else "yd"))


def _target(text: str, measure: str, *, metric: bool) -> float:
    """Return a target: of a share from 0 to 1, of the proximity in feet."""
    if MEASURE[measure].unit == FEET:
        return _length(text, feet=True, metric=metric) or 0.0
    try:
        percent = float(text.strip().removesuffix("%"))
    except ValueError:
        percent = nan
    if not isfinite(percent):
        raise CallError(f'"{text[:40]}" is no share; write --value 75%.')
    if 0 < percent < 1 and "%" not in text:
        raise CallError(f"--value {text} is less than 1%; for {percent:.0%} write {percent:.0%}.")
    return percent / 100


def _open(ask: Ask) -> Store:
    from sgzone.season.store import open_store

    return open_store(ask.db, create=False)


def _add(ask: Ask, text: str, about: About, day: date | None) -> None:
    from sgzone.season.agreed import keeping
    from sgzone.words.agreed.going import added

    with _open(ask) as store:
        player = the_player(store, ask.selection).player
        if player is None:
            raise CallError("No player in the season file yet. Load a card first.")
        made = keeping.add(store, player, text, about, day)
        table = keeping.kept(store, player)
    row = next(rows(table[table["agreement"] == made]))
    say(*added(made, row, ask.say))


def _changed(
    ask: Ask, edit: tuple[str, str] | None, done: int | None, drop: int | None, *, yes: bool
) -> bool:
    """Edit, close or drop an agreement; return whether anything was done."""
    from sgzone.season.agreed import keeping
    from sgzone.words.agreed.going import CLOSED, DROPPED, EDITED

    made = 0 if edit is None else int(_ID.bound.read(edit[0]))
    with _open(ask) as store:
        _refuse_others(keeping.one(store, made or done or drop or 0), ask.selection.player)
        if edit is not None:
            keeping.edit(store, made, edit[1])
            say(EDITED.format(made))
        if done is not None:
            keeping.close(store, done)
            say(CLOSED.format(done))
        if drop is not None:
            player = str(keeping.one(store, drop)["player"])
            if not agreed({"agreements": 1}, player, yes=yes):
                return False
            keeping.drop(store, drop)
            say(DROPPED.format(drop))
    return True


def _refuse_others(agreement: pd.Series[Any], player: str | None) -> None:
    """Refuse to change what another player than the one asked for agreed on."""
    whose = str(agreement["player"])
    if player not in (None, whose):
        number = agreement["agreement"]
        raise CallError(
            f"Agreement {number} is {whose}'s, not {player}'s. Name {whose}, or another number."
        )


def _list(ask: Ask, only: int | None, chart: Chart) -> None:
    from sgzone.review.agreed.going import agreements
    from sgzone.words.agreed import going as words

    with ask.everybody() as store:
        games = ask.games(store)
        tables = [agreements(store, game.benchmark, game.selection, ask.level) for game in games]
        table = put_together(tables, games)
        if only is not None:
            table = _only(table, only)
        if chart.file is not None:
            row = _drawn(table)
            selection = next(
                game.selection for game in games if game.selection.player in (None, row["player"])
            )
            chart.draw(store, selection, lambda pictures: pictures.agreement(row))
    told = ask.fmt == "table"
    shown = words.shown(table, ask.say, whole=asked_of_tables("wide", False)) if told else table
    if told and table["player"].nunique() < 2:
        shown = shown.drop(columns="player")
    lead, notes = words.lead(table), words.notes(table, ask.say)
    if told and shown.empty:  # headings over nothing are no answer to a reader
        tell(*lead)
        return
    emit(shown, ask.fmt, "agreements", ask.say, lead=lead, notes=notes)


def _only(table: pd.DataFrame, only: int) -> pd.DataFrame:
    found = table[table["agreement"] == only]
    if found.empty:
        there = ", ".join(map(str, table["agreement"])) or "none"
        raise CallError(f"No agreement {only} here (there: {there}).")
    return found.reset_index(drop=True)


def _drawn(table: pd.DataFrame) -> pd.Series:
    """Return the one agreement to draw; ``CallError`` where several or none can be."""
    can = table[table["unit"].notna()]
    still = can[can["closed"].isna()] if len(can) > 1 else can
    if len(still) == 1:
        return still.iloc[0]
    if can.empty:
        raise CallError("No agreement with something to count: add one with --measure or --part.")
    there = ", ".join(map(str, can["agreement"]))
    raise CallError(
        f"A chart shows one agreement, and several can be drawn ({there}): add "
        f"--number {can['agreement'].iloc[0]}."
    )
