"""The verb that shares out practice hours, and the sheets that go with it."""

from __future__ import annotations

from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError, did_you_mean
from sgzone.practice.settings import Settings, read_settings
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import DEFAULT_BENCHMARK, Ask, number, reading_options
from sgzone.verbs.show import OF_TABLES, asked_of_tables, emit, say, tell
from sgzone.words.cautions import CAUTION

if TYPE_CHECKING:
    from sgzone.practice.plan import Plan
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

_OF_PLAN = ("typed", "log", "detail", "target")
_OF_HOURS = ("ceiling", "floor_hours", "largest_change")
_OF_SETTINGS = ("settings", "recoverable", "rate_hours", *_OF_HOURS)


@click.command()
@reading_options
@chart_option("settings")
@click.option("--hours", type=number("hours"), help="Hours a week you can practise, such as 5.")
@click.option(
    "--weeks",
    type=number("weeks"),
    default=6,
    show_default=True,
    help="Weeks to plan for, such as 8.",
)
@click.option(
    "--target", help="The level you want to play to, such as scratch, amateur-80 or a score, 78."
)
@click.option(
    "--split", "typed", help='Try your own split, such as "wedge_50_100=40,putt_0_10=60".'
)
@click.option(
    "--log/--no-log",
    default=True,
    show_default=True,
    help="Show what the practice log has beside the plan.",
)
@click.option(
    "--settings",
    type=click.Path(path_type=Path),
    help="Your assumptions as a file, such as --settings plan.toml.",
)
@click.option(
    "--recoverable",
    type=number("recoverable"),
    help="Share of a loss practice can win back, such as 0.6.",
)
@click.option(
    "--rate",
    "rate_hours",
    type=number("rate_hours"),
    help="Hours after which 63% of that is won, such as 40.",
)
@click.option(
    "--floor",
    "floor_hours",
    type=number("floor_hours"),
    help="Least hours a block for each part, such as 2.",
)
@click.option("--ceiling", help='Most hours a block, such as "sand_0_50=6,putt_0_10=10".')
@click.option(
    "--largest-change",
    type=number("largest_change"),
    help="Most a share may differ from today's, such as 0.15.",
)
@click.option(
    "--detail", is_flag=True, help="Add what one hour more brings, and the plan at other rates."
)
@click.option(
    "--what-if", help='What a change is worth, such as "wedge_50_100 long_short_spread -20%".'
)
@click.option(
    "--week",
    type=number("week"),
    is_flag=False,
    flag_value=1,
    help="The sessions of a week: numbers, balls, pass marks, such as --week 2.",
)
@click.option("--blocks", is_flag=True, help="Show whether your test blocks got better.")
def practice(
    ask: Ask,
    chart: Chart,
    hours: float | None,
    weeks: float,
    target: str | None,
    typed: str | None,
    log: bool,
    settings: Path | None,
    ceiling: str | None,
    detail: bool,
    what_if: str | None,
    week: int | None,
    blocks: bool,
    **flags: float | None,
) -> None:
    """Share out practice hours over the parts of your game."""
    from sgzone.practice.plan import practice_plan
    from sgzone.words import practice as words

    _refuse_idle(ask.fmt, target, what_if, week, blocks=blocks)
    if target is not None:  # losses are then against the tour, whatever standard is set
        ask = replace(ask, against=DEFAULT_BENCHMARK)
    chosen = _settings(settings, ceiling, flags)
    with ask.one_player() as (store, selection):
        level = ask.benchmark
        if what_if is not None:
            _show_what_if(store, what_if, level, selection, ask)
            return
        if blocks:
            _show_blocks(store, level, selection, chosen, ask)
            chart.draw(store, selection, lambda pictures: pictures.blocks(level))
            return
        if hours is None:
            raise CallError("a plan needs the hours a week you have; add --hours 5")
        if week and week > weeks:
            raise CallError(f"--week {week}: the block has {weeks:g} weeks (--weeks)")
        plan = practice_plan(
            store,
            hours,
            weeks,
            ask.benchmark,
            target=target,
            selection=selection,
            settings=chosen,
            split=_typed_split(typed, chosen.parts) if typed is not None else None,
            use_log=log,
            level=ask.level,
        )
        chart.draw(
            store,
            selection,
            lambda pictures: (pictures.returns if detail else pictures.hours)(plan, level),
        )
        if plan.thin:
            if ask.fmt == "table":  # headings over nothing are no answer to a reader
                tell(words.too_thin(plan))
            else:
                say(words.too_thin(plan))
                emit(plan.table.iloc[:0], ask.fmt, "practice")
        elif week:
            _show_week(store, plan, level, selection, ask, week)
        else:
            _show_plan(store, plan, level, selection, ask, detail=detail)


