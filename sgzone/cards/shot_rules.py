"""The rules of the shot card, as data. They are applied by the season file."""

from __future__ import annotations

from dataclasses import replace

from sgzone.cards.columns import columns_of
from sgzone.cards.finish import FINISH_RULES, NONE_WRITTEN
from sgzone.cards.rules import DECIMAL_COMMA, Rule, matches, plain_rules, quoted
from sgzone.terms import EVERY_LIE, LIES, MAX_OFF_GREEN_FT, MAX_PUTT_FT, SURE_PUTT_FT
from sgzone.units import FT_PER_YD

TREES = ("trees", "tree", "in trees", "in the trees", "under trees", "woods", "wood")
REFUSED_FORMATS = (
    "foursomes",
    "foursome",
    "greensomes",
    "alternate shot",
    "scramble",
    "texas scramble",
)

UNSURE_LIES = {
    "greenside": "sand or rough",
    "green side": "sand or rough",
    "fr": "fringe, fairway or rough",
    "drop": "rough or fairway",
    "dropped": "rough or fairway",
}
"""Words that could be several lies -> which."""

_COMMA = matches("cell_distance", DECIMAL_COMMA)
_NEGATIVE = matches("cell_distance", r"-\s*[\d.].*")
_INCHES = matches("cell_distance", r"\d+\s*('|’|′|ft)\s*\d{2,}.*")
_IS_TREES = f"lower(cell_lie) IN ({', '.join(map(quoted, TREES))})"
_IS_UNSURE = f"lower(cell_lie) IN ({', '.join(map(quoted, UNSURE_LIES))})"
_IS_REFUSED_FORMAT = f"lower(cell_format) IN ({', '.join(map(quoted, REFUSED_FORMATS))})"
_LAST = "next_row IS NULL AND NOT beside_bad"
_NO_LOST_BALL = "result IS DISTINCT FROM 'picked_up'"
_MEANING = {column.name: column.meaning for column in columns_of("shot")}
_BARE = [lie.name for lie in EVERY_LIE if lie.bare_unit is None]
_MAX_YD = MAX_OFF_GREEN_FT / FT_PER_YD


def _which_lie(lies: str) -> Rule:
    words = [word for word, others in UNSURE_LIES.items() if others == lies]
    return Rule(
        f"unsure lie: {lies}",
        "lie",
        f"lower(cell_lie) IN ({', '.join(map(quoted, words))})",
        f"{lies}?",
        f"Write {lies}, whichever it was.",
        once=True,
        alone=True,
    )


_PLACE_RULES = (
    *map(_which_lie, dict.fromkeys(UNSURE_LIES.values())),
    Rule(
        "blank lie",
        "lie",
        f"cell_lie IS NULL AND {_NO_LOST_BALL}",
        "this cell is blank",
        f"Fill it in: {_MEANING['lie']}. Only a picked_up row may leave it blank (ball lost).",
    ),
    Rule(
        "trees",
        "lie",
        _IS_TREES,
        "trees alone is no lie: was the shot at the green blocked?",
        "Write recovery if it was blocked, else rough.",
        alone=True,
    ),
    Rule(
        "lie",
        "lie",
        f"cell_lie IS NOT NULL AND lie IS NULL AND NOT ({_IS_TREES} OR {_IS_UNSURE})",
        "not a known lie",
        f"Write one of {', '.join(LIES)}.{{guess}}",
        words=LIES,
        alone=True,
    ),
    Rule(
        "blank distance",
        "distance",
        f"cell_distance IS NULL AND {_NO_LOST_BALL}",
        "this cell is blank",
        f"Fill it in: {_MEANING['distance']}. Only a picked_up row may leave it blank.",
    ),
    Rule(
        "decimal comma",
        "distance",
        _COMMA,
        "a comma inside a number",
        "Write decimals with a point (87.5).",
        alone=True,
    ),
    Rule(
        "distance",
        "distance",
        f"cell_distance IS NOT NULL AND distance_value IS NULL "
        f"AND NOT ({_COMMA} OR {_NEGATIVE} OR {_INCHES})",
        "not a distance",
        "Write a number, or one with yd, m or ft, or feet and inches as 7'10\".",
        alone=True,
    ),
    Rule(
        "inches",
        "distance",
        f"distance_value IS NULL AND {_INCHES}",
        "12 inches or more after the feet",
        "Write whole feet first: 7'13\" is 8'1\".",
        alone=True,
    ),
    Rule(
        "distance at or below 0",
        "distance",
        f"distance_value <= 0 OR {_NEGATIVE}",
        "a distance must be above 0",
        "Write how far the ball lay from the hole; a holed ball has no row of its own.",
        alone=True,
    ),
    Rule(
        "fringe unit",
        "distance",
        "distance_value IS NOT NULL AND distance_unit IS NULL AND cell_unit IS NULL "
        f"AND lie IN ({', '.join(map(quoted, _BARE))})",
        f"on the {' or '.join(_BARE)} a bare number could be feet or yards",
        "Write the unit: {cell_distance} ft or {cell_distance} yd.",
    ),
    Rule(
        "unit without lie",
        "distance",
        "distance_value IS NOT NULL AND distance_unit IS NULL AND cell_unit IS NULL "
        "AND cell_lie IS NULL AND result = 'picked_up'",
        "without a lie a bare number could be feet or yards",
        "Write the unit: {cell_distance} ft or {cell_distance} yd.",
        scope="hole",
    ),
    Rule(
        "long putt",
        "distance",
        f"lie = 'green' AND distance_ft > {MAX_PUTT_FT} AND distance_ft <= {MAX_OFF_GREEN_FT}",
        f"a putt over {MAX_PUTT_FT:g} ft",
        "Check the lie and the unit: a bare number on the green is feet.",
    ),
    Rule(
        "too far",
        "distance",
        f"distance_ft > {MAX_OFF_GREEN_FT}",
        f"over {_MAX_YD:g} yd",
        "Check the number and its unit.",
    ),
)

