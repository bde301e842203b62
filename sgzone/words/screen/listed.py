"""What the page says over the strokes of each part."""

from __future__ import annotations

from sgzone.words.digits import count
from sgzone.words.say import Say, Words

LEAD = ("The worst and the best strokes of each part, as played. One stroke proves nothing.",)
CAPTION = "The worst first"
FROM, ANY_LIE = "Rows from", "every lie"
NO_STROKES = "No stroke of these rounds has a value yet."


def fold(part: str, shots: int, shown: int, say: Say) -> str:
    """Return what opens the strokes of a part: which, how many, and how many are told."""
    whole = f"{say.part(part)}: {count(shots, 'stroke')}"
    return whole if shown == shots else f"{whole}, the worst and best {shown}"


def lead(shots: int) -> Words:
    """Return the sentences over the list."""
    return LEAD if shots else (NO_STROKES,)
