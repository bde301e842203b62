"""What the shell completes: players and benchmarks, safely quoted, also in bash.

Verbs, options and the words that an option takes are click's own.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Any

import click
from click.shell_completion import BashComplete, CompletionItem, add_completion_class

from sgzone.terms import AUTO, BENCHMARK_NAMES, WOMEN_NAMES

STANDARDS = (*BENCHMARK_NAMES, *WOMEN_NAMES)
_PLAIN = re.compile(r"[^\w@%+=:,./-]")
_IN_DOUBLE = re.compile(r'[$`"\\!]')


def players(ctx: click.Context, _: click.Parameter, begun: str) -> list[CompletionItem[Any]]:
    """Return the players of the season file whose names begin so, whatever the capitals."""
    return _beginning(_names(ctx, "players"), begun)


def benchmarks(ctx: click.Context, _: click.Parameter, begun: str) -> list[CompletionItem[Any]]:
    """Return the standards and fitted curves that begin so; where none does, a file may."""
    names = [*STANDARDS, AUTO, *_names(ctx, "fitted")]
    return _beginning(names, begun) or [CompletionItem(begun, type="file")]


def _beginning(names: list[str], begun: str) -> list[CompletionItem[Any]]:
    low = begun.casefold()
    return [CompletionItem(name) for name in names if name.casefold().startswith(low)]


def _names(ctx: click.Context, what: str) -> list[str]:
    from sgzone.season.glance.names import names_in

    return names_in(Path(ctx.params.get("db") or "sgzone.duckdb"), what)


class Bash(BashComplete):
    """Bash puts into the line what it is given, so a name is quoted: it may hold anything.

    The script must leave the quotes alone: click's own takes backslashes off and expands stars.
    """

    source_template = BashComplete.source_template.replace(" read type ", " read -r type ").replace(
        "COMPREPLY+=($value)", 'COMPREPLY+=("$value")'
    )

    def format_completion(self, item: CompletionItem[Any]) -> str:
        """Return the line for one completion; that of a file is made by bash."""
        if item.type != "plain":
            return super().format_completion(item)
        return f"{item.type},{quoted(item.value, _open_quote())}"


def complete_in_bash() -> None:
    """Let click ask ``Bash`` where bash completes."""
    add_completion_class(Bash)


def quoted(text: str, opened: str = "") -> str:
    r"""Return a word for bash; ``opened``: the quotation mark that it stands behind already.

    >>> print(quoted("Ned Farrow"), quoted("scratch"), quoted("Ned Farrow", '"'))
    Ned\ Farrow scratch Ned Farrow
    """
    if opened == "'":
        return text.replace("'", "'\\''")
    return (_IN_DOUBLE if opened else _PLAIN).sub(lambda sign: f"\\{sign[0]}", text)


def _open_quote() -> str:
    word = os.environ.get("COMP_WORDS", "").rpartition("\n")[2]
    return word[0] if word[:1] in ("'", '"') else ""


COMPLETED = {"player": players, "benchmark": benchmarks}
"""Setting -> what its option completes."""
