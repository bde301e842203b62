"""The filled cells of one sheet as they come, never more of them than a card can need."""

from __future__ import annotations

from sgzone.cards.grid import Grid
from sgzone.cards.limits import MAX_CELLS, MAX_COLUMNS, MEGA, size
from sgzone.cards.unpacking import too_much


class Budget:
    """How many letters and cells a workbook may have; ``DataError`` where it has more."""

    def __init__(self, file: str, most: int) -> None:
        self.file, self.most = file, most
        self._letters = self._cells = 0

    def take(self, letters: int, cells: int) -> None:
        """Count cells and their letters."""
        self._letters += letters
        self._cells += cells
        if self._letters > self.most:
            raise too_much(self.file, f"cells whose text is more than {size(self.most)}")
        if self._cells > MAX_CELLS:
            raise too_much(self.file, f"more than {MAX_CELLS // MEGA} million cells")


class Rows:
    """The rows of one sheet; places count from 0."""

    def __init__(self, budget: Budget) -> None:
        self._budget = budget
        self._rows: dict[int, list[str]] = {}
        self._width = self._height = 0

    def __bool__(self) -> bool:
        return bool(self._rows)

    def put(self, row: int, column: int, text: str) -> None:
        """Write a text into a cell; blank ones take no place. ``ValueError``: there is one."""
        if not text or text.isspace():
            return
        if column >= MAX_COLUMNS:
            raise too_much(self._budget.file, f"a sheet of more than {MAX_COLUMNS} columns")
        width, height = max(self._width, column + 1), max(self._height, row + 1)
        self._budget.take(len(text), width * height - self._width * self._height)
        self._width, self._height = width, height
        cells = self._rows.setdefault(row, [])
        if column < len(cells) and cells[column]:
            raise ValueError(f"two cells are in the same place of row {row + 1}")
        cells.extend([""] * (column + 1 - len(cells)))
        cells[column] = text

    def grid(self) -> Grid:
        """Return the cells from A1 to the last filled row and column."""
        blank = [""] * self._width
        return [
            row + blank[len(row) :] for row in (self._rows.get(n, []) for n in range(self._height))
        ]
