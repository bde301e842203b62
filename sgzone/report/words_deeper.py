"""Sentences of the sections that ask why, what to agree, what to practise, and about the trend."""

from __future__ import annotations

import pandas as pd

from sgzone.clubs.shots import FROM_YD
from sgzone.clubs.stock import COVER_YD, WIDE_GAP
from sgzone.practice.plan import Plan, behind_words
from sgzone.report.numbers import count, estimate, listed, number, short_length, thousands
from sgzone.review.trend import CHANCE, MORE_THAN_NOISE, WITHIN_NOISE
from sgzone.review.why import largest_causes
from sgzone.terms import CAUSE_WORDS, part_words, zone_words
from sgzone.units import M_PER_YD

Words = tuple[str, ...]

READ_WHY = (
    "Bars: what each cause costs a shot, split by proximity and missed greens; right of the line "
    "costs. Dot and line: their sum with its interval.",
    "Causes add up to the total. A bar to the left is a real saving and is not cut off.",
)
READ_MISS = (
    "Distance from the hole (cross), seen along the line of the shot. The lines hold half and 80% "
    "of a normal pattern.",
)
READ_HOURS = ("Dot: the share of the hours, with its 90% interval. Ring: in proportion to loss.",)
READ_HOURS_NOW = ("Bar: the hours now, by the practice log.",)
READ_TREND = (
    "Points: rounds. Line: smoothed, with its interval in grey. Above nought gains strokes.",
)
WHY_RESTS = (
    "The benchmark's own spread is modelled, with an assumed ratio of side to depth; sgzone why "
    "--detail ratio shows how much hangs on it.",
)
NO_WHY = (
    "Too few strokes say where the ball finished, short or long and left or right (depth_ft and "
    "side_ft of the card), to say why: 30 a part are needed."
)
NO_MISSES = (
    "No stroke says where the ball finished, short or long and left or right (depth_ft and side_ft "
    "of the card), so misses cannot be drawn."
)
NO_PLAN = "There are too few strokes to plan from: a plan needs at least 10 over 5 rounds."
AGREE = "Three things to agree on between coach and player. From these strokes, to start with:"
AGREE_NOTHING = (
    "These strokes do not single anything out. Agree what to measure next: distances first, then "
    "where balls finish, short or long and left or right."
)


def agree_lead(
    parts: pd.DataFrame, why: pd.DataFrame, plan: Plan | None, units: str = "yards"
) -> Words:
    """Return what the strokes suggest to talk about, at most three proposals."""
    causes = largest_causes(why) if len(why) else {}
    words, proposals = part_words(units), []
    if plan is not None and not plan.no_loss:
        verdicts = dict(zip(parts["part"], parts["verdict"], strict=True))
        order = plan.table.assign(role=plan.roles).sort_values(
            "share", ascending=False, kind="stable"
        )
        for part, role in zip(order["part"], order["role"], strict=True):
            verdict = verdicts.get(part, "")
            if role == "priority" and verdict.endswith("loss"):
                cause = f", most by its {CAUSE_WORDS[causes[part]]}" if part in causes else ""
                proposals.append(f"{words[part]} ({verdict}{cause})")
    if not proposals:
        return (AGREE_NOTHING,)
    return (f"{AGREE} {listed(proposals)}.",)


def level_note(parts: pd.DataFrame, units: str = "yards") -> Words:
    """Return what to leave alone because it is level."""
    names = [part_words(units)[p] for p in parts.loc[parts["verdict"] == "level", "part"]]
    return (f"Leave alone, it is level: {listed(names)}.",) if names else ()


def why_lead(why: pd.DataFrame, units: str = "yards") -> Words:
    """Return the largest cause of each part that has the shots to name one."""
    causes = largest_causes(why)
    if not causes:
        return ("No part has the 80 shots with direction that naming a largest cause needs.",)
    totals = why[why["column"] == "total"].set_index(["part", "factor"])["loss_per_round"]
    said = [
        f"{part_words(units)[part]}: {CAUSE_WORDS[factor]}, "
        f"{number(totals[part, factor], 2)} of {number(totals[part, 'total'], 2)} strokes a round"
        for part, factor in causes.items()
    ]
    first = "; ".join(said)
    return (f"The largest cause, where it can be named. {first[0].upper()}{first[1:]}.",)


