"""Notes of the card in their order, cut to their room."""

from __future__ import annotations

import pandas as pd

from sgzone.words.rounds.notes import MOST, lead, newest
from sgzone.words.say import Say


def _notes(count: int) -> pd.DataFrame:
    days = pd.date_range("2026-05-01", periods=count)
    rows = {"date": days, "round": 1, "hole": 2, "shot": 3, "lie": "green", "distance_yd": 4.0}
    return pd.DataFrame({**rows, "note": [f"note {n}\nline" for n in range(count)]})


def test_the_newest_come_first_and_the_rest_is_counted() -> None:
    told = newest(_notes(MOST + 1), Say())
    assert len(told) == MOST
    assert told["note"].iloc[0] == f"note {MOST}\\nline"
    assert told["start"].iloc[0] == "green 12.0 ft"
    assert lead(_notes(MOST + 1)) == (
        f"{MOST + 1} notes, for you and your coach alone. Here are the newest {MOST}; --export has "
        "all.",
    )
    assert lead(_notes(1)) == ("1 note, for you and your coach alone.",)


def test_strokes_of_a_round_stay_in_order() -> None:
    day = _notes(3).assign(date=pd.Timestamp("2026-05-01"), shot=[1, 2, 3])
    assert newest(day, Say())["shot"].tolist() == [1, 2, 3]
