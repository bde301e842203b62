"""Deleting asks first: what would go is shown, and nothing goes without a yes."""

from __future__ import annotations

import sys
from collections.abc import Mapping

import click

from sgzone.errors import CallError
from sgzone.verbs.show import say
from sgzone.words.cards.going import going


def agreed(what: Mapping[str, int], whose: str, *, yes: bool) -> bool:
    """Show what would be deleted and return whether it may go.

    ``yes``: it was agreed to in the call. Raises ``CallError`` where nobody is there to ask.
    """
    if yes:
        return True
    told = going(what, whose)
    if not somebody_is_there():
        raise CallError(f"{told} Add --yes to delete it; without a terminal nobody can be asked.")
    if click.confirm(f"{told} Delete it?", err=True):
        return True
    say("Nothing was deleted.")
    return False


def somebody_is_there() -> bool:
    """Return whether a question would be seen and could be answered."""
    return sys.stdin.isatty() and sys.stderr.isatty()
