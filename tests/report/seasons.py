"""Small seasons for the tests of the report."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sgzone.resources import data_path
from sgzone.season.store import Store, open_store

HEAD = "player,date,hole,shot,lie,distance,result\n"
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
