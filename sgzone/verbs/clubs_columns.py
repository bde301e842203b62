"""The headings of the printed tables about clubs."""

from __future__ import annotations

from sgzone.verbs.show import Column

LADDER = {
    "club": Column("club"),
    "swing": Column("swing"),
    "carry_yd": Column("carry, yd", 0),
    "low": Column("low", 0, length="yd"),
    "high": Column("high", 0, length="yd"),
    "meant_yd": Column("meant, yd", 0),
    "shots": Column("shots"),
    "depth_sd_ft": Column("spread short/long, ft", 0),
    "side_sd_ft": Column("spread left/right, ft", 0),
    "spread_shots": Column("shots"),
    "mishit_share": Column("mishits, share", 2),
    "release_yd": Column("release, yd", 0, signed=True),
    "gap_yd": Column("to the next, yd", 0),
    "step": Column("step"),
    "note": Column("note"),
}
COVER = {
    "from_yd": Column("from, yd", 0),
    "to_yd": Column("to, yd", 0),
    "strokes": Column("strokes"),
    "uncovered": Column("no stock swing"),
    "nearest_club": Column("nearest"),
    "nearest_swing": Column("swing"),
    "nearest_yd": Column("its number, yd", 0),
}
CONSISTENCY = {
    "club": Column("club"),
    "swing": Column("swing"),
    "carry_yd": Column("carry, yd", 0),
    "carry_yd_sd": Column("sd", 1, length="yd"),
    "carry_yd_shots": Column("shots"),
    "launch_deg": Column("launch, deg", 1),
    "launch_deg_sd": Column("sd", 1),
    "launch_deg_shots": Column("shots"),
    "spin_rpm": Column("spin, rpm", 0),
    "spin_rpm_sd": Column("sd", 0),
    "spin_rpm_shots": Column("shots"),
    "note": Column("note"),
}
_PAIR = {
    "first": Column("first"),
    "second": Column("second"),
    "difference": Column("second - first, strokes", 3, signed=True),
    "low": Column("low", 3, signed=True),
    "high": Column("high", 3, signed=True),
    "p_better": Column("P(second better)", 2),
    "verdict": Column("verdict"),
    "shots_first": Column("shots, first"),
    "shots_second": Column("shots, second"),
    "shots_to_settle": Column("shots each to settle", 0),
    "note": Column("note"),
}
QUESTIONS = {"question": Column("question"), **_PAIR}
CHANGES = {"club": Column("club"), **_PAIR}
BAG = {
    "club": Column("club"),
    "loft_deg": Column("loft, deg", 0),
    "bounce_deg": Column("bounce, deg", 0),
    "in_play_from": Column("in play from"),
    "in_play_to": Column("to"),
    "months": Column("months", 1),
    "shots": Column("shots"),
    "sand_shots": Column("from sand"),
    "practice_balls": Column("practice balls"),
    "reminder": Column("reminder"),
}
WEAR = {
    "club": Column("club"),
    "in_play_from": Column("in play from"),
    "measure": Column("measure"),
    "unit": Column("unit"),
    "per_100_shots": Column("change per 100 shots", 3, signed=True),
    "low": Column("low", 3, signed=True),
    "high": Column("high", 3, signed=True),
    "shots": Column("shots"),
    "rounds": Column("rounds"),
    "note": Column("note"),
}
NUMBER = {
    "club": Column("club"),
    "swing": Column("swing"),
    "played": Column("played"),
    "landing_yd": Column("land it, yd", 0),
    "side_aim_ft": Column("aim (right +), ft", 0, signed=True),
    "expected_strokes": Column("strokes to hole out", 2),
    "difference": Column("more than the best", 2),
    "low": Column("low", 2, signed=True),
    "high": Column("high", 2, signed=True),
    "depth_sd_ft": Column("spread short/long, ft", 0),
    "spread_cost_ft": Column("of it for moving, ft", 1),
    "side_sd_ft": Column("spread left/right, ft", 0),
    "shots": Column("shots"),
    "verdict": Column("verdict"),
    "note": Column("note"),
}
SHEET = {"number_yd": Column("number, yd", 0), **NUMBER}
