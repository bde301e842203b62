"""Notes of the card on a page: others' words, each on one line and cut to some room."""

from __future__ import annotations

import pandas as pd

from sgzone.harmless import cut, one_line
from sgzone.words.digits import count
from sgzone.words.rounds.strokes import places
from sgzone.words.say import Say, Words

NO_NOTES = "No stroke of these rounds has a note."
MOST = 60
_NOTE_ROOM = 200


def lead(notes: pd.DataFrame) -> Words:
    """Return how many notes there are, and how many of them are told."""
    if notes.empty:
        return (NO_NOTES,)
    whole = f"{count(len(notes), 'note')}, for you and your coach alone."
    if len(notes) <= MOST:
        return (whole,)
    return (f"{whole} Here are the newest {MOST}; --export has all.",)


def newest(notes: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return the last rounds' notes first, strokes of a round in order; long ones are cut.

    ``notes``: as ``report.asked.card_notes``, in order of play.
    """
    order = notes.sort_values(["date", "round"], ascending=False, kind="stable").head(MOST)
    told = order["note"].map(lambda note: cut(one_line(note), _NOTE_ROOM, "…"))
    start = places(order["lie"], order["distance_yd"], say)
    return order.assign(note=told, start=start).reset_index(drop=True)
