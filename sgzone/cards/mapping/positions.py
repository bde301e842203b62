"""Columns of positions made columns of a card: distance, depth and side of every stroke."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.mapping.geodesy import measures
from sgzone.cards.mapping.headers import MEASURES, Places
from sgzone.cards.mapping.sheet import Sheet
from sgzone.terms import HOLED, MAX_OFF_GREEN_FT
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from sgzone.cards.mapping.geodesy import Degrees

_LIMITS = {"latitude": 90, "longitude": 180}
_DEGREES = r"^[+-]?\d{1,5}(\.\d*)?$"
_DECIMALS = 3  # of a foot: far finer than any position is taken
_HOLE = ("player", "date", "round", "hole")
_NO_PENALTY = ("", "0", "0.0")


def add_measures(sheet: Sheet, places: Places) -> None:
    """Give a table the measures of its strokes that it has positions for and no column.

    A stroke ends where its column of finishes says, else at the next ball of the same hole; in
    the hole if it was holed. After a penalty the next ball says nothing of the stroke.
    """
    wanted = [name for name in MEASURES if name not in sheet.columns]
    if "finish" in places.positions and "to_lie" in sheet.columns:
        wanted += ["to_distance"] if "to_distance" not in sheet.columns else []
    if not places.positions or not wanted:
        return
    read = {of: _positions(sheet, of, pair) for of, pair in places.positions.items()}
    ball, pin = read["ball"], read["pin"]
    following = _next_balls(sheet, ball)
    finish = read.get("finish")
    if finish is None:
        finish = following.copy()
        finish[~_is_one_of(sheet, "penalty", _NO_PENALTY, missing=True)] = np.nan
    holed = _is_one_of(sheet, "result", (HOLED,), missing=False)
    holed |= _is_one_of(sheet, "to_lie", (HOLED,), missing=False)
    finish[holed] = pin[holed]
    feet = measures(ball, pin, finish)
    _refuse_far(sheet, feet)
    found = dict(zip(MEASURES, feet.T, strict=True))
    away = np.hypot(found["depth_ft"], found["side_ft"])
    # where a row follows it says so itself, and two positions of one ball never agree
    found["to_distance"] = np.where(np.isnan(following[:, 0]), away, np.nan)
    for name in wanted:
        unit = " ft" if name.endswith("distance") else ""
        column = found[name]
        sheet.columns[name] = [f"{v:.{_DECIMALS}f}{unit}" if v == v else "" for v in column]


def _positions(sheet: Sheet, of: str, pair: tuple[int, int]) -> Degrees:
    """Return positions, shape (rows, 2); NaN where there is none. What is no position is told."""
    texts = [sheet.theirs[place] for place in pair]
    read = [_degrees(sheet, of, spot, cells) for spot, cells in zip(_LIMITS, texts, strict=True)]
    blank = np.array([[not cell.strip() for cell in cells] for cells in texts])
    found = np.column_stack(read)
    both = [", ".join(cells) for cells in zip(*texts, strict=True)]
    for faulty, wrong in (
        (blank[0] != blank[1], f"half a position of the {of}: one of two cells is blank"),
        ((found == 0).all(axis=1), f"0, 0 is far out at sea: no position of the {of} was taken"),
    ):
        fix = "Write both cells, or leave both blank."
        sheet.faults("positions", np.flatnonzero(faulty).tolist(), both, wrong, fix)
        found[faulty] = np.nan
    return found


def _degrees(sheet: Sheet, of: str, spot: str, cells: Sequence[str]) -> NDArray[np.float64]:
    text = pc.replace_substring(pc.utf8_trim_whitespace(pa.array(cells, pa.string())), ",", ".")
    written = pc.match_substring_regex(text, _DEGREES)
    found: NDArray[np.float64] = (
        pc.if_else(written, text, None).cast(pa.float64()).to_numpy(zero_copy_only=False).copy()
    )
    unread = ~written.to_numpy(zero_copy_only=False) & (text.to_numpy(zero_copy_only=False) != "")
    fix = "Write degrees with decimals, north and east without a sign, such as 48.137154."
    sheet.faults("positions", np.flatnonzero(unread).tolist(), cells, f"no {spot} of the {of}", fix)
    outside = np.abs(found) > _LIMITS[spot]
    wrong = f"a {spot} is from -{_LIMITS[spot]} to {_LIMITS[spot]} degrees"
    fix = "Check it; in the mapping latitude comes before longitude."
    sheet.faults("positions", np.flatnonzero(outside).tolist(), cells, wrong, fix)
    found[outside] = np.nan
    return found


def _next_balls(sheet: Sheet, ball: Degrees) -> Degrees:
    """Return where the next stroke of the same hole was played from; NaN for the last one."""
    rows = len(sheet.rows)
    keys = [_codes(sheet.columns[name]) for name in _HOLE if name in sheet.columns]
    shot = _numbers(sheet.columns["shot"]) if "shot" in sheet.columns else np.zeros(rows)
    order = np.lexsort((np.arange(rows), shot, *keys))
    same = np.ones(max(rows - 1, 0), dtype=bool)
    for codes in keys:
        same &= codes[order][1:] == codes[order][:-1]
    found = np.full_like(ball, np.nan)
    found[order[:-1][same]] = ball[order[1:][same]]
    return found


def _codes(cells: Sequence[str]) -> NDArray[np.int64]:
    """Return a number for each value; a blank cell has that of the one above."""
    text = pc.utf8_trim_whitespace(pa.array(cells, pa.string()))
    filled = pc.fill_null_forward(pc.if_else(pc.equal(text, ""), None, text))
    codes: NDArray[np.int64] = (
        pc.fill_null(filled, "").dictionary_encode().indices.to_numpy().astype(np.int64)
    )
    return codes


def _numbers(cells: Sequence[str]) -> NDArray[np.float64]:
    text = pc.utf8_trim_whitespace(pa.array(cells, pa.string()))
    number = pc.if_else(pc.match_substring_regex(text, r"^\d{1,9}(\.0*)?$"), text, None)
    found: NDArray[np.float64] = number.cast(pa.float64()).to_numpy(zero_copy_only=False)
    return found


def _is_one_of(
    sheet: Sheet, name: str, words: Sequence[str], *, missing: bool
) -> NDArray[np.bool_]:
    """Return which cells of a column are one of some words; ``missing`` without that column."""
    if name not in sheet.columns:
        return np.full(len(sheet.rows), missing)
    text = pc.utf8_lower(pc.utf8_trim_whitespace(pa.array(sheet.columns[name], pa.string())))
    found: NDArray[np.bool_] = pc.is_in(text, pa.array(words)).to_numpy(zero_copy_only=False)
    return found


def _refuse_far(sheet: Sheet, feet: NDArray[np.float64]) -> None:
    """Tell distances that nobody plays, and blank them."""
    far = np.flatnonzero(feet[:, 0] > MAX_OFF_GREEN_FT)
    shown = [f"{yards:.0f} yd" for yards in feet[:, 0] / FT_PER_YD] if len(far) else []
    wrong = "ball and pin are farther apart than any shot"
    fix = "Check both positions; in the mapping latitude comes before longitude."
    sheet.faults("positions", far.tolist(), shown, wrong, fix)
    feet[far] = np.nan
