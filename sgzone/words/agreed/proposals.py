"""What the strokes propose to agree on."""

from __future__ import annotations

from collections.abc import Collection

import pandas as pd

from sgzone.practice.plan import PRIORITY, Plan
from sgzone.review.why.split import sure_causes
from sgzone.stats.verdict import LEVEL, LOSS, side_of
from sgzone.terms import CAUSE_WORDS
from sgzone.words.digits import listed, rows
from sgzone.words.say import Say, Words

FIRST = "From these strokes, to start with:"

NOTHING = (
    "These strokes do not single anything out. Agree what to measure next: distances first, then "
    "where balls finish, short or long and left or right."
)

NO_MORE = "Beside what is agreed these strokes single out nothing."


def proposals_lead(
    parts: pd.DataFrame,
    why: pd.DataFrame,
    plan: Plan | None,
    say: Say,
    *,
    most: int = 3,
    but: Collection[str] = (),
) -> Words:
    """Return what the strokes suggest to talk about, at most so many proposals.

    ``but``: parts that an open agreement is about already.
    """
    causes = sure_causes(why) if len(why) else {}
    proposals = []
    if plan is not None and not plan.no_loss:
        verdicts = dict(zip(parts["part"], parts["verdict"], strict=True))
        order = plan.table.assign(role=plan.roles).sort_values(
            "share", ascending=False, kind="stable"
        )
        for row in rows(order[order["role"] == PRIORITY]):
            verdict = verdicts.get(row.part, "")
            if side_of(verdict) == LOSS and row.part not in but:
                cause = causes.get(row.part)
                more = f", main cause {CAUSE_WORDS[cause]}" if cause else ""
                proposals.append(f"{say.parts[row.part]} ({verdict}{more})")
    if not proposals:
        return (NO_MORE if but else NOTHING,)
    return (f"{FIRST} {listed(proposals[:most])}.",)


def level_note(parts: pd.DataFrame, say: Say) -> Words:
    """Return what to leave alone because it is level."""
    names = [say.parts[p] for p in parts.loc[parts["verdict"] == LEVEL, "part"]]
    return (f"Leave alone, it is level: {listed(names)}.",) if names else ()
