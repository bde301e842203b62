"""A week's sessions: as a table, and a card for each session to take to the range."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from sgzone.answers import columns_of
from sgzone.practice.plan import Plan
from sgzone.practice.sessions import TEST_BALLS
from sgzone.words.cautions import SCHEDULE
from sgzone.words.digits import count
from sgzone.words.say import Say, Words

READ_ORDER = "Two balls at each number, in this order."
READ_TICKS = f"{READ_ORDER} Tick a box for each ball that passes."
READ_PASS = "Pass: so many balls inside the number in brackets; putts: holed."
_UNITS = "Numbers: yards, on the green feet; in brackets feet."
_METRES = "All numbers: metres."
_INSIDE, _HOLED = "inside the number in brackets ({unit})", "holed"


@dataclass(frozen=True, slots=True)
class Target:
    """A number to hit: how far, the distance that passes (empty on the green), and the balls."""

    number: str
    inside: str
    balls: int


@dataclass(frozen=True, slots=True)
class Drill:
    """One part of a session: what it is and its balls, its swings, its pass mark, its numbers."""

    heading: str
    swings: str
    pass_mark: str
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class SessionCard:
    """One session on a card: ``Session 1, 60 minutes`` and its parts."""

    heading: str
    drills: tuple[Drill, ...]


def week_page(week: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return the table of a week, as ``practice.sessions.week_plan`` returns it.

    ``numbers``: in the order to hit them, each with its pass mark in brackets where it has one.
    ``swings``: club and swing with the numbers they are for. ``pass_mark``: how many of the part's
    own balls pass: ``20 of 40``.
    """
    rows = [_row(own, say) for _, own in week.groupby(["session", "part"], sort=False)]
    return pd.DataFrame(rows, columns=[column.name for column in columns_of("week_page")])


def session_cards(week: pd.DataFrame, say: Say) -> tuple[SessionCard, ...]:
    """Return a card for each session of a week, as ``practice.sessions.week_plan`` returns it."""
    return tuple(
        SessionCard(
            heading=f"Session {number}, {own['minutes'].iloc[0]} minutes",
            drills=tuple(_drill(rows, say) for _, rows in own.groupby("part", sort=False)),
        )
        for number, own in week.groupby("session", sort=False)
    )


def session_lengths(week: pd.DataFrame) -> str:
    """Return how many sessions a week has and how long they are: ``5 sessions of 60 minutes``."""
    lengths = week.groupby("session")["minutes"].first()
    if lengths.empty:
        return "no sessions"
    most, least = lengths.max(), lengths.min()
    long = f"{most}" if most == least else f"{least} to {most}"
    return f"{count(len(lengths), 'session')} of {long} minutes"


def read_numbers(say: Say) -> str:
    """Return in which units the numbers of a week are."""
    return _METRES if say.metric else _UNITS


def _drill(rows: pd.DataFrame, say: Say) -> Drill:
    row, targets = _row(rows, say), _targets(rows, say)
    part, inside = str(row["part"]), any(target.inside for target in targets)
    what = _INSIDE.format(unit=say.unit("ft")) if inside else _HOLED
    return Drill(
        heading=f"{part[0].upper()}{part[1:]}: {row['balls']} balls",
        swings=str(row["swings"]),
        pass_mark=f"Pass: {row['pass_mark']} {what}" if row["pass_mark"] else "",
        targets=targets,
    )


def _targets(rows: pd.DataFrame, say: Say) -> tuple[Target, ...]:
    unit = str(rows["unit"].iloc[0])
    factor, places = say.factor(unit), say.places(unit)
    return tuple(
        Target(
            number=f"{value * factor:.{places}f}",
            inside=f"{mark * say.factor('ft'):.{say.places('ft')}f}" if mark == mark else "",
            balls=int(balls),
        )
        for value, mark, balls in zip(
            rows["number"], rows["pass_mark_ft"], rows["balls"], strict=True
        )
    )


def _row(rows: pd.DataFrame, say: Say) -> dict[str, object]:
    targets = _targets(rows, say)
    numbers = [target.number for target in targets]
    each = [f"{t.number}({t.inside})" if t.inside else t.number for t in targets]
    return {
        "session": int(rows["session"].iloc[0]),
        "part": say.part(str(rows["part"].iloc[0])),
        "balls": int(rows["balls"].sum()),
        "pass_mark": _mark(rows),
        "numbers": " ".join(each),  # without a blank inside, so that no line ends in one
        "swings": _swings(rows.assign(said=numbers)),
        "minutes": int(rows["minutes"].iloc[0]),
    }


def _swings(rows: pd.DataFrame) -> str:
    """Return each club and swing with the numbers it is for, the longest first."""
    known = rows[rows["club"] != ""].sort_values("number", ascending=False, kind="stable")
    words = (known["club"] + " " + known["swing"]).str.strip()
    said = []
    for name, own in known.groupby(words, sort=False):
        far, near = own["said"].iloc[0], own["said"].iloc[-1]
        said.append(f"{name}: {near}" if near == far else f"{name}: {near} to {far}")
    return "; ".join(said)


def _mark(rows: pd.DataFrame) -> str:
    """Return how many of a part's own balls pass, of what the level leaves inside or holes."""
    if rows["pass_balls"].isna().all():
        return ""
    balls = int(rows["balls"].sum())
    return f"{rows['pass_balls'].mean() * balls / TEST_BALLS:.0f} of {balls}"


def week_lead(plan: Plan, week: int, sessions: pd.DataFrame) -> Words:
    """Return which week of the block a sheet is for, and its sessions.

    ``sessions``: as ``practice.sessions.week_plan`` returns them.
    """
    balls = count(int(sessions["balls"].sum()), "ball")
    block = f"Week {week} of {plan.weeks:g}"
    return (f"{block}: {session_lengths(sessions)}, {balls}, two at each number.",)


def week_notes(against: str, say: Say) -> Words:
    """Return how to read a week's sessions."""
    return (
        f"{read_numbers(say)} {READ_PASS}",
        f"Half the shots of {against} end inside that number, modelled; putts: what that level "
        f"holes. {SCHEDULE}",
        "Own balls, range balls, grass and mats are never pooled: note which with every block.",
    )
