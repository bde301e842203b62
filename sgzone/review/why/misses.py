"""The miss that hurts: how often the ball finishes on each side of the hole, and what it costs."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.bounds import bounded
from sgzone.review.where.enough import enough
from sgzone.review.why.shots import missed_green
from sgzone.stats.cluster import means
from sgzone.stats.contours import SHARES, contour
from sgzone.terms import DEFAULT_LEVEL, MIN_SHOTS, NOT_ENOUGH, PARTS
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

POINT_COLUMNS = ["group", "depth_ft", "side_ft", "end", "stroke"]
CONTOUR_COLUMNS = ["group", "share", "step", "depth_ft", "side_ft", "shots"]
_CORNERS = 73

MISSES = ("long-left", "long-right", "short-left", "short-right")
SHORT_SIDED, WIDE_SIDED = "short-sided", "room to the pin"
MISS_COLUMNS = ["part", "miss", "share", "loss_per_shot", "low", "high", "shots", "rounds", "note"]

SHORT_SIDE_SHARE = 1 / 3
"""A pin is close to an edge in the third of the green next to it: common practice, no source."""

_OFF_GREEN_PARTS = [part.name for part in PARTS if "green" not in part.lies]
_EDGES = ("long", "short", "right", "left")


@bounded
def misses(frame: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return share and mean cost of the four misses by part, from scored strokes.

    ``frame``: columns of ``scoring.gained.scored``. Rows: ``MISS_COLUMNS``; ``share`` of the
    part's shots with direction; ``loss_per_shot`` mean strokes lost, with ``low`` and ``high``
    at ``level``, which are missing where ``note`` says there are too few shots. A ball level with
    the hole counts as long or right; a holed one as no miss.
    """
    rows = _off_green(frame)
    rows = rows[rows["depth_ft"].notna() & rows["side_ft"].notna() & (rows["end_distance_ft"] > 0)]
    long, right = rows["depth_ft"].to_numpy() >= 0, rows["side_ft"].to_numpy() >= 0
    place = np.where(long, "long", "short") + np.where(right, "-right", "-left").astype(object)
    return _table(rows.assign(miss=place), MISSES, level)


@bounded
def short_sided(frame: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return share and mean cost of missed greens, short-sided or with room to the pin, by part.

    Needs direction and the pin sheet of both axes. A ball is short-sided when it missed the
    green over an edge that the pin stands close to: in the third of the green next to it. The
    edge it missed over is the one it is farthest beyond.
    """
    rows = _off_green(frame)
    need = ["depth_ft", "side_ft", "pin_on_yd", "green_deep_yd", "pin_left_yd", "green_wide_yd"]
    rows = rows[missed_green(rows["end_lie"]) & rows[need].notna().all(axis=1)]
    to_edge, size = _pin_to_edges(rows)
    depth, side = rows["depth_ft"].to_numpy(float), rows["side_ft"].to_numpy(float)
    beyond = np.column_stack([depth, -depth, side, -side]) - to_edge
    over = np.argmax(beyond, axis=1)
    at = np.arange(len(rows))
    close = to_edge[at, over] <= SHORT_SIDE_SHARE * size[at, over]
    side_words = np.where(close, SHORT_SIDED, WIDE_SIDED)
    return _table(rows.assign(miss=side_words), (SHORT_SIDED, WIDE_SIDED), level)


def miss_points(frame: pd.DataFrame, by: str = "part") -> pd.DataFrame:
    """Return where strokes off the green with direction finished, feet from the hole.

    ``by``: a column of ``scoring.gained.scored`` (part, club, ...) that becomes ``group``.
    ``end``: ``green`` or ``missed``; holed balls lie at 0, 0. ``stroke``: its index in ``frame``.
    """
    rows = _off_green(frame)
    rows = rows[rows["depth_ft"].notna() & rows["side_ft"].notna() & rows[by].notna()]
    end = np.where(missed_green(rows["end_lie"]), "missed", "green")
    return rows.assign(group=rows[by], end=end, stroke=rows.index)[POINT_COLUMNS].reset_index(
        drop=True
    )


def miss_contours(points: pd.DataFrame) -> pd.DataFrame:
    """Return contours of a normal pattern fitted to the points of each group, corner by corner.

    ``share`` of a normal pattern lies inside; ``step`` orders the corners; ``shots`` is the
    group's. Groups under ``MIN_SHOTS`` points have none.
    """
    tables = []
    for group, rows in points.groupby("group", sort=False):
        if len(rows) < MIN_SHOTS:
            continue
        at = rows[["depth_ft", "side_ft"]].to_numpy(float).T
        for share in SHARES:
            depth, side = contour(at.mean(axis=1), np.cov(at), share, _CORNERS)
            corners = {"step": range(_CORNERS), "depth_ft": depth, "side_ft": side}
            tables.append(
                pd.DataFrame({"group": group, "share": share, **corners, "shots": len(rows)})
            )
    return pd.concat(tables)[CONTOUR_COLUMNS] if tables else pd.DataFrame(columns=CONTOUR_COLUMNS)


def _off_green(frame: pd.DataFrame) -> pd.DataFrame:
    return frame[(frame["status"] == "scored") & frame["part"].isin(_OFF_GREEN_PARTS)]


def _pin_to_edges(rows: pd.DataFrame) -> tuple[Floats, Floats]:
    """Return feet from the pin to each of ``_EDGES`` and the green's size that way, (n, 4)."""
    on, deep, left, wide = (
        rows[name].to_numpy(float) * FT_PER_YD
        for name in ("pin_on_yd", "green_deep_yd", "pin_left_yd", "green_wide_yd")
    )
    return np.column_stack([deep - on, on, wide - left, left]), np.column_stack(
        [deep, deep, wide, wide]
    )


def _table(rows: pd.DataFrame, kinds: tuple[str, ...], level: float) -> pd.DataFrame:
    """Return one row per part and kind, kinds that did not happen included with share 0."""
    parts = [part for part in _OFF_GREEN_PARTS if (rows["part"] == part).any()]
    keys = pd.MultiIndex.from_product([parts, kinds], names=["part", "miss"])
    cell = keys.get_indexer(pd.MultiIndex.from_frame(rows[["part", "miss"]]))
    found = means(cell, rows["round_key"], -rows["gained"], len(keys), level)
    table = keys.to_frame(index=False)
    table["shots"] = np.bincount(cell, minlength=len(keys))
    whole = table.groupby("part")["shots"].transform("sum")
    ready = enough(table["shots"], found.rounds)
    return table.assign(
        share=table["shots"] / whole,
        loss_per_shot=found.estimate,
        low=np.where(ready, found.low, np.nan),
        high=np.where(ready, found.high, np.nan),
        rounds=found.rounds,
        note=np.where(ready, "", NOT_ENOUGH),
    )[MISS_COLUMNS]
