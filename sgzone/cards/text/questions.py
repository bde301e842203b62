"""Every question that a text card asks: what could be meant, and what to type for each."""

from __future__ import annotations

from collections.abc import Mapping

QUESTIONS: Mapping[str, tuple[str, str]] = {
    # what one number or word may mean
    "comma": (
        "one number with a decimal comma, or two strokes?",
        "Write {one}, or a blank after the comma: {two}.",
    ),
    "fringe unit": ("on the fringe: feet or yards?", "Write {token}ft or {token}yd."),
    "from what lie": (
        "{token} from what lie?",
        "Write f{number}, r{number}, s{number} or t{number}; g{number} for a putt.",
    ),
    "ft or fairway": (
        "{number} ft on the green, or fairway {number} yd?",
        "Write {number} or f{number}.",
    ),
    "slash": (
        "is {value} the next putt, or a club?",
        "Write a blank instead of the slash, or the club in brackets: /[{value}].",
    ),
    "slash place": (
        "a place behind the slash, or a club?",
        "Write a blank instead of the slash, or the club in brackets: /[{value}].",
    ),
    "slash word": (
        '"{value}" behind the slash: a club or a swing?',
        "Write /[{value}] for a club, swing=[{value}] for a swing.",
    ),
    "number first": (
        "{number} before {next}: par, score or a putt?",
        "Write par{number}, nothing, or g{number}.",
    ),
    "number last": (
        "{number} at the end: another putt, or the score?",
        "Write g{number} for a putt; leave a score out.",
    ),
    "putt grows": (
        "a putt from {number} leaves {next}: right, or is {number} a club or a score?",
        "Write g{number} if it is right; leave a score out, write a club as /{number}.",
    ),
    "range": (
        "two strokes, or one distance?",
        "Write {one} {two} for two strokes, or one number for a distance.",
    ),
    "feet and inches": (
        "{feet} ft {inches} in, or two putts?",
        "Write {feet}'{inches}\" or {feet} {inches}.",
    ),
    "inches or in": (
        "{number} inches, or {number} ft and in?",
        'Write {number}" or {number}!',
    ),
    "decimals": (
        "a distance to the hundredth, or two strokes without a blank?",
        "Write {number}ft for the distance, or put the blank in.",
    ),
    "trees": (
        "was the shot at the green blocked?",
        "Write v{number} if it was blocked, else r{number}.",
    ),
    "greenside": ("greenside sand or rough?", "Write s{number} for sand or r{number} for rough."),
    "fr": ("fringe, fairway or rough?", "Write e{number}, f{number} or r{number}."),
    "drop": ("dropped in the rough or on the fairway?", "Write r{number} or f{number}."),
    "provisional": (
        "which ball was in play?",
        "Write only the strokes of the ball in play; a ball that was lost is a *.",
    ),
    "two ways": ("this can be read as {one}, or as {two}.", "Write the letter before the number."),
    "other word": (
        "what is it?",
        "Correct the word; a remark goes behind a #, other columns as column=value.",
    ),
    "no distance": ("how far from the hole?", "Write the distance behind it: {token}40."),
    "no lie": ("from which place?", "Write the place first: a letter and a distance, as f112."),
    "open bracket": ("this bracket is never closed.", "Close it, or leave it out."),
    "miss": (
        "where did the ball finish?",
        "Write depth and side in feet: (-8,4) is 8 short and 4 right, (-8,) 8 short alone.",
    ),
    "glued column": (
        "a column that no card has, or strokes before {value}?",
        "Write a blank before the name of the column.",
    ),
    "glued value": (
        "one value of {name}, or is a blank missing in it?",
        "Write the blank, or the value in brackets: {name}=[{value}].",
    ),
    "own column": (
        "this column has its own place on a text card.",
        "Write player and date in the first line; a stroke as f112.",
    ),
    "second value": ("{token} is here twice.", "Leave one of the two out."),
    "ordinal": (
        "the number of a stroke comes before the strokes.",
        "Write it behind the hole: {hole} {token} f112.",
    ),
    # how strokes follow each other
    "putts missing": (
        "{token}, and only {there} on the card: how long was the other one?",
        "Write its length; a tap-in is 1.",
    ),
    "putts too many": (
        "{token}, and {there} on the card: which is right?",
        "Leave one of the two out.",
    ),
    "up and down": (
        "{token}, and {there} on the card after it: which is right?",
        "Add the stroke that is missing, or leave {token} out.",
    ),
    "in and a number": (
        "in, then {number}: how long was the other one?",
        "Write every distance before in; a tap-in is 1.",
    ),
    "tap in": (
        "is the tap-in the putt from {number}, or one more?",
        "Write {number}, or {number} 1.",
    ),
    "given": (
        "was {number} ft given, or the next one?",
        "Write {number}c, or add the one that was given: {number} 1c.",
    ),
    "how did it end": (
        "the last place is {place}: in, picked up, or are strokes missing?",
        "Write {token}! if it went in, {token} x if you picked up there, or add the strokes.",
    ),
    "picked up where": (
        "where was it picked up?",
        "Write the place, as r140 x, or ?x where you do not know it.",
    ),
    "tee again": (
        "from the tee again: was the ball lost or out of bounds?",
        "Write * behind the stroke that was lost, or correct the letter.",
    ),
    "after the end": (
        "a stroke after the hole ended: which is right?",
        "Take out the {mark}, or what comes after it.",
    ),
    "many strokes": (
        "more strokes than a hole can have.",
        "Write a line a hole, its number first.",
    ),
    "penalty first": (
        "a penalty before any stroke: for which one?",
        "Write * behind the stroke that it was for.",
    ),
    # lines
    "which hole": ("which hole?", "Write its number first: 7 f112 18 2."),
    "no such hole": ("there is no hole {token}.", "Write a number from 1 to 36."),
    "hole twice": (
        "hole {token} is in line {line} already: another round, the back nine, or a repeat?",
        "Write round 2 in a line above, or the hole's own number, or delete this line.",
    ),
    "no header": (
        "who played, and when?",
        "Write it in a line above: Ned Farrow, 14 May 2026, Home.",
    ),
    "day": ("{question}", "Write it as {one}, or say --dates dmy or --dates mdy."),
    "bad day": ("{why}.", "Write the day as 14 May 2026."),
    "two days": ("two days in one line: which is right?", "Leave one of them out."),
    "player or course": (
        "is {value} the player or the course?",
        "Write player, date, course (- for none): Ned Farrow, {day}, Home. Or say --as NAME.",
    ),
    "who": ("who played on {day}?", "Write the name before the day, or say --as NAME."),
    "other player": (
        "--as says {given}; who played?",
        "Leave --as out, or correct the name in this line.",
    ),
    "header word": (
        "what is it?",
        "Write course, then competition or practice; other columns as column=value.",
    ),
    "long line": ("a line of more than {most} characters is no hole.", "Write a line a hole."),
    "example": (
        "a hole of the example was changed: is it the example's or a player's?",
        "Write the player's name in the line above, or delete the hole.",
    ),
}
"""Kind -> the question and what to do; ``{token}`` is what was typed."""