def _refuse_idle(
    fmt: str, target: str | None, what_if: str | None, week: int | None, *, blocks: bool
) -> None:
    """Refuse what the way of asking never reads."""
    if what_if is not None:
        refuse_idle(
            "--what-if",
            (*_OF_PLAN, *_OF_SETTINGS, *OF_TABLES, "hours", "weeks", "week", "blocks", "chart"),
        )
    if blocks:
        refuse_idle("--blocks", (*_OF_PLAN, *_OF_HOURS, "hours", "weeks", "week"))
    if week:
        refuse_idle("--week", (*_OF_PLAN, "level", "chart"))
    if fmt != "table":
        refuse_idle(f"--format {fmt}", ("typed",))
        if blocks:  # they are of no event: only the words under the table speak of rounds
            refuse_idle(f"--blocks --format {fmt}", ("event",))
    if target is not None:
        refuse_idle("--target", ("benchmark",))


def _settings(path: Path | None, ceiling: str | None, flags: dict[str, float | None]) -> Settings:
    base = read_settings(path) if path is not None else Settings()
    ceilings = None
    if ceiling is not None:
        ceilings = _pairs(ceiling, base.parts, "--ceiling", "ceiling_hours")
    return base.with_flags(**flags, ceiling_by_part=ceilings)


def _pairs(text: str, parts: tuple[str, ...], option: str, quantity: str) -> dict[str, float]:
    found = {}
    for pair in text.split(","):
        name, is_, amount = pair.partition("=")
        name = name.strip()
        if not is_ or not amount.strip():
            raise CallError(f'{option}: "{pair.strip()}" is no part=number such as {parts[0]}=30')
        if name not in parts:
            raise CallError(
                f'{option}: no part "{name}".{did_you_mean(name, parts)} The parts are '
                f"{', '.join(parts)}."
            )
        if name in found:
            raise CallError(f"{option}: {name} is there twice; give it one number")
        try:
            found[name] = BOUNDS[quantity].read(amount.strip())
        except CallError as wrong:
            raise CallError(f"{option} {name}: {wrong}") from None
    return found


def _typed_split(text: str, parts: tuple[str, ...]) -> dict[str, float]:
    found = _pairs(text, parts, "--split", "percent")
    total = sum(found.values())
    if abs(total - 100) > 0.5:
        raise CallError(f"--split adds up to {total:g}%; the shares must add up to 100")
    return {part: share / total for part, share in found.items()}


def _show_plan(
    store: Store, plan: Plan, level: str, selection: Selection, ask: Ask, *, detail: bool
) -> None:
    from sgzone.practice.log import planned_load, practice_log
    from sgzone.words import practice as words

    table = plan.table.merge(plan.detail, on="part") if detail else plan.table
    if ask.fmt != "table":
        emit(table, ask.fmt, "practice")
        return
    lead = words.plan_lead(plan, ask.say)
    of_goal: tuple[str, ...] = ()
    if plan.goal is not None:
        lead = words.goal_lead(plan.goal, plan, ask.say)
        of_goal = words.goal_notes(plan.goal, plan, ask.say)
    load = planned_load(practice_log(store, selection), plan.hours)
    care = (
        *of_goal,
        *words.split_words(plan, ask.say),
        *words.load_note(load),
        words.assumed(level),
    )
    notes = (*care, CAUTION, words.NEXT)
    page = words.plan_page(plan, detail=detail)
    wide = asked_of_tables("wide", False)
    emit(page, "table", "hours", ask.say, lead=lead, notes=() if wide else notes)
    if wide:
        emit(
            plan.alternatives,
            "table",
            "splits",
            ask.say,
            title=words.SPLITS,
            notes=notes,
            first=False,
        )


def _show_what_if(store: Store, text: str, level: str, selection: Selection, ask: Ask) -> None:
    import pandas as pd

    from sgzone.practice.whatif import what_if
    from sgzone.words.practice import worth

    found = what_if(store, text, level, selection, ask.level)
    if ask.fmt != "table":
        emit(pd.DataFrame([asdict(found)]), ask.fmt, "what_if")
        return
    tell(*worth(found, level, ask.say))


def _show_blocks(
    store: Store, level: str, selection: Selection, settings: Settings, ask: Ask
) -> None:
    from sgzone.practice.test_blocks import block_change, rounds_to_show
    from sgzone.words.practice import blocks_notes, blocks_title

    notes = blocks_notes(rounds_to_show(store, level, selection))
    table = block_change(store, level, selection, settings=settings, level=ask.level)
    emit(table, ask.fmt, "blocks", ask.say, title=blocks_title(level), notes=notes)


def _show_week(
    store: Store, plan: Plan, level: str, selection: Selection, ask: Ask, week: int
) -> None:
    from sgzone.practice.log import planned_load, practice_log
    from sgzone.practice.sessions import week_plan
    from sgzone.words.practice import load_note
    from sgzone.words.week import week_lead, week_notes, week_page

    table, answer = week_plan(store, plan, level, selection, week), "week"
    load = planned_load(practice_log(store, selection), plan.hours, float(table["balls"].sum()))
    lead = week_lead(plan, week, table)
    if ask.fmt == "table":
        table, answer = week_page(table, ask.say), "week_page"
    notes = (*week_notes(level, ask.say), *load_note(load), CAUTION)
    emit(table, ask.fmt, answer, ask.say, lead=lead, notes=notes)