def cause_alt(rows: pd.DataFrame) -> str:
    """Return one part's causes in words."""
    sums = rows[rows["column"] == "total"]
    said = [
        f"{CAUSE_WORDS[factor]} {number(value, 3, signed=True)}"
        for factor, value in zip(sums["factor"], sums["loss_per_shot"], strict=True)
    ]
    return f"Bars of strokes lost per shot by cause: {'; '.join(said)}."


def miss_alt(group: str, points: pd.DataFrame, units: str) -> str:
    """Return one miss map in words."""
    depth, side = points["depth_ft"], points["side_ft"]
    return (
        f"Finish of {count(len(points), 'shot')}, {part_words(units).get(group, group)}: "
        f"{(depth < 0).mean():.0%} short, {(side < 0).mean():.0%} left; median "
        f"{short_length(abs(depth).median(), units)} long or short, "
        f"{short_length(abs(side).median(), units)} wide."
    )


def trend_lead(trend: pd.DataFrame, units: str = "yards") -> Words:
    """Return whether the season shows more than noise."""
    if trend.empty:
        return ("There are no rounds to follow.",)
    last = trend.drop_duplicates("part", keep="last").set_index("part")
    moved = last[last["verdict"] == MORE_THAN_NOISE]
    if moved.empty:
        words = "not enough rounds" if last["change"].isna().all() else "no more than noise"
        return (f"From first round to last: {words}.",)
    said = [
        f"{part_words(units).get(str(part), str(part))} {number(row['change'], 2, signed=True)} "
        f"({number(row['change_low'], 2, signed=True)} to "
        f"{number(row['change_high'], 2, signed=True)}) strokes a round"
        for part, row in moved.iterrows()
    ]
    return (f"More than noise from first round to last: {listed(said)}.",)


def trend_notes(trend: pd.DataFrame, level: float, units: str = "yards") -> Words:
    """Return why an interval can leave out 0 and yet be no more than noise, where one does."""
    last = trend.drop_duplicates("part", keep="last")
    beyond = (last["change_low"] > 0) | (last["change_high"] < 0)
    names = last.loc[beyond & (last["verdict"] == WITHIN_NOISE), "part"]
    if names.empty:
        return ()
    words = part_words(units)
    said = listed([words.get(part, part) for part in names])
    return (
        f"The interval of {said} leaves out 0, and it is still no more than noise: {1 - level:.0%} "
        f"of such intervals leave it out by luck alone, and {WITHIN_NOISE} means that luck goes so "
        f"far in more than {CHANCE:.0%} of seasons once every part has been looked at.",
    )


def trend_alt(rows: pd.DataFrame) -> str:
    """Return the season's curve in words."""
    known = rows["smoothed"].dropna()
    if known.empty:
        return f"{count(len(rows), 'round')}, too few to smooth."
    return (
        f"Strokes gained per round over {count(len(rows), 'round')}, smoothed from "
        f"{number(known.iloc[0], 1, signed=True)} to {number(known.iloc[-1], 1, signed=True)}."
    )


HOURS_FROM = {
    "asked": "",
    "log": ", as in the practice log's last weeks,",
    "example": " (an example: there is no practice log)",
}


def plan_lead(plan: Plan, level: float, units: str = "yards", hours_from: str = "asked") -> Words:
    """Return the plan in sentences: the hours, what is too close, what it may bring.

    ``hours_from``: see ``gather.hours_to_plan``.
    """
    row = plan.alternatives[plan.alternatives["split"] == "plan"]
    value, low, high = (float(row[name].iloc[0]) for name in ("strokes_per_round", "low", "high"))
    gain = estimate(value, low, high, level)
    said = [
        f"For {plan.hours:g} hours a week{HOURS_FROM[hours_from]} over {plan.weeks:g} weeks. "
        f"Assumptions, not promises: if they hold, the plan wins back {gain} strokes a round (90% "
        "in brackets).",
    ]
    if plan.no_loss:
        return (*said, "No part loses strokes to this level: the hours are split equally.")
    tied = [part_words(units)[p] for p in plan.table.loc[plan.table["tied"], "part"]]
    if len(tied) > 1:
        said.append(f"Too close to separate for first place: {listed(tied)}.")
    behind = behind_words(plan)
    if plan.no_better and not behind:
        said.append("The plan is no better than hours in proportion to the losses.")
    return (*said, *behind)


