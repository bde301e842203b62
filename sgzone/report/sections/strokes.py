"""Stroke by stroke: the worst and best of each part, for a page without scripts too."""

from __future__ import annotations

import pandas as pd

from sgzone.harmless import cut, one_line
from sgzone.report.asked import Asked
from sgzone.report.page import Section
from sgzone.report.strokes.packed import ANSWER
from sgzone.terms import PART_NAMES
from sgzone.words.rounds.strokes import ends, places
from sgzone.words.screen import listed as words
from sgzone.words.tables import Table, table_of

_NOTE_ROOM = 200


def section(asked: Asked) -> Section:
    """Return the strokes of each part that lost and gained most, a folded table a part."""
    strokes = asked.strokes[asked.strokes["gained"].notna()]
    folded = []
    for part in PART_NAMES:
        own = strokes[strokes["part"] == part]
        if len(own):
            shown = ends(own).sort_values("gained", kind="stable")
            folded.append((words.fold(part, len(own), len(shown), asked.say), _table(asked, shown)))
    return Section(words.lead(len(folded)), folded=tuple(folded))


def _table(asked: Asked, strokes: pd.DataFrame) -> Table:
    say = asked.say
    rows = strokes.assign(
        start=places(strokes["lie"], strokes["distance_yd"], say),
        end=places(strokes["end_lie"], strokes["end_distance_yd"], say),
    )
    if asked.with_notes:
        keys = ["date", "round", "hole", "shot"]
        rows = rows.merge(asked.notes[[*keys, "note"]], on=keys, how="left")
        said = [
            cut(one_line(n), _NOTE_ROOM, "…") if isinstance(n, str) else "" for n in rows["note"]
        ]
        rows = rows.assign(note=said)
    return table_of(rows, ANSWER, say, words.CAPTION).only_short()
