"""Where in a table the headers stand that a mapping names."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sgzone.cards.columns import names_of, nearest
from sgzone.cards.mapping.schema import Mapping, plain, refused
from sgzone.cards.mapping.toml import shown
from sgzone.cards.tables import TABLE, TABLES, kind_of
from sgzone.cards.tolerant.header import find_header, heading
from sgzone.errors import Problem
from sgzone.harmless import named
from sgzone.units import UNIT_WORDS

NUMBERED = re.compile(r"\[(\d{1,5})\]")
"""How a mapping names a column by its number, from 1."""
_MOST_NAMED = 12  # headers that a message names
MEASURES = ("distance", "depth_ft", "side_ft")
"""What positions say of a stroke, where no column says it."""


@dataclass(frozen=True, slots=True)
class Places:
    """Where the cells of a table stand, counted from 0.

    ``headers``: as they are written in the file. ``ours``: our column -> its place. ``unit_of``:
    our column -> the place of its units. ``positions``: of what -> the places of latitude and
    longitude. ``left``: the places whose header would be read as one of ours and is not to be.
    """

    headers: list[str]
    ours: dict[str, int]
    unit_of: dict[str, int]
    positions: dict[str, tuple[int, int]]
    left: frozenset[int]


def find_places(mapping: Mapping, file: str, headers: list[str]) -> Places:
    """Find every header of a mapping in a table.

    With ``columns`` it is read as they say, and no other header is; without, as on any card.
    Raises ``DataError`` with everything that the mapping says and the table does not have.
    """
    problems: list[Problem] = []
    find = _finder(mapping, file, headers, problems)
    ours = {name: find(("columns", name), header) for name, header in mapping.columns.items()}
    positions = {
        of: (find(("positions", of), pair[0]), find(("positions", of), pair[1]))
        for of, pair in mapping.positions.items()
    }
    unit_of = {
        name: find(("units", name), header)
        for name, header in mapping.lengths.items()
        if header not in UNIT_WORDS.values()
    }
    kind = _kind(mapping, headers)
    names = [heading(kind, header).names for header in headers]
    if not mapping.columns:
        for place, meant in enumerate(names):
            if len(meant) == 1 and not {*meant} & {*mapping.fixed, *ours}:
                ours[meant[0]] = place
    taken = {*ours.values()}
    unwanted = {*mapping.fixed, *ours}
    left = {
        place
        for place, meant in enumerate(names)
        if place not in taken and ({*meant} & unwanted or (meant and mapping.columns))
    }
    problems += _impossible(mapping, file, ours)
    if problems:
        raise refused(mapping.file, sorted(problems, key=lambda p: p.row or 0))
    return Places(headers, ours, unit_of, positions, frozenset(left))


def _kind(mapping: Mapping, headers: list[str]) -> str:
    """Return the kind of table that a mapping makes, or whose headers stand there."""
    there = find_header([headers])
    return kind_of({*mapping.columns, *mapping.fixed}) or (there.kind if there else TABLES[0].kind)


def _finder(
    mapping: Mapping, file: str, headers: list[str], problems: list[Problem]
) -> Callable[[tuple[str, ...], str], int]:
    places: dict[str, list[int]] = {}
    for place, header in enumerate(headers):
        places.setdefault(plain(header), []).append(place)

    def find(keys: tuple[str, ...], header: str) -> int:
        there = places.get(plain(header), [])
        number = NUMBERED.fullmatch(header.strip())
        if number and 1 <= int(number[1]) <= len(headers):
            return int(number[1]) - 1  # whatever the header of another column is
        if len(there) == 1:
            return there[0]
        if there:
            numbers = " or ".join(f'"[{place + 1}]"' for place in there[:_MOST_NAMED])
            wrong = f"{len(there)} columns of {named(file)} have this header"
            fix = f"Write which by its number: {numbers}."
        else:
            wrong, fix = f"{named(file)} has no such header", _instead(header, headers)
        problems.append(mapping.problem(keys, wrong, fix, shown(header)))
        return 0

    return find


def _instead(header: str, headers: list[str]) -> str:
    by_form = {plain(one).replace(" ", "_"): one.strip() for one in headers if one.strip()}
    if guess := nearest(plain(header), by_form):
        return f"Did you mean {shown(by_form[guess])}?"
    there = ", ".join(shown(one) for one in [*by_form.values()][:_MOST_NAMED])
    return f"Its headers are {there}{', ...' if len(by_form) > _MOST_NAMED else ''}."


def _impossible(mapping: Mapping, file: str, ours: dict[str, int]) -> Iterator[Problem]:
    """Yield what a mapping says of columns that are not there."""
    there = {*ours, *mapping.fixed, *(MEASURES if mapping.positions else ())}
    kind = kind_of(there)
    if kind is not None:
        for table in ("columns", "fixed"):
            for name in getattr(mapping, table):
                if name not in names_of(kind):
                    wrong = f"a {TABLE[kind].name} has no such column"
                    fix = f"Its columns are {', '.join(names_of(kind)[:_MOST_NAMED])}, ..."
                    yield mapping.problem((table, name), wrong, fix)
    unit = {"unit"} if mapping.lengths else set()  # words for the column that says it
    for table, said, can_be in (
        ("units", mapping.lengths, {*ours}),
        ("words", mapping.words, there | unit),
    ):
        for name in said:
            if name not in can_be:
                wrong = f"{named(file)} has no column {name}"
                fix = f"Name its header under [columns], or take {table}.{name} out."
                yield mapping.problem((table, name), wrong, fix)
    if "distance" in mapping.lengths and ("unit" in ours or "unit" in mapping.fixed):
        wrong = "the column unit says the unit of a distance too"
        yield mapping.problem(("units", "distance"), wrong, "Keep one of the two.")


def refuse_late_header(mapping: Mapping, file: str, rows: Sequence[tuple[int, list[str]]]) -> None:
    """Raise ``DataError`` where a row below the first filled one holds the headers of a mapping.

    ``rows``: the first filled ones that are not passed over, each with its number.
    """
    wanted = {plain(header) for header in mapping.columns.values()}
    found = {number: len(wanted & set(map(plain, row))) for number, row in rows}
    first, best = rows[0][0], max(found, key=lambda number: found[number])
    if not found[first] and found[best] > 1:
        wrong = f"row {first} of {named(file)} holds none of the headers, row {best} does"
        fix = f"Write skip = {best - 1} above [columns]."
        if mapping.skipped:
            fix = "Name all rows above it under skip."
        raise refused(mapping.file, [mapping.problem(("skip",), wrong, fix)])


def refuse_rows(mapping: Mapping, file: str, height: int) -> None:
    """Raise ``DataError`` where a mapping passes over rows that a table of ``height`` has not."""
    last = mapping.skipped[-1] if mapping.skipped else mapping.above
    if height and (last > height or mapping.above == height):
        wrong = f"{named(file)} has no row {last + (mapping.above == height)}; it has {height}"
        fix = "Name rows that are there; under them come the header and the strokes."
        raise refused(mapping.file, [mapping.problem(("skip",), wrong, fix, str(last))])
