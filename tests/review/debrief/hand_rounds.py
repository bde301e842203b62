"""Rounds written by hand against a curve of straight lines, so that every value can be worked out.

Expected strokes: fairway 1.9 + 0.01 a yard, rough 0.2 more, sand 0.4 more; green 0.98 + 0.02 a
foot. None of recovery.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pandas as pd

from sgzone.season.store import Store, open_store

_OFF = {"fairway": 2.0, "rough": 2.2, "sand": 2.4}
KNOTS = "lie,distance,unit,strokes,source\n" + "".join(
    f"{lie},{yards},yd,{first + (yards - 10) / 100},own\n"
    for lie, first in _OFF.items()
    for yards in (10, 150)
)
KNOTS += "green,1,ft,1.0,own\ngreen,61,ft,2.2,own\n"

GOOD = "fairway 110yd, green 6ft, holed"  # 3.0 - 1.1 - 1 = +0.9; 1.1 - 1 = +0.1
PLAIN = "fairway 110yd, green 21ft, green 2ft, holed"  # +0.6, -0.62, +0.02
THREE = "green 41ft, green 6ft, green 2ft, holed"  # 1.8 - 1.1 - 1 = -0.3, -0.92, +0.02
WATER = "fairway 110yd p1, rough 20yd, green 11ft, holed"  # -1.3; 2.3 - 1.2 - 1 = +0.1; +0.2
SAVED = "sand 20yd, green 3ft, holed"  # 2.5 - 1.04 - 1 = +0.46; +0.04
GIVEN_UP = "rough 20yd, rough 10yd picked_up"  # 2.3 - 2.2 - 1 = -0.9
LOST = "fairway 110yd, picked_up"  # its ball was lost: no value


def card(
    lines: list[str],
    player: str = "Ada",
    date: str = "2026-05-01",
    round_: int = 1,
    **more: object,
) -> pd.DataFrame:
    """Return a card, a hole a line; ``p1`` is a penalty stroke, ``(...)`` a note."""
    rows: list[dict[str, object]] = []
    for hole, line in enumerate(lines, 1):
        *steps, last = [step.strip() for step in line.split(",")]
        ended = last if last in ("holed", "picked_up") else ""
        steps += [] if ended else [last]
        for shot, step in enumerate(steps, 1):
            lie, distance, *words = step.split()
            marks = {"lie": lie, "distance": distance, "penalty": int("p1" in words)}
            told = next((w for w in words if w in ("conceded", "picked_up")), "")
            rows.append({"hole": hole, "shot": shot, "result": told, **marks})
        if ended == "picked_up":  # nobody knows where the ball was
            rows.append({"hole": hole, "shot": len(steps) + 1, "result": ended})
        elif ended:
            rows[-1]["result"] = ended
    return pd.DataFrame(rows).assign(player=player, date=date, round=round_, **more)


@contextmanager
def season(folder: Path, *cards: pd.DataFrame) -> Iterator[tuple[Store, str]]:
    """Open a season in memory with these cards, and the name of the curve's file."""
    curve = folder / "own.csv"
    curve.write_text(KNOTS, encoding="utf-8")
    with open_store() as store:
        for number, rows in enumerate(cards):
            path = folder / f"card{number}.csv"
            rows.to_csv(path, index=False)
            store.load(path)
        yield store, str(curve)
