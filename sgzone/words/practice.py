"""Sentences about what to agree and what to practise."""

from __future__ import annotations

import pandas as pd

from sgzone.practice.plan import Plan, behind_words
from sgzone.review.why.split import largest_causes
from sgzone.stats.verdict import LEVEL, LOSS, side_of
from sgzone.terms import CAUSE_WORDS
from sgzone.words.cautions import ASSUMPTIONS
from sgzone.words.digits import estimate, listed
from sgzone.words.say import Say

Words = tuple[str, ...]


READ_HOURS = ("Dot: the share of the hours, with its 90% interval. Ring: in proportion to loss.",)


READ_HOURS_NOW = ("Bar: the hours now, by the practice log.",)


NO_PLAN = "There are too few strokes to plan from: a plan needs at least 10 over 5 rounds."


AGREE = "Three things to agree on between coach and player. From these strokes, to start with:"


AGREE_NOTHING = (
    "These strokes do not single anything out. Agree what to measure next: distances first, then "
    "where balls finish, short or long and left or right."
)


SPLITS = f"What each split may win back. {ASSUMPTIONS}"


def agree_lead(parts: pd.DataFrame, why: pd.DataFrame, plan: Plan | None, say: Say) -> Words:
    """Return what the strokes suggest to talk about, at most three proposals."""
    causes = largest_causes(why) if len(why) else {}
    words, proposals = say.parts, []
    if plan is not None and not plan.no_loss:
        verdicts = dict(zip(parts["part"], parts["verdict"], strict=True))
        order = plan.table.assign(role=plan.roles).sort_values(
            "share", ascending=False, kind="stable"
        )
        for part, role in zip(order["part"], order["role"], strict=True):
            verdict = verdicts.get(part, "")
            if role == "priority" and side_of(verdict) == LOSS:
                cause = f", most by its {CAUSE_WORDS[causes[part]]}" if part in causes else ""
                proposals.append(f"{words[part]} ({verdict}{cause})")
    if not proposals:
        return (AGREE_NOTHING,)
    return (f"{AGREE} {listed(proposals)}.",)


def level_note(parts: pd.DataFrame, say: Say) -> Words:
    """Return what to leave alone because it is level."""
    names = [say.parts[p] for p in parts.loc[parts["verdict"] == LEVEL, "part"]]
    return (f"Leave alone, it is level: {listed(names)}.",) if names else ()


HOURS_FROM = {
    "asked": "",
    "log": ", as in the practice log's last weeks,",
    "example": " (an example: there is no practice log)",
}


def plan_lead(plan: Plan, say: Say, hours_from: str = "asked") -> Words:
    """Return the plan in sentences: the hours, what is too close, what it may bring.

    ``hours_from``: see ``gather.hours_to_plan``.
    """
    row = plan.alternatives[plan.alternatives["split"] == "plan"]
    value, low, high = (float(row[name].iloc[0]) for name in ("strokes_per_round", "low", "high"))
    gain = estimate(value, low, high, say.level)
    said = [
        f"For {plan.hours:g} hours a week{HOURS_FROM[hours_from]} over {plan.weeks:g} weeks. "
        f"Assumptions, not promises: if they hold, the plan wins back {gain} strokes a round (90% "
        "in brackets).",
    ]
    if plan.no_loss:
        return (*said, "No part loses strokes to this level: the hours are split equally.")
    tied = [say.parts[p] for p in plan.table.loc[plan.table["tied"], "part"]]
    if len(tied) > 1:
        said.append(f"Too close to separate for first place: {listed(tied)}.")
    behind = behind_words(plan)
    if plan.no_better and not behind:
        said.append("The plan is no better than hours in proportion to the losses.")
    return (*said, *behind)


def hours_alt(plan: Plan, say: Say) -> str:
    """Return the chart of hours in words."""
    said = [
        f"{say.parts[part]} {share:.0%} ({low:.0%} to {high:.0%})"
        for part, share, low, high in zip(
            *(plan.table[name] for name in ("part", "share", "share_low", "share_high")),
            strict=True,
        )
    ]
    return f"Recommended share of the practice hours: {'; '.join(said)}."
