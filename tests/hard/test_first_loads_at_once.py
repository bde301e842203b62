"""Three first loads at once into one season file: each is in it, or said to have failed."""

from __future__ import annotations

import os
import random
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import pytest

from sgzone.season.store import open_store
from tests.hard.calls import Outcome, inside
from tests.hard.server import Server
from tests.hard.test_crash import SOUND, card

pytestmark = pytest.mark.long

TRIALS = int(os.environ.get("SGZONE_TRIALS", "200"))
AT_ONCE = 3
STROKES = 6  # of each card


@pytest.fixture(scope="module")
def servers() -> Iterator[list[Server]]:
    with ExitStack() as stack:
        yield [stack.enter_context(Server()) for _ in range(AT_ONCE)]


def test_nothing_is_lost(servers: list[Server], tmp_path: Path) -> None:
    """A card of a third of them is bad: that load takes back the file that it made."""
    moments = random.Random(5)
    seen: Counter[str] = Counter()
    with inside(tmp_path), ThreadPoolExecutor(AT_ONCE) as threads:
        for n in range(AT_ONCE):
            Path(f"good{n}.csv").write_text(card(1, 2, f"Player {n}", 2020))
            Path(f"bad{n}.csv").write_text(card(1, 2, f"Player {n}", 2020) + "x,y\n")
        cards = sorted(path.name for path in Path().iterdir())
        for _ in range(TRIALS):
            names = [f"{moments.choice(('good', 'good', 'bad'))}{n}.csv" for n in range(AT_ONCE)]
            late = [moments.choice((0.0, 0.0, moments.uniform(0, 0.1))) for _ in names]
            done = list(threads.map(_load, servers, names, late))
            loaded = {f"Player {n}" for n, one in enumerate(done) if one.code == 0}
            assert not any(
                one.code == 0 for name, one in zip(names, done, strict=True) if "bad" in name
            )
            assert _held() == loaded, [one.err for one in done]
            seen[f"{len(loaded)} of {sum('good' in name for name in names)}"] += 1
            for left in ("s.duckdb", "s.duckdb.wal"):
                Path(left).unlink(missing_ok=True)
            assert sorted(path.name for path in Path().iterdir()) == cards
    assert TRIALS < 100 or len(seen) > 3, f"they never met: {seen}"
    sys.stdout.write(
        f"{TRIALS} trials, cards loaded of the good ones: {dict(sorted(seen.items()))}\n"
    )


def _load(server: Server, name: str, late: float) -> Outcome:
    time.sleep(late)
    return server.call("load", name, "--db", "s.duckdb")


def _held() -> set[str]:
    """Return whose cards the file holds, each whole; nobody's where there is none."""
    if not Path("s.duckdb").exists():
        return set()
    with open_store("s.duckdb", read_only=True) as store:
        players = set(store.players())
        held = store.frame(SOUND).iloc[0]
    assert held.tolist() == [n * len(players) for n in (STROKES, 1, 1, 2, STROKES)]
    return players