SO_FAR = "{wrong} (Read so far: {so_far}.)"

NOTES: Mapping[str, tuple[str, str]] = {
    "passed over": (
        "no strokes in {lines}: passed over",
        "Nothing to do; what counts needs the number of its hole in front.",
    ),
    "mail": ("the lines of the mail around the card are passed over: {lines}", "Nothing to do."),
    "lie behind": ("the lie read behind its distance in {lines}", "Nothing to do."),
    "words": ("words read as signs in {lines}: {words}", "Nothing to do, if that is right."),
    "remarks": ("kept as a note of the hole: {words}", "Nothing to do, if that is right."),
    "from the tee": (
        "read as the tee shot of a par 3: {words}",
        "Nothing to do, if that is right.",
    ),
    "decimal comma": ("decimal commas read in {lines}: {words}", "Nothing to do."),
    "miss in metres": ("finishes read in metres, as the card is", "Nothing to do, or write ft."),
    "day": ("the day is read as {day}", "Nothing to do, if that is right."),
    "unknown column": (
        "a shot card has no such column; its values are kept as they are",
        "{guess}",
    ),
    "example": (
        "the example is here and is passed over",
        "Nothing to do; delete its lines if you like.",
    ),
}
"""Kind -> what was read in a way that the line does not say by itself, and what to do."""
