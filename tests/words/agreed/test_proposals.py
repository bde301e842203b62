"""What the strokes propose to agree on: so many, none twice, and that nothing is found."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pandas as pd

from sgzone.practice.plan import PRIORITY, Plan
from sgzone.words.agreed.proposals import NO_MORE, NOTHING, level_note, proposals_lead
from sgzone.words.say import Say

PARTS = ["chip_0_30", "wedge_50_100", "putt_0_10", "sand_0_50"]
VERDICTS = ["clear loss", "probable loss", "clear loss", "level"]
TABLE = pd.DataFrame({"part": PARTS, "verdict": VERDICTS})
NO_CAUSES = pd.DataFrame()


def plan(*, no_loss: bool = False) -> Plan:
    table = pd.DataFrame({"part": PARTS, "share": [0.2, 0.4, 0.3, 0.1]})
    roles = [PRIORITY] * 3 + ["keep up"]
    return cast(Plan, SimpleNamespace(no_loss=no_loss, table=table, roles=roles))


def lead(**more: Any) -> str:
    [told] = proposals_lead(TABLE, NO_CAUSES, plan(), Say(), **more)
    return told


def test_the_largest_share_comes_first_and_no_more_than_asked() -> None:
    three = "wedge 50-100 yd (probable loss), putts 0-10 ft (clear loss) and chip 0-30 yd"
    assert lead() == f"From these strokes, to start with: {three} (clear loss)."
    assert lead(most=1).endswith("with: wedge 50-100 yd (probable loss).")


def test_what_is_agreed_is_left_out() -> None:
    told = "From these strokes, to start with: putts 0-10 ft (clear loss)."
    assert lead(most=1, but={"wedge_50_100"}) == told
    assert lead(but=set(PARTS)) == NO_MORE


def test_nothing_to_propose() -> None:
    assert proposals_lead(TABLE, NO_CAUSES, None, Say()) == (NOTHING,)
    assert proposals_lead(TABLE, NO_CAUSES, plan(no_loss=True), Say()) == (NOTHING,)


def test_what_is_level_is_left_alone() -> None:
    assert level_note(TABLE, Say()) == ("Leave alone, it is level: sand 0-50 yd.",)
    assert level_note(TABLE.iloc[:3], Say()) == ()
