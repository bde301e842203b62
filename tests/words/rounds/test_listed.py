"""How many rounds there are, whose, and when."""

from __future__ import annotations

from datetime import date
from typing import Any

from sgzone.words.rounds.listed import rounds_lead


def rounds(*players: str) -> dict[str, list[Any]]:
    days = [date(2026, 5, 14 + k) for k in range(len(players))]
    return {"player": list(players), "date": days}


def test_one_player_is_named_and_several_are_counted() -> None:
    assert rounds_lead(rounds("Ned"), "s.duckdb") == "1 round in s.duckdb: Ned, on 14 May 2026."
    said = rounds_lead(rounds("Ned", "Ada", "Ned"), "s.duckdb")
    assert said.startswith("3 rounds in s.duckdb: 2 players, ")


def test_an_empty_file_has_no_rounds() -> None:
    assert rounds_lead(rounds(), "s.duckdb") == "0 rounds in s.duckdb."
