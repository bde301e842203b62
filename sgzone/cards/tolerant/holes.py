"""Which hole a stroke belongs to and which of its strokes it is, where the card leaves it out."""

from __future__ import annotations

from contextlib import suppress

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from sgzone.cards.rules import NO_RESULT
from sgzone.cards.tolerant.coded import (
    coded,
    codes_of,
    from_codes,
    numbers_of,
    rows_with,
    texts_of,
)
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.runs import (
    HOLE,
    ROUND,
    Rows,
    above,
    after_merges,
    carried,
    changes,
    groups,
    has_blanks,
    lies_of,
    places_within,
)
from sgzone.terms import GREEN, LIE_CODE, TEE
from sgzone.units import split_distance, to_ft


def numbers(draft: Draft, name: str) -> NDArray[np.float64]:
    """Return the number in each row of a column, NaN where it is blank or no number."""
    if name not in draft.columns:
        return np.full(len(draft.rows), np.nan)
    return numbers_of(draft.columns[name])


def carry_holes(draft: Draft) -> int:
    """Repeat the hole where a stroke clearly follows on the row above; ask which hole elsewhere.

    Return in how many rows it was repeated.
    """
    if not has_blanks(draft, "hole"):
        return 0
    column = draft.columns["hole"]
    codes = codes_of(column)
    nothing = np.zeros(len(codes), dtype=bool)
    known = carried(codes, nothing)
    follows = _next_shot(draft) if _numbered(draft) else _same_hole(draft)
    follows &= ~(changes(draft, ROUND) | after_merges(draft, "hole"))
    blank = (codes < 0) & (known >= 0)
    unsure = blank & ~follows
    if draft.broken.any() or not unsure.any():  # cells that cannot be told apart come first
        draft.columns["hole"] = from_codes(known, column.dictionary)
        return int(blank.sum()) if not draft.broken.any() else 0
    _ask_which_hole(draft, unsure, [*texts_of(column), ""][int(known[unsure.argmax()])])
    _stand_in(draft, known, unsure, codes >= 0)
    return 0


def _numbered(draft: Draft) -> bool:
    return "shot" in draft.columns and draft.columns["shot"].null_count < len(draft.rows)


def _next_shot(draft: Draft) -> Rows:
    """Return the rows whose shot is the next of the row above, its penalty counted or not."""
    shots = numbers(draft, "shot")
    penalty = np.nan_to_num(above(numbers(draft, "penalty")))
    step = shots - above(shots)
    return np.asarray((step == 1) | (step == 1 + penalty))


def _same_hole(draft: Draft) -> Rows:
    """Return the rows that can only be on the hole of the row above, by lie and result alone."""
    lies, feet = lies_of(draft), _green_feet(draft)
    green, tee = LIE_CODE[GREEN], LIE_CODE[TEE]
    ended = np.zeros(len(lies), dtype=bool)
    if "result" in draft.columns:
        ended[1:] = codes_of(draft.columns["result"])[:-1] >= 0
    off_again = (above(lies) == green) & (lies != green)
    farther = (above(lies) == green) & (lies == green) & (feet > above(feet))
    return np.asarray(~ended & (lies != tee) & ~off_again & ~farther)


def _green_feet(draft: Draft) -> NDArray[np.float64]:
    """Return each distance in feet as on the green, NaN where it is none."""
    if "distance" not in draft.columns:
        return np.full(len(draft.rows), np.nan)
    values = []
    for text in texts_of(draft.columns["distance"]):
        feet = np.nan
        with suppress(ValueError):
            number, unit = split_distance(text)
            feet = to_ft(number, unit or "ft")
        values.append(feet)
    return np.array([*values, np.nan])[codes_of(draft.columns["distance"])]


def _ask_which_hole(draft: Draft, unsure: Rows, last: str) -> None:
    more = int(unsure.sum()) - 1
    rest = f" ({more} more row{'s' if more > 1 else ''} like it)" if more else ""
    draft.ask(
        int(draft.rows[unsure.argmax()]),
        "hole",
        "",
        f"which hole is this: {last} still, or the next?{rest}",
        "Write the hole in the first row of every hole.",
    )


