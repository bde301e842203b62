"""The rules of a finish written in the stroke's own row: ``to_lie`` and ``to_distance``."""

from __future__ import annotations

from sgzone.cards.rules import DECIMAL_COMMA, Rule, matches, quoted
from sgzone.terms import EVERY_LIE, GREEN, HOLED, MAX_OFF_GREEN_FT, MAX_PUTT_FT
from sgzone.units import FT_PER_YD

FINISH = frozenset(("to_lie", "to_distance"))
"""The columns of such a finish."""

SAME_PLACE_FT = 1.5
"""Half a yard: what rounding makes of one place that is written twice."""

NONE_WRITTEN = "cell_to_lie IS NULL AND cell_to_distance IS NULL"
"""The SQL condition of a row without a finish of its own."""

_COMMA = matches("cell_to_distance", DECIMAL_COMMA)
_BARE = [lie.name for lie in EVERY_LIE if lie.bare_unit is None]
_BARE_UNIT = " ".join(
    f"WHEN to_lie = {quoted(lie.name)} THEN {quoted(lie.bare_unit)}"
    for lie in EVERY_LIE
    if lie.bare_unit is not None
)
_OTHER_UNIT = f"CASE {_BARE_UNIT} END <> unit"
_FOLLOWED = "next_row IS NOT NULL AND NOT beside_bad AND penalty = 0"
_MAX_YD = MAX_OFF_GREEN_FT / FT_PER_YD

_CELL_RULES = (
    Rule(
        "decimal comma",
        "to_distance",
        _COMMA,
        "a comma inside a number",
        "Write decimals with a point (8.5).",
        alone=True,
    ),
    Rule(
        "distance",
        "to_distance",
        f"cell_to_distance IS NOT NULL AND to_value IS NULL AND NOT {_COMMA}",
        "not a distance",
        "Write a number, or one with yd, m or ft, or feet and inches as 7'10\"; 0 for holed.",
        alone=True,
    ),
    Rule(
        "fringe unit",
        "to_distance",
        "to_value > 0 AND to_unit IS NULL AND cell_unit IS NULL "
        f"AND to_lie IN ({', '.join(map(quoted, _BARE))})",
        f"on the {' or '.join(_BARE)} a bare number could be feet or yards",
        "Write the unit: {cell_to_distance} ft or {cell_to_distance} yd.",
    ),
    Rule(
        "whose unit",
        "to_distance",
        f"to_value > 0 AND to_written_unit IS NULL AND {_OTHER_UNIT}",
        "is the unit of this row ({cell_unit}) that of the finish too?",
        "Write the unit with the number: {cell_to_distance} ft, {cell_to_distance} yd or "
        "{cell_to_distance} m.",
    ),
    Rule(
        "holed away from the hole",
        "to_distance",
        f"to_lie = {quoted(HOLED)} AND to_value > 0",
        "to_lie says holed, and yet this is not 0",
        "Write where the ball lay into to_lie, or leave to_distance blank.",
    ),
    Rule(
        "long putt",
        "to_distance",
        f"to_lie = {quoted(GREEN)} AND to_ft > {MAX_PUTT_FT} AND to_ft <= {MAX_OFF_GREEN_FT}",
        f"a putt over {MAX_PUTT_FT:g} ft would follow",
        "Check to_lie and the unit: a bare number on the green is feet.",
    ),
    Rule(
        "too far",
        "to_distance",
        f"to_ft > {MAX_OFF_GREEN_FT}",
        f"over {_MAX_YD:g} yd",
        "Check the number and its unit.",
    ),
)

_HOLE_RULES = (
    Rule(
        "finish without lie",
        "to_lie",
        "to_value > 0 AND cell_to_lie IS NULL",
        "to_distance says {cell_to_distance}, but not what the ball lay on",
        "Write the lie there into to_lie, or leave both blank.",
        scope="hole",
    ),
    Rule(
        "finish without distance",
        "to_distance",
        f"to_lie <> {quoted(HOLED)} AND cell_to_distance IS NULL AND next_row IS NULL",
        "to_lie says {cell_to_lie}, but not how far from the hole",
        "Write the distance into to_distance, or leave both blank.",
        scope="hole",
    ),
    Rule(
        "finish of no stroke",
        "to_lie",
        f"result IN ('conceded', 'picked_up') AND NOT ({NONE_WRITTEN})",
        "no stroke is played on a {result} row, so it has no finish",
        "Leave to_lie and to_distance blank here, or take the result out.",
        scope="hole",
    ),
    Rule(
        "holed elsewhere",
        "to_lie",
        f"cell_result IS NOT NULL AND result = {quoted(HOLED)} AND to_end <> {quoted(HOLED)}",
        "the result says holed, to_lie says {to_end}",
        "Leave one of them blank.",
        scope="hole",
    ),
    Rule(
        "finish without a next place",
        "to_lie",
        f"{_FOLLOWED} AND to_end IS NOT NULL AND next_lie IS NULL",
        "to_lie says {to_end}, the next row ({next_row}) says the ball was lost",
        "Correct one of the two.",
        scope="hole",
    ),
    Rule(
        "finish on another lie",
        "to_lie",
        f"{_FOLLOWED} AND to_end <> next_lie",
        "to_lie says {to_end}, the next row ({next_row}) starts from {next_lie}",
        "Correct one of the two; if a stroke is missing between them, add it.",
        scope="hole",
    ),
    Rule(
        "finish at another distance",
        "to_distance",
        f"{_FOLLOWED} AND to_end = next_lie AND abs(to_ft - next_distance_ft) > {SAME_PLACE_FT}",
        "to_distance is {to_ft:.1f} ft, the next row ({next_row}) starts {next_distance_ft:.1f} ft "
        "from the hole",
        "Correct one of the two; if a stroke is missing between them, add it.",
        scope="hole",
    ),
)

FINISH_RULES = (*_CELL_RULES, *_HOLE_RULES)
