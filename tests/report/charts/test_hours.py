"""The chart of hours has the share now and the suggested one, or says which it lacks."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.practice.plan import Plan, plan_from
from sgzone.report.charts import hours_chart
from sgzone.report.sections.practice import keys
from sgzone.words.practice import READ_HOURS_ALONE, READ_HOURS_NOW, read_hours
from tests.practice.players import certain, losses
from tests.report.charts.drawn import layers, rows, tooltips


def _plan(*, log: bool) -> Plan:
    now = {"now": np.array([8.0, 24.0])} if log else {}
    return plan_from(losses([0.8, 0.4]), 8, 5, certain(2), **now)


def test_both_shares_are_drawn_and_written() -> None:
    plan = _plan(log=True)
    spec = hours_chart(plan.table).to_dict()
    span, suggested, now, numbers = layers(spec)
    fields = [layer["encoding"]["x"]["field"] for layer in (span, suggested, now, numbers)]
    assert fields == ["share_low", "share", "share_now", "end"]
    assert span["mark"]["opacity"] < 0.5
    assert (suggested["mark"]["filled"], now["mark"].get("filled")) == (True, None)
    drawn = rows(spec, spec)
    assert drawn["share_now"].to_numpy() == pytest.approx([0.25, 0.75])
    assert drawn["share"].to_numpy() == pytest.approx(plan.table["share"].to_numpy())
    shown = [5 * round(20 * share) for share in plan.table["share"]]
    assert list(drawn["number"]) == [f"25 → {shown[0]}%", f"75 → {shown[1]}%"]
    ends = plan.table[["share", "share_high", "share_now"]].max(axis=1)
    assert drawn["end"].to_numpy() == pytest.approx(ends.to_numpy())
    assert {"now", "share of hours"} <= tooltips(spec)
    assert [key.words for key in keys(plan)] == ["now, by the log", "suggested", "its range"]
    assert READ_HOURS_NOW in read_hours(plan)


def test_without_a_log_the_suggested_share_stands_alone_and_that_is_said() -> None:
    plan = _plan(log=False)
    spec = hours_chart(plan.table).to_dict()
    assert len(layers(spec)) == 3
    assert "share_now" not in rows(spec, spec)
    assert all("→" not in number for number in rows(spec, spec)["number"])
    assert [key.words for key in keys(plan)] == ["suggested", "its range"]
    assert READ_HOURS_ALONE in read_hours(plan)
