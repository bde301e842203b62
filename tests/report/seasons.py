"""Small seasons for the tests of the report."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.report.asked import BLOCK, Asked, of_player
from sgzone.report.player import Report, player_report
from sgzone.report.screen.html import to_html
from sgzone.resources import data_path
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store, open_store
from sgzone.words.say import METRIC, Say
from tests.shared import shared

USUAL = Say()
HEAD = "player,date,hole,shot,lie,distance,result\n"
SECOND = "amateur-90"
FIRST_HALF = "2026-04-01..2026-07-14"
HOSTILE = "</script><script>alert(1)</script>\"'>=cmd ‮evil 🏌"


@contextmanager
def season(*cards: Path) -> Iterator[Store]:
    """Open a season file in memory with these cards loaded."""
    with open_store() as store:
        for card in cards:
            store.load(card)
        yield store


def demo() -> Path:
    """Return the card of the demo season."""
    return data_path("demo/season.csv")


def ask(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    say: Say = USUAL,
    **more: Any,
) -> Asked:
    """Return what is asked of the one player of a season file."""
    return of_player(Asked(store, in_store(store, benchmark), selection, say, **more))


@shared
def demo_page() -> str:
    """Return the demo season's page, written once."""
    return to_html(demo_report("plain").page)


@shared
def demo_again() -> Report:
    """Return the plain report of the demo season loaded once more, to hold against it."""
    with season(demo()) as store:
        return player_report(ask(store))


@shared
def demo_report(kind: str = "season") -> Report:
    """Return a report of the demo season, asked once.

    ``season`` and ``block`` against a second benchmark; ``plain``, the season alone; ``halves`` of
    the season; ``metric``, the first in metres.
    """
    given: dict[str, dict[str, Any]] = {
        "season": {"other": SECOND},
        "block": {"other": SECOND, "kind": BLOCK},
        "plain": {},
        "halves": {"other": FIRST_HALF, "selection": Selection(since=date(2026, 7, 15))},
        "metric": {"other": SECOND, "say": Say(METRIC)},
    }
    with season(demo()) as store:
        return player_report(ask(store, **given[kind]))


def card(folder: Path, rows: str, player: str = "Ada") -> Path:
    """Write a card of rows such as ``2026-05-01,1,1,green,9,holed``, the player before each."""
    quoted = '"' + player.replace('"', '""') + '"'
    path = folder / "card.csv"
    lines = "".join(f"{quoted},{row}\n" for row in rows.split())
    path.write_text(HEAD + lines, encoding="utf-8")
    return path


ONE_HOLE = """
2026-05-01,1,1,fairway,100,
2026-05-01,1,2,green,20,
2026-05-01,1,3,green,2,holed
"""
ONLY_PUTTS = "".join(
    f"2026-05-{d:02d},{hole},1,green,9,\n2026-05-{d:02d},{hole},2,green,1,holed\n"
    for d in range(1, 8)
    for hole in range(1, 7)
)
