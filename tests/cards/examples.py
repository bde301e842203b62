"""The example hole of an empty card made a player's: a small card that loads."""

from __future__ import annotations

from pathlib import Path

from openpyxl import load_workbook

from sgzone.cards.example import PLAYER

NAME = "Example Player"


def give_example_a_player(path: Path) -> Path:
    """Write a player's name over ``(example)`` in a template; return its path."""
    if path.suffix.lower() == ".csv":
        path.write_text(path.read_text(encoding="utf-8").replace(PLAYER, NAME), encoding="utf-8")
        return path
    book = load_workbook(path)
    for cell in book["card"]["A"]:
        if cell.value == PLAYER:
            cell.value = NAME
    book.save(path)
    return path