def _stand_in(draft: Draft, known: NDArray[np.int64], unsure: Rows, written: Rows) -> None:
    """Count holes on where one was asked about, to keep the rules from asking the same again."""
    base = np.array([*numbers_of(draft.columns["hole"]), np.nan])  # by row, then for none
    rows = np.arange(len(known))
    last = np.maximum.accumulate(np.where(written, rows, -1))
    steps = np.cumsum(unsure)
    found = base[last] + steps - np.where(last >= 0, steps[last], 0)
    texts = pa.array([str(int(n)) if np.isfinite(n) else None for n in found], pa.string())
    draft.columns["hole"] = coded(texts)


def ask_second_round(draft: Draft) -> None:
    """Ask where the holes begin again below a date that was not written again."""
    blank = draft.was_blank.get("date")
    if blank is None or "hole" not in draft.columns:
        return
    starts = np.flatnonzero(changes(draft, HOLE) | (np.arange(len(blank)) == 0))
    hole = groups(draft, HOLE)
    if len(set(hole[starts].tolist())) == len(starts):
        return
    rounds = np.zeros(len(blank), dtype=np.int64)
    seen: set[int] = set()
    again: list[int] = []
    for row in starts.tolist():  # one step a hole, and only where a hole comes twice
        if not blank[row]:
            seen = set()
        if int(hole[row]) in seen and blank[row]:
            again.append(row)
            seen = set()
        seen.add(int(hole[row]))
    if not again:
        return
    number = draft.columns["hole"][again[0]].as_py()
    day = draft.columns["date"][again[0]].as_py()
    draft.ask(
        int(draft.rows[again[0]]),
        "date",
        "",
        f"hole {number} begins again and the date is blank: another day, or round 2 of {day}?",
        'Write the date here; for another round of that day also 2 in a column "round".',
    )
    rounds[again] = 1
    texts = pa.array([str(n + 1) for n in np.cumsum(rounds).tolist()], pa.string())
    draft.columns["round"] = coded(texts)


def number_shots(draft: Draft) -> None:
    """Number the strokes of each hole by the order of the rows, where no column does."""
    if "hole" not in draft.columns or draft.columns["hole"].null_count == len(draft.rows):
        return
    if "shot" in draft.columns and draft.columns["shot"].null_count < len(draft.rows):
        _read_formulas(draft)
        return
    group = groups(draft, HOLE)
    starts = np.flatnonzero(changes(draft, HOLE) | (np.arange(len(group)) == 0))
    _, first, count = np.unique(group[starts], return_index=True, return_counts=True)
    if (count > 1).any():
        _ask_order(draft, group, starts, set(first.tolist()))
    places = places_within(group)
    texts = pa.array([str(n) for n in range(1, int(places.max(initial=0)) + 1)], pa.string())
    draft.columns["shot"] = from_codes(places - 1, texts)
    draft.note("no shot column: strokes numbered in the order of the rows", column="shot")


def _ask_order(
    draft: Draft, group: NDArray[np.int64], starts: NDArray[np.int64], first: set[int]
) -> None:
    again = next(int(row) for place, row in enumerate(starts) if place not in first)
    before = int(np.flatnonzero(group == group[again])[0])
    hole = draft.columns["hole"][again].as_py()
    draft.ask(
        int(draft.rows[again]),
        "hole",
        hole or "",
        f"hole {hole} is in row {draft.rows[before]} already: the same round, or another?",
        'Keep the rows of a hole together; number a second round of the day in a column "round".',
    )


def _read_formulas(draft: Draft) -> None:
    """Read a formula without its value between shot 2 and shot 4 of a hole as shot 3."""
    if NO_RESULT not in draft.texts("shot"):
        return
    shots = numbers(draft, "shot")
    lost = rows_with(draft.columns["shot"], [NO_RESULT])
    inside = ~changes(draft, HOLE)
    after = np.append(shots[1:], np.nan)
    found = lost & inside & np.append(inside[1:], False) & (after - above(shots) == 2)
    if found.any():
        texts = draft.columns["shot"].to_pylist()
        for row in np.flatnonzero(found).tolist():
            texts[row] = str(int(above(shots)[row]) + 1)
        draft.columns["shot"] = coded(pa.array(texts, pa.string()))
        rows = int(found.sum())
        draft.note(
            f"shot: {rows} formula{'s' if rows > 1 else ''} without a value read as the number "
            "between its neighbours",
            column="shot",
        )