def hours_alt(plan: Plan, units: str = "yards") -> str:
    """Return the chart of hours in words."""
    said = [
        f"{part_words(units)[part]} {share:.0%} ({low:.0%} to {high:.0%})"
        for part, share, low, high in zip(
            *(plan.table[name] for name in ("part", "share", "share_low", "share_high")),
            strict=True,
        )
    ]
    return f"Recommended share of the practice hours: {'; '.join(said)}."


READ_LADDER = (
    "Each line: the carry of a stock swing, the median with its interval. Wide gaps and overlaps "
    "are marked; unclear: two swings not shown to be apart.",
)
READ_NUMBERS = (
    "Line: the swing with the fewest strokes to hole out from each number, named where it changes; "
    "the other marks are the second and third.",
    "From the fairway, no wind, to the middle of a usual green: another pin is another sheet.",
    "Where marks lie on one another it hardly matters what is hit.",
)
CLUBS_REST = "sgzone number 97 says which of these swings to hit at a number, and where to land it."
MOST_GAPS = 10  # named in one sentence
NO_CLUBS = (
    "No stroke says with which club and swing it was hit and how far it carried (club, swing and "
    "carry_yd of the card), so stock swings cannot be shown."
)


def clubs_lead(ladder: pd.DataFrame, cover: pd.DataFrame, units: str) -> Words:
    """Return the ladder in sentences: how many swings, the wide gaps, what nothing fits."""
    said = [f"{count(len(ladder), 'stock swing')} from course shots, shortest first."]
    wide = ladder[ladder["step"] == WIDE_GAP]
    if len(wide):
        names = [
            f"after {club} {swing}".rstrip() + f" ({_yards(gap, units)})"
            for club, swing, gap in zip(wide["club"], wide["swing"], wide["gap_yd"], strict=True)
        ]
        more = [f"{len(names) - MOST_GAPS} more"] if len(names) > MOST_GAPS else []
        said.append(f"Wide gaps: {listed([*names[:MOST_GAPS], *more])}.")
    strokes = int(cover["strokes"].sum()) if len(cover) else 0
    if strokes:
        bare = int(cover["uncovered"].sum())
        said.append(
            f"{bare} of {count(strokes, 'stroke')} from {_reach(units)} started at a number with "
            f"no stock swing within {_yards(COVER_YD, units)}."
        )
    return tuple(said)


def clubs_more(left_out: int) -> Words:
    """Return the sentence about swings that the page leaves out, none where it has all."""
    if not left_out:
        return ()
    return (
        f"The swings with most shots are shown; {thousands(left_out)} more with fewer shots are "
        "left out. sgzone clubs lists them all.",
    )


def numbers_alt(numbers: pd.DataFrame, units: str) -> str:
    """Return the best swing of each number in words."""
    best = numbers[numbers["rank"] == 1]
    said = [
        f"{_yards(yards, units)} {club} {swing}".rstrip() + f" {number(strokes, 2)}"
        for yards, club, swing, strokes in zip(
            *(best[name] for name in ("number_yd", "club", "swing", "expected_strokes")),
            strict=True,
        )
    ]
    return f"Strokes to hole out by number, with the best swing: {'; '.join(said)}."


def ladder_alt(ladder: pd.DataFrame, units: str) -> str:
    """Return the ladder in words."""
    said = [
        f"{club} {swing} {_yards(carry, units)} (n {shots})"
        for club, swing, carry, shots in zip(
            *(ladder[name] for name in ("club", "swing", "carry_yd", "shots")), strict=True
        )
    ]
    return f"Carries of the stock swings: {'; '.join(said)}."


def _reach(units: str) -> str:
    """Return the numbers a stock swing is for."""
    near = f"{number(FROM_YD * M_PER_YD, 0)}" if units == "metric" else f"{FROM_YD:.0f}"
    return f"{near} to {zone_words(units)}"


def _yards(value: float, units: str) -> str:
    if units == "metric":
        return f"{number(value * M_PER_YD, 0)} m"
    return f"{number(value, 0)} yd"
