"""What the page says of what its reader chose; its script fills in the braces."""

from __future__ import annotations

from sgzone.words.screen.taking import TAKE_CHART, TAKE_CHOSEN, TAKE_PICTURE

CHOOSE = "Choose rounds and strokes"
SINCE, UNTIL, ANY = "from", "to", "any"
LABELS = {"event": "event", "lie": "lie", "club": "club", "part": "part"}
"""What can be chosen beside days, by the names of the command line's options."""
SHOW, CLEAR, CLOSE = "Show the strokes", "Clear the choice", "Close"
WORST, BEST = "Worst first", "Best first"
TITLE = "Your choice, as played"
STROKES_TITLE = "The strokes"
BY_PART = "By part, as played: no verdict"
BY_PART_ALT = (
    "Bars of strokes gained per round by part, as played, for the rounds and strokes chosen."
)
HEADINGS = ("part", "shots", "rounds", "a stroke", "a round")

WHOLE = "All rounds and strokes: this does not follow your choice."
ALL = "All rounds and strokes"
FOLLOWS = (
    "Dots follow your choice. Words and counts are of all strokes; middles and ranges are left out."
)
TEXT = {
    "told": "As played, your choice, no verdict: {shots} in {rounds}, {round} a round, {shot} "
    "a stroke.",
    "none": "No stroke fits this choice.",
    "cleared": "All rounds and strokes.",
    "listed": "{what}: {shots}",
    "some": "{what}: {shots}, {shown} of them here",
    "every": "All strokes",
    "stroke": "{n} stroke",
    "strokes": "{n} strokes",
    "rounds": "{n} rounds",
    "round": "{n} round",
    "since": "from {value}",
    "until": "to {value}",
    "unknown": "unknown",
    "of": "{n} of {rounds}",
    "as_played": "as played, no verdict",
    "unvalued": ", {n} without a value",
    "brush": "Drag along the chart to choose days.",
    "take": TAKE_CHART,
    "take_chosen": TAKE_CHOSEN,
    "picture": TAKE_PICTURE,
}
"""Sentences and words for the script."""
