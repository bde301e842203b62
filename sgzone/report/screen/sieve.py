"""The rows of a stroke table chosen by their lie with the style sheet alone, without scripts."""

from __future__ import annotations

from sgzone.report.page import Section
from sgzone.terms import LIES
from sgzone.words.tables import Table


def lies_of(table: Table) -> list[str]:
    """Return the lie of each row's stroke."""
    found: list[str] = [] if table.data is None else table.data["lie"].astype(str).tolist()
    return found


def lies(section: Section) -> list[str]:
    """Return the lies that the folded tables of a section have strokes from, in their order."""
    there = {lie for _, table in section.folded for lie in lies_of(table)}
    return [lie for lie in LIES if lie in there]


def sieve_rules() -> str:
    """Return the rules that hide other rows, and tables without such a row, once a lie is chosen.

    They stand for each lie: a style sheet cannot compare two attributes.
    """
    return "".join(
        f'main:has(.sieve [value="{lie}"]:checked) .rows:not(:has(.from-{lie})),\n'
        f'main:has(.sieve [value="{lie}"]:checked) .rows tbody tr:not(.from-{lie}) '
        "{ display: none; }\n"
        for lie in LIES
    )
