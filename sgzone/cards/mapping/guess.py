"""The best guess of what another table's headers mean, and how sure each part of it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from sgzone.cards.clock import today as today_is
from sgzone.cards.columns import ColumnSpec, columns_of, names_of, nearest
from sgzone.cards.grid import Grid
from sgzone.cards.mapping.fits import count_up, fits, number, speaks
from sgzone.cards.mapping.headers import NUMBERED
from sgzone.cards.mapping.known import bare, folded, header_names
from sgzone.cards.mapping.schema import plain
from sgzone.cards.mapping.where import pairs
from sgzone.cards.tables import TABLES, Table
from sgzone.cards.tolerant.header import SEARCHED
from sgzone.cards.tolerant.passing import TOTALS
from sgzone.cards.tolerant.wording import LONGEST

_OWN, _SAID, _OF_TWO, _LIKE, _SPOKEN = range(5)  # how a header was known, the surest first
Columns = Sequence[Sequence[str]]
"""The cells under each header."""
_LIKE_LETTERS = 5  # of a header: a shorter one is like too many
_FINISH = {"lie": "to_lie", "distance": "to_distance"}


@dataclass(frozen=True, slots=True)
class Match:
    """A column of ours under a header of theirs: its place in the file, and why."""

    name: str
    place: int
    sure: bool
    why: str


@dataclass(frozen=True, slots=True)
class Guess:
    """What a table seems to be: its kind, its header, our columns in it.

    ``head``: the place of the header's row, from 0. ``rows``: the rows under it that are not
    blank and not sums; ``sums``: rows that say they are, each with its place in the file.
    ``positions``: of ball, pin and finish -> the places of latitude and longitude.
    """

    table: Table
    head: int
    headers: list[str]
    rows: Grid
    sums: list[tuple[int, list[str]]]
    matches: tuple[Match, ...]
    positions: dict[str, tuple[int, int]]
    today: date

    @property
    def of(self) -> dict[str, Match]:
        """Our column -> where it is."""
        return {match.name: match for match in self.matches}

    @property
    def lacking(self) -> list[ColumnSpec]:
        """The columns that such a table needs and that no header is."""
        return [c for c in columns_of(self.table.kind) if c.needed and c.name not in self.of]

    def cells(self, place: int) -> list[str]:
        """Return what stands in one column of theirs."""
        return column(self.rows, place)

    def header(self, place: int) -> str:
        """Return a header as a mapping names it: by its number where two are the same."""
        written = self.headers[place].strip()
        same = sum(plain(other) == plain(written) for other in self.headers)
        clear = written and same == 1 and not NUMBERED.fullmatch(written)
        return written if clear else f"[{place + 1}]"


def column(rows: Grid, place: int) -> list[str]:
    """Return what stands at one place of each row."""
    return [row[place] if place < len(row) else "" for row in rows]


def guessed(grid: Grid) -> Guess | None:
    """Return what a table seems to be, None where no row of it can be a header."""
    head = _head(grid)
    if head is None:
        return None
    headers = grid[head]
    below = [(at, row) for at, row in enumerate(grid) if at > head and any(map(str.strip, row))]
    sums = [(at, row) for at, row in below if _is_sum(row)]
    apart = {at for at, _ in sums}
    rows = [row for at, row in below if at not in apart]
    today = today_is()
    columns = [column(rows, place) for place in range(len(headers))]
    positions = pairs(headers, columns)
    taken = {place for two in positions.values() for place in two}
    theirs = ["" if place in taken else header for place, header in enumerate(headers)]
    columns = [[] if place in taken else cells for place, cells in enumerate(columns)]
    found = {table.kind: _matched(table, theirs, columns, today) for table in TABLES}
    table = max(TABLES, key=lambda one: _likeness(one, found[one.kind]))
    return Guess(table, head, headers, rows, sums, tuple(found[table.kind]), positions, today)


def _is_sum(row: Sequence[str]) -> bool:
    """Return whether a row begins with a word for a sum."""
    first = next(cell for cell in row if cell.strip())
    return folded(first[:LONGEST]) in TOTALS


def _head(grid: Grid) -> int | None:
    """Return the place of the header: of the first rows the one with most names, and no number."""
    filled = [at for at, row in enumerate(grid) if any(cell.strip() for cell in row)]
    known = {header for table in TABLES for header in header_names(table.kind)}

    def names(at: int) -> tuple[int, int]:
        words = [cell for cell in grid[at] if cell.strip()]
        if any(number(word) is not None for word in words):
            return 0, 0
        return sum(bare(word) in known for word in words), len({*words})

    candidates = [at for at in filled[:SEARCHED] if at != filled[-1] and names(at)[1] > 1]
    return max(candidates, key=names, default=None)


def _likeness(table: Table, matches: Sequence[Match]) -> tuple[bool, int, int]:
    """Return how much a table is of a kind: known by its mark, with what it needs, in all."""
    names = {match.name for match in matches}
    marked = any(match.sure for match in matches if match.name in table.marks)
    lacking = sum(spec.needed and spec.name not in names for spec in columns_of(table.kind))
    return marked, -lacking, len(names)


def _matched(table: Table, headers: Sequence[str], columns: Columns, today: date) -> list[Match]:
    """Return each column of ours at most once, each header at most once, the surest first."""
    found: list[Match] = []
    names: set[str] = set()
    places: set[int] = set()
    for _, match in sorted(_candidates(table, headers, columns, today), key=lambda pair: pair[0]):
        if match.name not in names and match.place not in places:
            found.append(match)
            names.add(match.name)
            places.add(match.place)
    found += [*_finishes(table, headers, found), *_strokes(table, columns, found)]
    return sorted(found, key=lambda match: match.place)


def _finishes(table: Table, headers: Sequence[str], found: Sequence[Match]) -> Iterator[Match]:
    """Yield where strokes finish, in a table whose start and finish have the same header."""
    there = {match.name: match for match in found}
    taken = {match.place for match in found}
    for name, finish in _FINISH.items():
        if name not in there or finish in there or finish not in names_of(table.kind):
            continue
        header = plain(headers[there[name].place])
        for place in range(there[name].place + 1, len(headers)):
            if place not in taken and plain(headers[place]) == header:
                yield Match(finish, place, False, f"a second {headers[place].strip()}: the finish")
                break


def _strokes(table: Table, columns: Columns, found: Sequence[Match]) -> Iterator[Match]:
    """Yield the first column that counts within each hole, where no header is of strokes."""
    there = {match.name: match.place for match in found}
    if "hole" not in there or "shot" in there or "shot" not in names_of(table.kind):
        return
    taken = {*there.values()}
    for place, cells in enumerate(columns):
        if place not in taken and count_up(cells, columns[there["hole"]]):
            yield Match("shot", place, False, "its values rise on every hole")
            return


def _candidates(
    table: Table, headers: Sequence[str], columns: Columns, today: date
) -> Iterator[tuple[tuple[int, int], Match]]:
    """Yield what each header may be, with a number that is less the surer it is."""
    meanings = header_names(table.kind)
    specs = {spec.name: spec for spec in columns_of(table.kind)}
    for place, header in enumerate(headers):
        cells = columns[place]
        named = meanings.get(folded(header)) or meanings.get(bare(header), ())
        fit = [name for name in named if fits(specs[name], cells, today)]
        for name in fit:
            own = folded(header) == folded(name)
            rank = _OWN if own else _SAID if len(fit) == 1 else _OF_TWO
            yield (rank, place), Match(name, place, rank != _OF_TWO, _why(header, name, rank))
        if named:
            continue
        like = _like(bare(header), meanings)
        for name in meanings[like] if like else ():
            if fits(specs[name], cells, today):
                why = f"its header looks like {like}"
                yield (_LIKE, place), Match(name, place, False, why)
        for name, spec in specs.items():
            if reason := speaks(spec, cells, today):
                yield (_SPOKEN, place), Match(name, place, False, reason)


def _like(header: str, meanings: Iterable[str]) -> str | None:
    by_form = {name.replace(" ", "_"): name for name in meanings}
    found = nearest(header, by_form) if len(header) >= _LIKE_LETTERS else None
    return by_form.get(found) if found else None


def _why(header: str, name: str, rank: int) -> str:
    if rank == _OWN:
        return "this is our own name"
    words = " ".join(header.split())
    return f"header is {words}" if rank == _SAID else f"{words} may be {name} by its values"
