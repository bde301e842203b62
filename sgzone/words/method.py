"""Sentences on how the report was made, and on what to be careful about."""

from __future__ import annotations

from sgzone.stats.verdict import LEVEL, NOT_SETTLED
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH, ZONE_FT
from sgzone.words.cautions import PRIVATE, RULES
from sgzone.words.digits import DAGGER
from sgzone.words.say import METRIC, Say, Words
from sgzone.words.season import benchmark_words

CAUTIONS = (
    "Write the card after the hole and off the green. Never delay play.",
    "Watch for balls in flight, and never wait where a group behind can hit.",
    RULES,
    PRIVATE,
    "More practice than last month can hurt: build up slowly, rest, stop on pain. Ask a "
    "physiotherapist or a licensed teaching professional.",
    "The benchmark describes a group of players. It is no target by itself.",
)

VERDICTS = (
    ("clear loss, clear gain", "at least 95% sure, and of a size that matters"),
    ("probable loss, probable gain", "80 to 95% sure"),
    (LEVEL, "at least 80% sure that the difference is too small to matter"),
    (NOT_SETTLED, "the season cannot tell"),
    (NOT_ENOUGH, f"under {MIN_SHOTS} shots or {MIN_ROUNDS} rounds"),
)

SOFTWARE = "Software in this page, and its licences"
COLOPHON = (
    "Charts are drawn by Vega, Vega-Lite and Vega-Embed, which are in this file. They are of the "
    "University of Washington Interactive Data Lab (BSD 3-Clause licence). It works offline.",
)

IN_METRES = (
    f"Parts and distances are cut at whole yards and feet (the zone at {Say().zone}, "
    f"{Say(METRIC).length(ZONE_FT, 'ft', 2)}). Their edges are shown in rounded metres."
)


def method(against: str, say: Say) -> Words:
    """Return how the numbers were made."""
    return (
        "Gained = expected strokes before the stroke - expected strokes after it - 1 - penalty "
        "strokes. The values of a hole add up. Every stroke from "
        f"{say.zone} or less counts, putts included.",
        *((IN_METRES,) if say.metric else ()),
        f"Expected strokes are those of {benchmark_words(against)}. Between its published points "
        f"runs a smooth curve. A number with {DAGGER} rests on values that are derived, "
        "extrapolated or uncertain.",
        f"Ranges are right {say.chances}, as far as chance goes: errors of measuring are not in "
        "them. Strokes of one round belong together.",
        "Best estimate: the fewer shots, the more a value leans on the rest of your game. Verdicts "
        "and their order are by it.",
    )
