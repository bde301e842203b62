"""The options that say what a file does not say itself: answers to what it could be asked."""

from __future__ import annotations

import functools
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from sgzone.cards.given import ORDERS, READ_BY, Given, answers
from sgzone.harmless import named
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.season.folders import Found

Verb = Callable[..., Any]

sheet_option = click.option(
    "--sheet", metavar="NAME", help="The only sheet to read, such as --sheet May."
)
_OPTIONS = (
    click.option("--as", "player", metavar="NAME", help='Who played, such as --as "Ned Farrow".'),
    click.option(
        "--dates",
        type=click.Choice(ORDERS),
        help="How to read 5/6/2026: --dates dmy is 5 June, mdy 6 May.",
    ),
    sheet_option,
    click.option(
        "--map",
        "mapping",
        type=click.Path(path_type=Path, dir_okay=False),
        metavar="FILE",
        help="What its headers and words mean, such as --map phone.map.toml.",
    ),
    click.option(
        "--new-player",
        is_flag=True,
        help="The name is right: a new player, though like a known one.",
    ),
)


def given_options(verb: Verb) -> Verb:
    """Give a verb the answers of the caller; it receives them as its argument ``given``."""

    @functools.wraps(verb)
    def wrapper(
        *words: Any,
        player: str | None,
        dates: str | None,
        sheet: str | None,
        mapping: Path | None,
        new_player: bool,
        **rest: Any,
    ) -> Any:
        given: Given = answers(player, dates, sheet, mapping, new_player=new_player)
        return verb(*words, given=given, **rest)

    offered: Verb = wrapper
    for option in reversed(_OPTIONS):
        offered = option(offered)
    return offered


def refuse_unread(found: Found, given: Given) -> None:
    """Refuse an answer that none of the files asks for: silence would look like an answer.

    In a folder there may be a file tomorrow that does.
    """
    if found.inside or all(getattr(given, name) is None for name in READ_BY):
        return
    from sgzone.season.reading import acting

    read = frozenset[str]().union(*(acting(file, given) for file in found.files))
    one = len(found.files) == 1
    refuse_idle(named(found.files[0]) if one else "these files", {*READ_BY} - read)