_HOLE_RULES = (
    Rule(
        "repeated shot",
        "shot",
        "shot = prev_shot",
        "shot {shot} of hole {hole} is in row {prev_row} already",
        "Number the strokes of a hole in order, each number once.",
        scope="hole",
    ),
    Rule(
        "missing shot",
        "shot",
        "shot > prev_shot + 1 AND shot <> prev_shot + 1 + coalesce(prev_penalty, 0) "
        "AND bad_before = prev_bad_before",
        "shot {prev_shot} (row {prev_row}) is followed by shot {shot}: a stroke is missing",
        "Add the missing stroke, or number the strokes without a gap.",
        scope="hole",
    ),
    Rule(
        "penalty counted",
        "shot",
        "prev_penalty > 0 AND shot = prev_shot + 1 + prev_penalty",
        "the shot number jumps by the penalty of row {prev_row}: read as the next stroke",
        "Nothing, if no stroke is missing; penalty strokes need no number of their own.",
        severity="note",
        scope="hole",
    ),
    Rule(
        "tee again",
        "lie",
        "lie = 'tee' AND prev_row IS NOT NULL AND prev_penalty = 0",
        "a tee lie after another stroke of the hole (row {prev_row}) without a penalty there",
        "Out of bounds or lost? Write the penalty into row {prev_row}. If not, check the lie and "
        "the hole number.",
        scope="hole",
    ),
    Rule(
        "off the green again",
        "lie",
        "prev_lie = 'green' AND lie <> 'green'",
        "off the green after a stroke from the green (row {prev_row})",
        "Nothing, if the putt did run off the green.",
        severity="note",
        scope="hole",
    ),
    Rule(
        "holed early",
        "result",
        "result = 'holed' AND next_row IS NOT NULL",
        "holed here, yet shot {next_shot} of the hole follows in row {next_row}",
        "Write holed only on the last row of the hole, or correct the hole number below.",
        scope="hole",
    ),
    Rule(
        "result early",
        "result",
        "result IN ('conceded', 'picked_up') AND next_row IS NOT NULL",
        "a result before the last row of the hole: shot {next_shot} follows in row {next_row}",
        "Leave result blank on every row but the last of the hole.",
        scope="hole",
    ),
    Rule(
        "how did it end",
        "result",
        f"{_LAST} AND cell_result IS NULL AND {NONE_WRITTEN} "
        f"AND (lie <> 'green' OR distance_ft > {SURE_PUTT_FT})",
        "the last row of hole {hole}: did this go in, or is the hole unfinished?",
        "Write holed here, or add the strokes that follow, or where it finished (to_lie, "
        "to_distance). Given or picked up: add that row.",
        scope="hole",
        together="{total} holes have no end (this is the first): did their last strokes go in, or "
        "are strokes missing?",
        fix_together="Write where each finished into to_lie and to_distance; or add the strokes "
        "that follow; or write holed.",
    ),
    Rule(
        "penalty without stroke",
        "penalty",
        "result IN ('conceded', 'picked_up') AND penalty > 0",
        "no stroke is played on a conceded or picked_up row, so it takes no penalty",
        "Write the penalty into the row of the stroke before.",
        scope="hole",
    ),
    Rule(
        "finish disagrees",
        "depth_ft",
        "penalty = 0 AND finish_gap_ft > finish_slack_ft AND NOT beside_bad",
        "depth and side put the ball {finish_ft:.1f} ft from the hole, the next place is "
        "{end_ft:.1f} ft away",
        "Check the signs and the unit (feet): long +, short -, right +, left -.",
        severity="note",
        scope="hole",
    ),
    Rule(
        "format",
        "format",
        _IS_REFUSED_FORMAT,
        "not one player's strokes",
        "Load rounds of one's own ball only: stroke, match, stableford, four-ball.",
        once=True,
        alone=True,
    ),
    Rule(
        "event differs",
        "event",
        "event <> prev_event",
        'another event within the round ("{prev_event}" before); the round counts as its first',
        "Write one event per round, or number the rounds of the day.",
        severity="note",
        scope="hole",
    ),
    Rule(
        "course differs",
        "course",
        "course <> prev_course",
        'another course within the round ("{prev_course}" before); the round counts as its first',
        "Write one course per round, or number the rounds of the day.",
        severity="note",
        scope="hole",
    ),
    Rule(
        "par differs",
        "par",
        "par <> prev_par",
        "another par within the hole ({prev_par} before); the hole counts as its first",
        "Write one par per hole.",
        severity="note",
        scope="hole",
    ),
)


def _own_words(rule: Rule) -> Rule:
    """Keep a refused format from being noted as the player's own word as well."""
    if (rule.name, rule.column) != ("own word", "format"):
        return rule
    return replace(rule, where=f"{rule.where} AND NOT ({_IS_REFUSED_FORMAT})")


SHOT_RULES = (
    *map(_own_words, plain_rules("shot", except_for=frozenset({"lie", "distance"}))),
    *_PLACE_RULES,
    *_HOLE_RULES,
    *FINISH_RULES,
)
