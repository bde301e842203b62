"""At hand: what a whole call costs, the start of Python and all imports counted.

Each call runs in a process of its own, its output into a pipe, turn by turn with a floor: the same
Python loading the libraries that nearly every answer needs, and nothing else. What is compared is
the least processor time (user and system) of each. Only the ratio to the floor means anything.
"""

from __future__ import annotations

import csv
import os
import resource
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from math import inf
from pathlib import Path
from tempfile import TemporaryDirectory

from sgzone.report.screen.script import CACHE
from sgzone.resources import data_path
from sgzone.season.store import open_store

FLOOR = ("-c", "import duckdb, pandas, pyarrow, scipy.special")
REPEATS = 5
LOADED = ("season.csv", "bag.csv", "practice_log.csv", "test_blocks.csv")
"""Of the demo: the season that is asked."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call as it is typed, and the most it may cost, as a multiple of the floor."""

    typed: str
    goal: float
    repeats: int = REPEATS


CALLS = (
    Call("rounds", 0.5),
    Call("benchmarks", 0.9),
    Call("benchmarks tour", 0.9),
    Call("sources", 0.9),
    Call("template new.csv", 0.9),
    Call("map OTHER --replace", 0.9),
    Call("check CARD", 1.0),
    Call("load CARD --db new.duckdb", 1.0),
    Call("gained", 1.25),
    Call("counts", 1.25),
    Call("debrief", 1.25),
    Call("agree", 1.25),
    Call("compare --by club", 1.4),
    Call("trend", 1.4),
    Call("practice --hours 5", 1.4),
    Call("clubs", 1.4),
    Call("number 97", 1.4),
    Call("summary", 1.7),
    Call("why", 2.2),
    Call("report new.html", 6.0, 2),
    Call("report new.pdf", 6.5, 2),
)
TEAM = Call("report new.html --kind team --db SQUAD", 13.0, 1)


def tell(folder: Path, squad: Path, scripts: str) -> Iterable[str]:
    """Yield the lines of the table; ``squad``: a season file of 20 players.

    ``scripts``: the folder of the charts' script, made already as from a second report on.
    """
    other = folder / "other"
    other.mkdir(
        exist_ok=True
    )  # the mapping that is written beside this card would act on the other
    names = {
        "CARD": str(card_of_one_round(folder)),
        "OTHER": str(card_of_one_round(other)),
        "SQUAD": str(squad),
    }
    season = folder / "at-hand.duckdb"
    if not season.exists():
        with open_store(season) as store:
            for name in LOADED:
                store.load(data_path(f"demo/{name}"))
    surroundings = {**os.environ, "SGZONE_DB": str(season), CACHE: scripts}
    surroundings.pop("PYTHONDONTWRITEBYTECODE", None)  # what was compiled is kept, as for a user
    costs = least((*CALLS, TEAM), names, surroundings)
    floor = costs[" ".join(FLOOR)]
    yield f"\nat hand: processor time over the floor's {floor:.2f} s, least of up to {REPEATS}"
    for call in (*CALLS, TEAM):
        ratio = costs[call.typed] / floor
        verdict = "met" if ratio <= call.goal else "missed"
        yield f"  {call.typed:40}{ratio:7.2f}   goal {call.goal:5.2f}   {verdict}"


def least(
    calls: Iterable[Call], names: dict[str, str], surroundings: dict[str, str]
) -> dict[str, float]:
    """Return the least processor seconds of each call, and of the floor, run turn by turn."""
    costs = {" ".join(FLOOR): inf}
    for turn in range(REPEATS):
        for call in calls:
            if turn >= call.repeats:
                continue
            words = [names.get(word, word) for word in call.typed.split()]
            for key, command in (
                (" ".join(FLOOR), FLOOR),
                (call.typed, ("-m", "sgzone", *words)),
            ):
                costs[key] = min(costs.get(key, inf), processor_time(command, surroundings))
    return costs


def processor_time(command: tuple[str, ...], surroundings: dict[str, str]) -> float:
    """Return the processor seconds of a call of Python, in a folder of its own."""
    with TemporaryDirectory() as empty:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, *command],
            check=True,
            cwd=empty,
            env=surroundings,
            capture_output=True,
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def card_of_one_round(folder: Path) -> Path:
    """Write the first round of the demo's card; return where."""
    path = folder / "one-round.csv"
    with data_path("demo/season.csv").open(encoding="utf-8", newline="") as file:
        header, *rows = csv.reader(file)
    day = header.index("date")
    with path.open("w", encoding="utf-8", newline="") as to:
        csv.writer(to).writerows([header, *(row for row in rows if row[day] == rows[0][day])])
    return path
