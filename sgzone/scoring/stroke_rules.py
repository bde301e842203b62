"""What strokes in Parquet files must be to be valued: each has its place in play, once.

The cards of a season file were checked at load; these files can come from anywhere.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sgzone.cards.columns import columns_of
from sgzone.errors import DataError
from sgzone.harmless import named
from sgzone.scoring.recipe import recipe, step
from sgzone.terms import HOLED, LIES, MAX_OFF_GREEN_FT, MAX_PUTT_FT

if TYPE_CHECKING:
    from sgzone.season.parquet import ParquetStrokes
    from sgzone.season.selection import Selection

_RANGES = {
    column.name: (int(column.low or 0), int(column.high or 0))
    for column in columns_of("shot")
    if column.name in ("round", "hole", "shot", "penalty", "player")
}
_LIES = ", ".join(f"'{lie}'" for lie in LIES)
_DAYS = ("1900-01-01", "9999-12-31")


def _number(name: str) -> tuple[str, str, str]:
    low, high = _RANGES[name]
    wrong = f"{name} is not a whole number from {low} to {high}"
    return name, wrong, f"{name} IS NULL OR {name} NOT BETWEEN {low} AND {high}"


def _distance(name: str, lie: str, least: str, rows: str) -> tuple[str, str, str]:
    most = f"CASE WHEN {lie} = 'green' THEN {MAX_PUTT_FT} ELSE {MAX_OFF_GREEN_FT} END"
    wrong = f"{name} is missing or no distance from its lie"
    # asked by name: DuckDB takes a file's word for its greatest value, which tells of no NaN
    right = f"isfinite({name}) AND {name} {least} 0 AND {name} <= {most}"
    return name, wrong, f"{rows} AND NOT coalesce({right}, FALSE)"


_LONGEST = _RANGES["player"][1]
_RULES = (
    (
        "player",
        f"player is not a name of 1 to {_LONGEST} characters",
        f"player IS NULL OR length(trim(player)) NOT BETWEEN 1 AND {_LONGEST}",
    ),
    (
        "date",
        f"date is not a day from {_DAYS[0]} to {_DAYS[1]}",
        f"date IS NULL OR date NOT BETWEEN DATE '{_DAYS[0]}' AND DATE '{_DAYS[1]}'",
    ),
    *map(_number, ("round", "hole", "shot", "penalty")),
    ("played", "played is neither true nor false", "played IS NULL"),
    ("entered", "entered is neither true nor false", "entered IS NULL"),
    (
        "lie",
        f"lie is none of {', '.join(LIES)}",
        f"(played AND lie IS NULL) OR lie NOT IN ({_LIES})",
    ),
    _distance("distance_ft", "lie", ">", "played"),
    (
        "end_lie",
        f"end_lie is none of {', '.join((*LIES, HOLED))}",
        f"end_lie NOT IN ({_LIES}, '{HOLED}')",
    ),
    _distance("end_distance_ft", "end_lie", ">=", "end_distance_ft IS NOT NULL"),
)
"""Column, what is wrong with it, and the rows of which that is true."""

_SHOTS = _RANGES["shot"][1] + 1
# the shots of a hole as bits of one number, four holes to a number: as many bits as strokes, or one
# stroke stands twice; numbers of a fixed size can go to the disk where lists of shots could not
_ONCE = " + ".join(
    f"bit_count(bit_or(CASE WHEN hole BETWEEN {first} AND {first + 3} "
    f"THEN CAST(1 AS HUGEINT) << ((hole - {first}) * {_SHOTS} + shot) ELSE 0 END))"
    for first in range(1, _RANGES["hole"][1] + 1, 4)
)


def refuse_wrong_strokes(strokes: ParquetStrokes, selection: Selection) -> None:
    """Raise ``DataError`` where a chosen stroke cannot be one, or stands in the files twice."""
    if selection in strokes.checked:
        return
    chosen = recipe(("parquet_strokes",), "").replace("{strokes}", "strokes")
    bound = selection.parameters()
    counts = ", ".join(f"count_if({rows})" for _, _, rows in _RULES)
    wrong_ones = chosen + step("parquet_wrong").replace("{counts}", counts)
    counted = strokes.reader(wrong_ones, bound).read_all()
    [found] = counted.to_pylist()
    for (column, wrong, rows), count in zip(_RULES, found.values(), strict=True):
        if count:
            _refuse(strokes, selection, (column, wrong, rows), int(count))
    twice = chosen + step("parquet_twice").replace("{once}", _ONCE)
    rounds = strokes.reader(twice, bound).read_all()
    if len(rounds):
        first = rounds.slice(0, 1).to_pylist()[0]
        raise DataError(
            f"The strokes in {named(strokes.files[0])} ({len(strokes.files)} in all) have strokes "
            f"twice in {_count(len(rounds), 'round')} (first: {named(first['player'])}, "
            f"{first['date']}, round {first['round']}). Is one file a copy of another? Keep one "
            "of them."
        )
    strokes.checked.add(selection)


def _refuse(
    strokes: ParquetStrokes, selection: Selection, rule: tuple[str, str, str], count: int
) -> None:
    column, wrong, rows = rule
    placed = recipe(("parquet_strokes",), "").replace("{strokes}", strokes.placed(column))
    first = placed + step("parquet_first").replace("{rows}", rows)
    [there] = strokes.reader(first, selection.parameters()).read_all().to_pylist()
    value = "nothing" if there["value"] is None else f'"{there["value"][:80]}"'
    raise DataError(
        f"In {_count(count, 'stroke')} {wrong} (first: {value} in stroke {there['place']} of "
        f"{named(there['file'])}), so nothing is valued. Write the file again with sgzone backup "
        "--strokes, or mend it."
    )


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
