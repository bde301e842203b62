"""The options that choose strokes beside rounds: lie, club, part."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from sgzone.scoring.only import Only

ONLY = ("lie", "club", "part")
"""The names under which a verb receives them."""


def only_options(verb: Callable[..., Any]) -> Callable[..., Any]:
    """Give a verb the options ``lie``, ``club`` and ``part``."""
    for option in (
        click.option("--part", help="Only this part, such as putt_0_10 or wedge_50_100."),
        click.option("--club", help="Only this club as on the card, such as --club 54."),
        click.option("--lie", help="Only from this lie, such as --lie rough."),
    ):
        verb = option(verb)
    return verb


def only_of(lie: str | None, club: str | None, part: str | None) -> Only:
    """Return the strokes that count. Raises ``CallError`` for an unknown lie or part."""
    from sgzone.scoring.only import Only

    return Only(lie, club, part)
