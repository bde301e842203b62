"""What is said over a list of rounds; without what the sentences of answers need of their rooms."""

from __future__ import annotations

from typing import Any

from sgzone.words.digits import count, span


def rounds_lead(rounds: dict[str, list[Any]], file: str) -> str:
    """Return how many rounds are in a season file, whose and when. ``rounds``: ``store.listed``."""
    players, days = set(rounds["player"]), rounds["date"]
    what = f"{count(len(days), 'round')} in {file}"
    if not days:
        return f"{what}."
    who = rounds["player"][0] if len(players) == 1 else f"{len(players)} players"
    return f"{what}: {who}, {span(min(days), max(days))}."
