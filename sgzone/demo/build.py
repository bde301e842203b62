"""Write the demo season: ``python -m sgzone.demo.build DIR``. The same files every time."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pandas as pd

from sgzone.demo.courses import CLUB_COURSES
from sgzone.demo.flight import NEW_FROM, WORN_CLUB
from sgzone.demo.listed import write_listed
from sgzone.demo.player import Player
from sgzone.demo.practice import bag, simulate_practice_log, simulate_test_blocks, true_stock
from sgzone.demo.presets import demo_player
from sgzone.demo.season import FIRST_DAY, LAST_DAY, demo_card
from sgzone.demo.truth import true_gained, true_patterns
from sgzone.stats.resample import SEED

CARD, LOG, TESTS, BAG = "season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv"
TRUTH = "truth.json"
FILES = (CARD, LOG, TESTS, BAG, TRUTH)

DIGITS = 4  # of the truth: more would differ between machines


def _days(step: int) -> list[str]:
    return [str(day.date()) for day in pd.date_range(FIRST_DAY, LAST_DAY, freq=f"{step}D")]


def _records(frame: pd.DataFrame) -> list[dict[str, Any]]:
    rows = frame.round(DIGITS).to_dict(orient="records")
    return [{str(name): value for name, value in row.items()} for row in rows]


def truth(player: Player) -> dict[str, Any]:
    """Return what is true of the demo's player: parameters, patterns, stock carries, gained."""
    gained = true_gained(player, "tour", courses=CLUB_COURSES).drop(columns="sd")
    return {
        "about": "simulated: an invented player on invented courses; docs/simulator.md",
        "parameters": asdict(player),
        "pattern_share_of_distance": _records(true_patterns(player)),
        "stock_carries_yd": _records(true_stock(player)),
        "gained_against_tour": _records(gained),
        "club_replaced": {"club": WORN_CLUB, "from": str(NEW_FROM.date())},
    }


def write_demo(directory: str | Path) -> tuple[Path, ...]:
    """Write card, practice log, test blocks, bag and truth into a directory; return the paths.

    Raises ``DataError`` where one of them is there and not as it was written.
    """
    out = Path(directory)
    player = demo_player()
    frames = {
        CARD: demo_card(player, SEED),
        LOG: simulate_practice_log(player, _days(3), SEED),
        TESTS: simulate_test_blocks(player, _days(15), SEED),
        BAG: bag(player),
    }
    made = {
        name: frame.to_csv(index=False, float_format="%g", lineterminator="\n").encode()
        for name, frame in frames.items()
    }
    text = json.dumps(truth(player), indent=1, allow_nan=False) + "\n"
    return write_listed(out, {**made, TRUTH: text.encode()})


if __name__ == "__main__":
    write_demo(sys.argv[1] if len(sys.argv) > 1 else "data/demo")
