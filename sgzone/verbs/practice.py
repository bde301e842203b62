"""The verb that shares out practice hours, and the sheets that go with it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError
from sgzone.practice.cautions import ASSUMPTIONS, CAUTIONS, SCHEDULE
from sgzone.terms import CAUSE_WORDS, part_words
from sgzone.units import length_words
from sgzone.verbs.options import Ask, check_selection, number, reading_options, the_player
from sgzone.verbs.show import Column, emit

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.practice.plan import Plan
    from sgzone.practice.settings import Settings
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

PLAN = {
    "part": Column("part"),
    "role": Column("role"),
    "shots": Column("shots"),
    "rounds": Column("rounds"),
    "shots_per_round": Column("shots per round", 1),
    "loss_per_round": Column("loss per round, strokes", 2, signed=True),
    "low": Column("low", 2, signed=True),
    "high": Column("high", 2, signed=True),
    "share": Column("share of hours"),
    "share_low": Column("low (90%)"),
    "share_high": Column("high"),
    "hours_per_week": Column("hours a week", 1),
    "p_first": Column("P(first)", 2),
    "tied": Column("too close to the first"),
    "share_by_loss": Column("by loss"),
    "share_equal": Column("equal"),
    "share_now": Column("now"),
    "recoverable": Column("assumed recoverable", 2),
    "rate_hours": Column("assumed rate, hours", 0),
    "floor_hours": Column("floor, hours", 1),
    "ceiling_hours": Column("ceiling, hours", 1),
}
DETAIL = {
    "marginal": Column("one hour more, strokes per round", 4, signed=True),
    "marginal_low": Column("low (90%)", 4, signed=True),
    "marginal_high": Column("high", 4, signed=True),
    "share_half_rate": Column("share at half the rate"),
    "share_double_rate": Column("share at double the rate"),
}
SPLITS = {
    "split": Column("split of the hours"),
    "strokes_per_round": Column("expected, strokes per round", 2, signed=True),
    "low": Column("low (90%)", 2, signed=True),
    "high": Column("high", 2, signed=True),
    "plan_lead": Column("the plan is better by", 2, signed=True),
    "lead_low": Column("low (90%)", 2, signed=True),
    "lead_high": Column("high", 2, signed=True),
}
WEEK = {
    "session": Column("session"),
    "minutes": Column("min"),
    "part": Column("part"),
    "balls": Column("balls"),
    "numbers": Column("numbers, in this order"),
    "swings": Column("swing"),
    "pass_mark": Column("pass mark"),
}
BLOCKS = {
    "part": Column("part"),
    "ball": Column("ball"),
    "surface": Column("surface"),
    "days_before": Column("days before"),
    "days_after": Column("days after"),
    "balls": Column("balls"),
    "change": Column("change of the miss"),
    "low": Column("low"),
    "high": Column("high"),
    "smallest_seen": Column("smallest change so many days show"),
    "hours_between": Column("hours between", 1),
    "recoverable": Column("recoverable share", 2),
    "recoverable_low": Column("low", 2),
    "recoverable_high": Column("high", 2),
}
_SHARES = ("share", "share_low", "share_high", "share_by_loss", "share_equal", "share_now")
_RATES = ("share_half_rate", "share_double_rate")


@click.command()
@reading_options
@click.option("--hours", type=number("hours"), help="Hours a week; needed for a plan or a week.")
@click.option(
    "--weeks", type=number("weeks"), default=6, show_default=True, help="Weeks of the block."
)
@click.option("--target", help="The level you want to reach, such as scratch; else --benchmark.")
@click.option("--split", "typed", help='Your own split beside it: "wedge_50_100=40,putt_0_10=60".')
@click.option(
    "--log/--no-log", default=True, show_default=True, help="Set the practice log beside."
)
@click.option("--settings", type=click.Path(path_type=Path), help="Assumptions as a TOML file.")
@click.option(
    "--recoverable", type=number("recoverable"), help="Share of a loss practice can win back."
)
@click.option(
    "--rate",
    "rate_hours",
    type=number("rate_hours"),
    help="Hours after which 63% of that is won.",
)
@click.option(
    "--floor",
    "floor_hours",
    type=number("floor_hours"),
    help="Least hours a block for each part.",
)
@click.option("--ceiling", help='Most hours a block: "sand_0_50=6,putt_0_10=10".')
@click.option(
    "--largest-change",
    type=number("largest_change"),
    help="Most a share may differ from today's: 0.15.",
)
@click.option("--detail", is_flag=True, help="Add what one hour more brings, half and double rate.")
@click.option("--what-if", help='Worth of a change: "wedge_50_100 long_short_spread -20%".')
@click.option(
    "--week",
    type=number("week"),
    is_flag=False,
    flag_value=1,
    help="A week's sessions with numbers, balls, pass marks: the first, or that of the block.",
)
@click.option("--blocks", is_flag=True, help="Whether the test blocks changed, and what could.")
def practice(
    ask: Ask,
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
    """Share out practice hours over the parts of the game, with every assumption in sight."""
    from sgzone.practice.plan import practice_plan

    chosen = _settings(settings, ceiling, flags)
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        level = ask.benchmark if target is None else target
        if what_if is not None:
            _show_what_if(store, what_if, level, selection, ask)
            return
        if blocks:
            _show_blocks(store, level, selection, chosen, ask)
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
        if not sum(plan.shots):
            click.echo("No strokes to plan from in this selection.", err=True)
            emit(plan.table.iloc[:0], ask.fmt)
        elif week:
            _show_week(store, plan, level, selection, ask, week)
        else:
            _show_plan(store, plan, level, selection, ask, detail=detail)


def _settings(path: Path | None, ceiling: str | None, flags: dict[str, float | None]) -> Settings:
    from sgzone.practice.settings import Settings, read_settings

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
            raise CallError(f'{option}: no part "{name}"; the parts are {", ".join(parts)}')
        if name in found:
            raise CallError(f"{option}: {name} is there twice; give it one number")
        try:
            found[name] = BOUNDS[quantity].read(amount.strip())
        except CallError as wrong:
            raise CallError(
                f'{option}: "{pair.strip()}" is no part=number such as {parts[0]}=30 ({wrong})'
            ) from wrong
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
    from sgzone.practice.log import load_warning, practice_log
    from sgzone.practice.plan import thin_words

    table = plan.table.merge(plan.detail, on="part") if detail else plan.table
    if ask.fmt != "table":
        emit(table, ask.fmt)
        return
    shown = plan.table.merge(plan.detail, on="part").assign(
        role=plan.roles, shots=plan.shots, rounds=plan.rounds
    )
    title = (
        f"{plan.hours:g} hours a week for {plan.weeks:g} weeks, losses against {level}; loss > 0 "
        f"costs strokes, interval {ask.level:.0%}, shares to the nearest 5%. {ASSUMPTIONS}"
    )
    for line in thin_words(plan):
        click.echo(line)
    emit(_percent(shown), "table", PLAN | (DETAIL if detail else {}), units=ask.units, title=title)
    title = f"What each split would win back, if the assumptions hold. {ASSUMPTIONS}"
    emit(plan.alternatives, "table", SPLITS, title=title, notes=_notes(plan, ask.units))
    warning = load_warning(practice_log(store, selection), plan.hours)
    for line in (*filter(None, [warning]), *CAUTIONS):
        click.echo(line)


def _percent(table: pd.DataFrame) -> pd.DataFrame:
    """Return the plan in words, shares to the nearest 5%: more digits would not be true."""
    shown = table.assign(tied=table["tied"].map({True: "yes", False: ""}))
    for name in (*_SHARES, *_RATES):
        shown[name] = [_share(value) for value in shown[name]]
    return shown


def _share(value: float) -> str:
    if value != value:
        return ""
    return f"{5 * round(value * 20)}%" if value >= 0.025 else "under 5%"


def _notes(plan: Plan, units: str) -> list[str]:
    from sgzone.practice.plan import behind_words

    names = plan.table.loc[plan.table["tied"], "part"].map(part_words(units))
    notes = []
    if plan.no_loss:
        notes.append("No part loses strokes to this level: the hours are split equally.")
    elif plan.none_shown:
        notes.append(
            "No part loses strokes to this level on balance: the shares follow what the losses may "
            "still be."
        )
    elif len(names) > 1:
        notes.append(f"Too close to separate for first place: {', '.join(names)}.")
    behind = behind_words(plan)
    if plan.no_better and not behind:
        notes.append("The plan is no better than hours in proportion to the losses.")
    notes.extend(behind)
    notes.append(
        f"Assumed: recoverable share unsure by {plan.settings.recoverable_spread:.0%}, rate by "
        f"{plan.settings.rate_spread:.0%} (sd of the logarithm); change them by --settings."
    )
    return notes


def _show_what_if(store: Store, text: str, level: str, selection: Selection, ask: Ask) -> None:
    from dataclasses import asdict

    import pandas as pd

    from sgzone.practice.whatif import what_if

    found = what_if(store, text, level, selection, ask.level)
    if ask.fmt != "table":
        emit(pd.DataFrame([asdict(found)]), ask.fmt)
        return
    now, then = (
        length_words(feet, ask.units) for feet in (found.median_now_ft, found.median_then_ft)
    )
    click.echo(
        f"{part_words(ask.units)[found.part]}, {CAUSE_WORDS[found.factor]} {found.change:+.0%}: "
        f"worth {found.strokes_per_round:+.2f} strokes per round ({ask.level:.0%}: "
        f"{found.low:+.2f} to {found.high:+.2f}) against {level}, from {found.shots} of "
        f"{found.shots_in_part} shots in {found.rounds} rounds.\n"
        f"It would show as a median finish of {then} instead of {now}. Shots without direction are "
        f"taken as unchanged. {ASSUMPTIONS}"
    )


def _show_blocks(
    store: Store, level: str, selection: Selection, settings: Settings, ask: Ask
) -> None:
    from sgzone.practice.blocks import GAIN, block_change, rounds_to_show

    rounds = rounds_to_show(store, level, selection)
    table = block_change(store, level, selection, settings=settings, level=ask.level)
    if ask.fmt == "table":
        table["smallest_seen"] *= -1
        for name in ("change", "low", "high", "smallest_seen"):
            table[name] = ["" if v != v else f"{v:+.0%}" for v in table[name].astype(float)]
    notes = (
        "Change < 0: misses got smaller, from the first half of the test days to the second; a day "
        "counts as one.",
        f"The course tells far later: {GAIN:.1f} strokes per round would take about {rounds:.0f} "
        "rounds before and as many after to show there."
        if rounds == rounds
        else "The course tells far later: too few rounds to say how many it would take.",
        ASSUMPTIONS,
    )
    title = f"Test blocks of mixed numbers, {level}"
    emit(table, ask.fmt, BLOCKS, units=ask.units, title=title, notes=notes)


def _show_week(
    store: Store, plan: Plan, level: str, selection: Selection, ask: Ask, week: int
) -> None:
    from sgzone.practice.log import load_warning, practice_log
    from sgzone.practice.sessions import week_plan
    from sgzone.practice.sheet import session_sheet

    table = week_plan(store, plan, level, selection, week)
    balls = float(table["balls"].sum())
    warning = load_warning(practice_log(store, selection), plan.hours, balls)
    if ask.fmt == "table":
        table = session_sheet(table, ask.units)
    notes = (
        f"{balls:.0f} balls a week, two at each number. Pass mark: from that number half of the "
        f"shots of {level} end that near, modelled; putts: how many of 20 that level holes. A "
        "player of that level passes a little more than every other time.",
        "Own balls, range balls, grass and mats are never pooled: note which with every block.",
        SCHEDULE,
        *filter(None, [warning]),
        *CAUTIONS,
    )
    title = f"Week {week} of {plan.weeks:g}, {plan.hours:g} hours"
    emit(table, ask.fmt, WEEK, units=ask.units, title=title, notes=notes)
