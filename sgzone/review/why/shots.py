"""The strokes of one part as arrays: what each lost by column, and what is known of its miss."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.review.why.reference import UNSPLIT_LIES, ReferenceModel, putts_from
from sgzone.terms import FRINGE, HOLED

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def missed_green(end_lie: pd.Series[str]) -> Bools:
    """Return which strokes ended neither on the green nor in the hole."""
    return ~end_lie.isin(["green", HOLED]).to_numpy(bool)


@dataclass(frozen=True, slots=True)
class Shots:
    """The strokes of one part as arrays of shape (n,), lengths in feet.

    ``loss``: (n, 2), strokes by column (proximity, missed green), penalties apart. ``target``: what
    the benchmark's misses are worth, balls it holes counted as a putt from the hole's edge, which
    is ``holed_out`` of them. ``saved``: that putt for each of the player's own that went in.
    ``fringe``: struck from there, where a putter is as likely as a swing, so without a split.
    ``round``: 0 to G - 1.
    """

    lie: NDArray[np.object_]
    distance: Floats
    depth: Floats
    side: Floats
    known: Bools  # direction recorded, not from the fringe
    fringe: Bools
    off: Bools
    loss: Floats
    penalty: Floats
    target: Floats
    holed_out: Floats
    saved: Floats
    round: NDArray[np.intp]

    @property
    def rounds(self) -> int:
        """How many rounds they come from."""
        return int(self.round.max()) + 1

    @property
    def has_columns(self) -> bool:
        """Whether the part is played at the green: putts and blocked shots are not."""
        return not bool(np.isin(self.lie, UNSPLIT_LIES).any())


def part_shots(rows: pd.DataFrame, model: ReferenceModel) -> Shots:
    """Return the scored strokes of one part (columns of ``scoring.gained.scored``)."""

    def numbers(name: str) -> Floats:
        return rows[name].to_numpy(float)

    lie = rows["lie"].to_numpy(object)
    end, after = numbers("end_distance_ft"), numbers("expected_after")
    in_hole = (rows["end_lie"] == HOLED).to_numpy(bool)
    putts = np.where(in_hole, 0.0, putts_from(model.benchmark, end, model.assumptions))
    _, missed = model.columns(lie, numbers("distance_ft"))
    split_at_all = np.isfinite(missed) & np.isfinite(putts)
    putts, missed = np.where(split_at_all, putts, after), np.where(split_at_all, missed, 0.0)
    before = numbers("expected_before") - 1
    depth, side = numbers("depth_ft"), numbers("side_ft")
    unseen, fringe = np.isnan(depth) | np.isnan(side), lie == FRINGE
    # a holed ball's direction is known whether or not anybody wrote it down
    depth, side = (np.where(unseen & in_hole, 0.0, axis) for axis in (depth, side))
    holed_out = model.holed(lie, numbers("distance_ft"))
    edge = model.table(np.where(in_hole, np.hypot(depth, side), 0.0)).sum(axis=0)
    return Shots(
        lie=lie,
        distance=numbers("distance_ft"),
        depth=depth,
        side=side,
        known=split_at_all & ~fringe & ~(unseen & ~in_hole),
        fringe=fringe,
        off=missed_green(rows["end_lie"]),
        loss=np.column_stack([putts - (before - missed), after - putts - missed]),
        penalty=numbers("penalty"),
        target=before + holed_out,
        holed_out=holed_out,
        saved=np.where(in_hole, edge, 0.0),
        # as they were played: by key, a bootstrap would hang on which card was loaded first
        round=pd.factorize(rows["round_key"])[0],
    )
