"""What is said over a list of rounds; without what the sentences of answers need of their rooms."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sgzone.words.digits import count, span

if TYPE_CHECKING:
    import pandas as pd


def rounds_lead(rounds: pd.DataFrame, file: str) -> str:
    """Return how many rounds are in a season file, whose and when. ``rounds``: ``store.rounds``."""
    what = f"{count(len(rounds), 'round')} in {file}"
    if rounds.empty:
        return f"{what}."
    players = list(rounds["player"].unique())
    who = players[0] if len(players) == 1 else f"{len(players)} players"
    return f"{what}: {who}, {span(rounds['date'].min().date(), rounds['date'].max().date())}."
