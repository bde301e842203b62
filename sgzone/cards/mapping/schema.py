"""What a mapping says: which of our columns stand under which header, in which units and words."""

from __future__ import annotations

from collections.abc import Mapping as Table
from dataclasses import dataclass, replace

from sgzone.errors import DataError, Problem, number_of
from sgzone.harmless import named

MOST_TOLD = 100  # mistakes one by one; whoever makes more has another file in mind
Lines = Table[tuple[str, ...], int | None]
"""Key, its tables before it -> the line of the mapping in which it stands."""


@dataclass(frozen=True, slots=True)
class Mapping:
    """A mapping without a mistake in itself; what it says of a table shows beside the table.

    ``file``: its name; ``sha256``: of its bytes. ``columns``: our column -> their header, or
    ``[5]``, the fifth column. ``lengths``: our column -> its unit, ``yd``, ``m`` or ``ft``, or the
    header of a column that says it row by row. ``words``: our column -> their word (``plain``) ->
    ours. ``fixed``: our column -> its value in every row. ``positions``: ``ball``, ``pin`` and
    maybe ``finish`` -> the headers of latitude and longitude. ``above``: rows above the header.
    ``skipped``: rows passed over, as a spreadsheet numbers them. None: the table is to say it.
    """

    file: str
    sha256: str
    columns: Table[str, str]
    lengths: Table[str, str]
    words: Table[str, Table[str, str]]
    fixed: Table[str, str]
    positions: Table[str, tuple[str, str]]
    above: int
    skipped: tuple[int, ...]
    encoding: str | None
    separator: str | None
    decimal: str | None
    dates: str | None
    lines: Lines

    def problem(self, keys: tuple[str, ...], wrong: str, fix: str, value: str = "") -> Problem:
        """Return a mistake in this mapping, with the line and the name of the key at fault."""
        return Problem(self.file, self.lines.get(keys), ".".join(keys), value, wrong, fix)


def plain(text: str) -> str:
    r"""Return a header or word as it is compared: case and blanks do not count.

    >>> plain(" Distance\n(YDS) ")
    'distance (yds)'
    """
    return " ".join(text.split()).casefold()


def refused(file: str, problems: list[Problem]) -> DataError:
    """Return the error of a mapping with mistakes; of many the last one told counts the rest."""
    if len(problems) > MOST_TOLD:
        last = replace(problems[MOST_TOLD], times=len(problems) - MOST_TOLD)
        problems = [*problems[:MOST_TOLD], last]
    total, first = number_of(problems), problems[0]
    count = f"{total} mistake{'s' if total > 1 else ''}"
    where = f"line {first.row}: " if first.row else ""
    lead, fix = f"{named(file)}: {count} in this mapping", "Correct it, or take it away."
    return DataError(
        f"{lead} (first: {where}{first.wrong}). {fix}", problems, beside=f"{lead}. {fix}"
    )
