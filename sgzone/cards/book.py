"""What a workbook says of itself: its sheets, its texts, how its numbers are shown."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from types import MappingProxyType

from sgzone.cards.limits import MAX_CELLS, MAX_STYLES, MEGA
from sgzone.cards.unpacking import Package, too_much

DATE, ELAPSED, PERCENT = "date", "elapsed", "percent"
_ROOT = "_rels/.rels"
_USUAL = "xl/workbook.xml"
_HIDDEN = ("hidden", "veryHidden")
_YES = ("1", "true", "on")
FROM_1900, FROM_1904 = datetime(1899, 12, 30), datetime(1904, 1, 1)
# ECMA-376 part 1, 18.8.30: formats that need no code in the file, those of East Asia included
_BUILT_IN = {
    **dict.fromkeys((*range(14, 23), *range(27, 37), 45, 47, *range(50, 59)), DATE),
    **{46: ELAPSED, 9: PERCENT, 10: PERCENT},
}
_NOWHERE: Mapping[str, str] = MappingProxyType({})
_MAX_CODE = 255  # characters, Excel's own limit
_ESCAPED = re.compile(r"_x(0009|000[AaDd]|005[Ff])_")
# of a format what is no sign of a date: quoted, escaped, blank, filled, a colour, a language
_LITERAL = re.compile(r'"[^"]*"|[\\_*].|\[(?!h+\]|m+\]|s+\])[^\]]*\]', re.IGNORECASE)
_ELAPSED = re.compile(r"\[(h+|m+|s+)\]", re.IGNORECASE)
_DATE = re.compile(r"[dmyhs]", re.IGNORECASE)

Found = tuple[str, dict[str, str]]  # the name of an element, its attributes


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of cells: the part of the workbook that holds it, and whether it is hidden."""

    name: str
    part: str
    hidden: bool


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook but for its cells.

    ``texts``: those that cells name by number. ``shown``: per style how a number in it is
    shown, ``date``, ``elapsed``, ``percent`` or blank. ``epoch``: the day 0 of its dates.
    """

    sheets: tuple[Sheet, ...]
    texts: Sequence[str]
    shown: Sequence[str]
    epoch: datetime


def read_book(package: Package) -> Book:
    """Return what a workbook says of itself; raise ``ValueError`` where it is none."""
    main = _main_part(package)
    links = _links(package, main)
    about = _elements(package, main, "sheet", "workbookPr")
    dated = [at.get("date1904", "") for name, at in about if name == "workbookPr"]
    return Book(
        sheets=_sheets(about, links),
        texts=_texts(package, links),
        shown=_shown(package, links),
        epoch=FROM_1904 if dated and dated[0] in _YES else FROM_1900,
    )


def _main_part(package: Package) -> str:
    if _ROOT in package:
        for kind, part in _relations(package, _ROOT, "").values():
            if kind == "officeDocument":
                return part
    return _USUAL


def _links(package: Package, main: str) -> dict[str, tuple[str, str]]:
    folder, name = posixpath.split(main)
    return _relations(package, f"{folder}/_rels/{name}.rels", folder)


def _relations(package: Package, part: str, folder: str) -> dict[str, tuple[str, str]]:
    """Return by their id the kind of each part that is linked, and its name."""
    found = _elements(package, part, "Relationship")
    return {
        link.get("Id", ""): (
            link.get("Type", "").rpartition("/")[2],
            posixpath.normpath(posixpath.join("/", folder, link.get("Target", ""))),
        )
        for _, link in found
    }


def _sheets(about: Sequence[Found], links: dict[str, tuple[str, str]]) -> tuple[Sheet, ...]:
    sheets: list[Sheet] = []
    for kind, said in about:
        if kind != "sheet":
            continue
        ids = [said[key] for key in said if key.rpartition(":")[2] == "id"]
        link = links.get(ids[0]) if ids else None
        name = said.get("name", "")
        if link is None:
            raise ValueError(f'its sheet "{name[:80]}" is missing')
        if link[0] == "worksheet":  # not a chart's
            sheets.append(Sheet(name, link[1], said.get("state", "") in _HIDDEN))
    if len({sheet.part.lower() for sheet in sheets}) < len(sheets):
        raise ValueError("two of its sheets are one and the same")
    return tuple(sheets)


def _linked(links: dict[str, tuple[str, str]], kind: str) -> str | None:
    return next((part for linked, part in links.values() if linked == kind), None)


class _Elements:
    """Collects the elements of some names, those within an element of another name alone."""

    def __init__(self, wanted: Collection[str], within: Mapping[str, str]) -> None:
        self.found: list[Found] = []
        self._inside = dict.fromkeys(within.values(), False)
        self.starts = {group: partial(self._group, group, True) for group in self._inside}
        self.ends = {group: partial(self._group, group, False) for group in self._inside}
        self.starts |= {name: partial(self._take, name, within.get(name)) for name in wanted}

    def _group(self, group: str, inside: bool, _: object = None) -> None:
        self._inside[group] = inside

    def _take(self, name: str, group: str | None, attributes: dict[str, str]) -> None:
        if group is None or self._inside[group]:
            if len(self.found) >= MAX_STYLES:
                raise ValueError(f"more than {MAX_STYLES} of {name}")
            self.found.append((name, attributes))

    def text(self, text: str) -> None:
        """Take none: only attributes count here."""


def _elements(
    package: Package, part: str, *wanted: str, within: Mapping[str, str] = _NOWHERE
) -> list[Found]:
    reader = _Elements(wanted, within)
    package.read(part, reader)
    return reader.found


def _texts(package: Package, links: dict[str, tuple[str, str]]) -> list[str]:
    part = _linked(links, "sharedStrings")
    if part is None:
        return []
    reader = _Texts(package.file)
    package.read(part, reader)
    return reader.texts


class Runs:
    """Collects the text of one item after the other: of its runs, not of how it is pronounced."""

    def __init__(self) -> None:
        self._pieces: list[str] = []
        self._inside = self._taking = self._pronounced = False
        self.starts: dict[str, Callable[[dict[str, str]], None]] = {
            "t": self._start_text,
            "rPh": self._start_sound,
        }
        self.ends: dict[str, Callable[[], None]] = {"t": self._stop, "rPh": self._end_sound}

    def _start_text(self, _: object) -> None:
        self._taking = self._inside and not self._pronounced

    def _stop(self) -> None:
        self._taking = False

    def _start_sound(self, _: object) -> None:
        self._pronounced = True

    def _end_sound(self) -> None:
        self._pronounced = False

    def _leave(self) -> None:
        self._inside = self._taking = self._pronounced = False

    def text(self, text: str) -> None:
        """Take text."""
        if self._taking:
            self._pieces.append(text)


class _Texts(Runs):
    """Collects the texts that cells name by number."""

    def __init__(self, file: str) -> None:
        super().__init__()
        self.file = file
        self.texts: list[str] = []
        self.starts["si"] = self._start
        self.ends["si"] = self._end

    def _start(self, _: object) -> None:
        self._inside, self._pieces = True, []

    def _end(self) -> None:
        self._leave()
        self.texts.append(unescaped("".join(self._pieces)))
        if len(self.texts) > MAX_CELLS:
            raise too_much(self.file, f"more than {MAX_CELLS // MEGA} million texts")


def unescaped(text: str) -> str:
    """Return a text of a workbook as it was typed: a line's end may be written ``_x000D_``.

    >>> unescaped("two_x000A_lines")
    'two\\nlines'
    """
    return _ESCAPED.sub(lambda sign: chr(int(sign[1], 16)), text) if "_x" in text else text


def _shown(package: Package, links: dict[str, tuple[str, str]]) -> list[str]:
    part = _linked(links, "styles")
    if part is None:
        return []
    found = _elements(package, part, "xf", "numFmt", within={"xf": "cellXfs"})
    codes: dict[int, str] = {}
    for name, at in found:
        if name == "numFmt" and at.get("numFmtId", "").isdecimal():
            codes[int(at["numFmtId"][:9])] = at.get("formatCode", "")
    numbers = [at.get("numFmtId", "0") for name, at in found if name == "xf"]
    return [how_shown(int(n[:9]) if n.isdecimal() else 0, codes) for n in numbers]


def how_shown(number: int, codes: Mapping[int, str]) -> str:
    """Return how a number of one format is shown: as a date, a time gone by, a percentage."""
    if number not in codes:
        return _BUILT_IN.get(number, "")
    plain = _LITERAL.sub("", codes[number][:_MAX_CODE]).partition(";")[0]
    if _ELAPSED.search(plain):
        return ELAPSED
    if _DATE.search(plain):
        return DATE
    return PERCENT if "%" in plain else ""
