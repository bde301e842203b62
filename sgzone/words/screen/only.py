"""What says that an answer is of some strokes alone."""

from __future__ import annotations

from sgzone.scoring.only import Only
from sgzone.words.digits import listed
from sgzone.words.say import Say, Words

WHOLE_HOLES = "Putts a round count whole holes: leave out --lie, --club and --part."


def only_line(only: Only, say: Say) -> Words:
    """Return which strokes count; nothing where all do.

    >>> only_line(Only(lie="rough", part="wedge_50_100"), Say())
    ('Only strokes of lie rough and part wedge 50-100 yd.',)
    """
    named = {"lie": only.lie, "club": only.club, "part": only.part and say.part(only.part)}
    told = [f"{name} {named[name]}" for name in only.columns]
    return (f"Only strokes of {listed(told)}.",) if told else ()
