"""What the sequences start from, what a call says, and what two loads at once may leave."""

from __future__ import annotations

import re
import tempfile
from functools import cache
from itertools import permutations
from pathlib import Path

import duckdb

from sgzone.season.store import open_store
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome
from tests.hard.seasons_files import DAYS, PLAYERS, Plan, Share, Sheet, sheet_of
from tests.hard.seasons_model import Loaded, Model, RefusedError
from tests.season.older import taken_back

LOCKED = "is open in another program"
REPORTED = re.compile(
    r"(?:all |its )?(\d+) rows? (?:loaded(?:; (\d+) rows? there before)?|are in|is in)"
)


SHARES = (
    ("shot", (Share(PLAYERS[0], DAYS[0]), Share(PLAYERS[0], DAYS[1]), Share(PLAYERS[1], DAYS[0]))),
    ("shot", (Share(PLAYERS[0], DAYS[0], 2), Share(PLAYERS[2], DAYS[2]))),
    *((kind, tuple(Share(name, DAYS[0]) for name in PLAYERS)) for kind in ("log", "test", "bag")),
)


@cache
def started(*, stocked: bool) -> tuple[bytes, Model, tuple[Sheet, ...]]:
    """Return a season file, its model, and the files in it: none, or two cards and one of a kind.

    To make even an empty one costs as much as a load.
    """
    sheets = tuple(sheet_of(Plan(*share)) for share in SHARES) if stocked else ()
    model = Model()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "season.duckdb")
        with open_store(path) as store:
            for sheet in sheets:
                Path(folder, sheet.name).write_text(sheet.text, encoding="utf-8")
                wanted, report = model.load(sheet), store.load(Path(folder, sheet.name))
                assert Loaded(report.rows, report.in_place) == wanted
        return path.read_bytes(), model, sheets


def age(path: Path, version: int) -> None:
    with duckdb.connect(str(path)) as file:
        taken_back(file, version)


def flag(replace: bool) -> tuple[str, ...]:
    return ("--replace",) if replace else ()


def told_that_it_is_open(done: Outcome) -> None:
    assert (done.code, LOCKED in done.err) == (DATA_AT_FAULT, True), done


def reported(done: Outcome) -> Loaded | None:
    """Return what a load said on the terminal."""
    said = REPORTED.search(done.err)
    if said is None:
        return None
    rows = int(said[1])
    there = said[0].endswith((" are in", " is in"))
    return Loaded(0, rows) if there else Loaded(rows, int(said[2] or 0))


def ways(model: Model, sheets: list[Sheet], done: list[Outcome]) -> list[Model]:
    """Return what two loads may have made of a file: those said to be loaded, in an order."""
    assert CALL_AT_FAULT not in [outcome.code for outcome in done], done
    loaded = [n for n, outcome in enumerate(done) if outcome.code == FINE]
    found = []
    for order in permutations(loaded):
        way = model.copy()
        try:
            reports = {n: way.load(sheets[n]) for n in order}
        except RefusedError:
            continue
        if all(reported(done[n]) == report for n, report in reports.items()):
            found.append(way)
    return found
