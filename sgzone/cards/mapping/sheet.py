"""A table of other people while it is made a card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from sgzone.cards.grid import Grid
from sgzone.cards.mapping.schema import Mapping
from sgzone.cards.mapping.toml import shown
from sgzone.errors import Problem, first_of_a_kind


@dataclass
class Sheet:
    """A table: its rows, and our columns as far as they are read.

    ``rows``: the places in ``grid`` of the rows under the header that are not blank. ``theirs``:
    the cells under each header, ``columns``: those of each column of ours, one for each of
    ``rows``. ``stored``: they are the cells of a workbook.
    """

    file: str
    mapping: Mapping
    grid: Grid
    rows: list[int]
    theirs: list[Sequence[str]]
    stored: bool
    columns: dict[str, Sequence[str]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def faults(
        self, column: str, faulty: Sequence[int], values: Sequence[str], wrong: str, fix: str
    ) -> None:
        """Tell that some cells of a column are wrong; ``faulty`` counts along ``rows``."""
        found = (
            Problem(self.file, self.rows[at] + 1, column, shown(values[at]), wrong, fix)
            for at in faulty
        )
        self.problems += first_of_a_kind(found, len(faulty))


def turned(rows: Sequence[list[str]], width: int) -> list[Sequence[str]]:
    """Return the cells of rows by column; of a row of another width as many as there are.

    >>> turned([["a", "b"], ["c"], ["d", "e", "f"]], 2)
    [('a', 'c', 'd'), ('b', '', 'e')]
    """
    even = [row if len(row) == width else (row + [""] * width)[:width] for row in rows]
    return [*zip(*even, strict=True)] if even else [() for _ in range(width)]
