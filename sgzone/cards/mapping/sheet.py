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

    ``rows``: the places in ``grid`` of the rows under the header that are not blank; each of
    ``columns`` has one cell for each of them. ``stored``: they are the cells of a workbook.
    """

    file: str
    mapping: Mapping
    grid: Grid
    rows: list[int]
    stored: bool
    columns: dict[str, list[str]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def cells(self, place: int) -> list[str]:
        """Return what stands in one column of the file, from 0, in each row."""
        return [self.grid[at][place] if place < len(self.grid[at]) else "" for at in self.rows]

    def faults(
        self, column: str, faulty: Sequence[int], values: Sequence[str], wrong: str, fix: str
    ) -> None:
        """Tell that some cells of a column are wrong; ``faulty`` counts along ``rows``."""
        found = (
            Problem(self.file, self.rows[at] + 1, column, shown(values[at]), wrong, fix)
            for at in faulty
        )
        self.problems += first_of_a_kind(found, len(faulty))
