"""Small seasons for the tests of the report."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from sgzone.report.asked import Review, gather
from sgzone.report.player import Report, build, player_report
from sgzone.report.screen.html import to_html
from sgzone.resources import data_path
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from tests.shared import shared

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


@shared
def demo_review() -> Review:
    """Return the demo season's review, asked once."""
    with season(demo()) as store:
        return gather(store, "tour")


@shared
def demo_page() -> str:
    """Return the demo season's page, written once."""
    return to_html(build(demo_review()))


@shared
def demo_again() -> Review:
    """Return the review of the demo season loaded once more, to hold against ``demo_review``."""
    with season(demo()) as store:
        return gather(store, "tour")


@shared
def demo_report(kind: str = "season") -> Report:
    """Return a report of the demo season, asked once.

    ``season`` and ``block`` against a second benchmark; ``halves`` of the season; ``metric``, the
    first in metres.
    """
    with season(demo()) as store:
        if kind == "halves":
            since = Selection(since=date(2026, 7, 15))
            return player_report(store, selection=since, against=FIRST_HALF)
        if kind == "metric":
            return player_report(store, units="metric", against=SECOND)
        return player_report(store, kind=kind, against=SECOND)


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
