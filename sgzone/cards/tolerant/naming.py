"""Which column of the card each column of a table is: by its header, and by what is in it."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field

import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.columns import columns_of, names_of, nearest
from sgzone.cards.shot_rules import TREES, UNSURE_LIES
from sgzone.cards.tables import TABLE
from sgzone.cards.tolerant.coded import coded, texts_of
from sgzone.cards.tolerant.header import Header, Heading
from sgzone.cards.tolerant.wording import LONGEST, folded, lie_read, words_read
from sgzone.errors import Problem
from sgzone.terms import HOLED
from sgzone.units import split_distance

_LIES = ("lie", "to_lie")
_SIDE = "side_ft"
_LOOKED_AT = 200  # distinct texts, to see whether they are lies or lengths
_MOST_NAMED = 8
_READ_FROM_OTHERS = {"shot": "hole"}
"""Column -> the column whose rows, in their order, say what it would."""


@dataclass(slots=True)
class Naming:
    """What the columns of one table are called: a name of the kind, or None for an extra one."""

    file: str
    header: Header
    columns: Sequence[pa.Array]
    names: list[str | None] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def tell(self, column: str, wrong: str, fix: str, severity: str = "error") -> None:
        """Add a problem of the header."""
        row = self.header.row
        self.problems.append(Problem(self.file, row, column, "", wrong, fix, severity))

    def where(self, name: str) -> Heading | None:
        """Return the heading of a column, None where it is not there."""
        return self.header.headings[self.names.index(name)] if name in self.names else None


def name_columns(file: str, header: Header, columns: Sequence[pa.Array]) -> Naming:
    """Return what each column of a table is, with a note of other words and every question."""
    naming = Naming(file, header, columns)
    headings = header.headings
    own = {one.written.lower() for one in headings if one.written.lower() in names_of(header.kind)}
    for one in headings:
        name = one.names[0] if len(one.names) == 1 else None
        other_words = name != one.written.lower()
        naming.names.append(None if other_words and name in own else name)
    _unsure(naming)
    _tell_doubled(naming)
    _tell_unnamed(naming)
    _note_other_words(naming)
    return naming


def _unsure(naming: Naming) -> None:
    """Settle the headers that could be several columns by what stands below them."""
    open_ones = [n for n, one in enumerate(naming.header.headings) if len(one.names) > 1]
    for place in sorted(open_ones, key=lambda n: len(naming.header.headings[n].names)):
        one = naming.header.headings[place]
        fit = [name for name in one.names if name not in naming.names]
        fit = [name for name in fit if _fits(naming.columns[place], name)]
        if "to_lie" in naming.names and "to_distance" in fit:
            fit = ["to_distance"]
        if fit:
            naming.names[place] = fit[0]
        if len(fit) > 1 or _SIDE in fit:
            _ask_which(naming, one.written, fit)


def _ask_which(naming: Naming, written: str, fit: Sequence[str]) -> None:
    """Ask which of two columns a header is; how far left is no less likely than how much."""
    both = list(fit) if len(fit) > 1 else [*fit, "what was left to the hole"]
    fix = f"Call the column {' or '.join(fit)}, whichever it is."
    naming.tell(written, f'"{written}" could be {" or ".join(both)}', fix)


def _fits(column: pa.Array, name: str) -> bool:
    """Return whether what stands in a column can be what its name says."""
    filled = texts_of(coded(column))[:_LOOKED_AT]
    if not filled:
        return False
    return all((_is_lie if name in _LIES else _is_length)(text, name) for text in filled)


def _is_lie(text: str, name: str) -> bool:
    plain = text.lower()
    if name == "to_lie" and words_read("shot", "result").get(folded(text)) == HOLED:
        return True
    return len(text) <= LONGEST and bool(lie_read(text) or plain in TREES or plain in UNSURE_LIES)


def _is_length(text: str, _: str) -> bool:
    with suppress(ValueError):
        split_distance(text.replace(",", ".", 1).lstrip("+-"))
        return True
    return text[:1].isdecimal()


def _tell_doubled(naming: Naming) -> None:
    headings = naming.header.headings
    names = [n for n in dict.fromkeys(naming.names) if n and naming.names.count(n) > 1]
    for name in names:
        there = [h.written for h, n in zip(headings, naming.names, strict=True) if n == name]
        same = len({written.lower() for written in there}) == 1
        wrong = "two columns have this header" if same else f"{_quoted(there)} both read as {name}"
        naming.tell(there[0].lower() if same else name, wrong, "Rename or delete one of them.")
    others = [
        one.written.lower()
        for one, name in zip(headings, naming.names, strict=True)
        if name is None and one.written
    ]
    for header in sorted({other for other in others if others.count(other) > 1}):
        naming.tell(header, "two columns have this header", "Rename or delete one of them.")


def _tell_unnamed(naming: Naming) -> None:
    for place, one in enumerate(naming.header.headings):
        if not one.written:
            trimmed = pc.utf8_trim_whitespace(naming.columns[place].cast(pa.string()))
            if pc.any(pc.fill_null(pc.not_equal(trimmed, ""), False)).as_py():
                naming.tell("", f"column {place + 1} has cells and no header", "Give it a header.")


def _quoted(words: Sequence[str]) -> str:
    return " and ".join(f'"{word}"' for word in words)


def _note_other_words(naming: Naming) -> None:
    """Note which headers are read as a column of another name."""
    said = [
        f'"{one.written}" as {name}'
        for one, name in zip(naming.header.headings, naming.names, strict=True)
        if name and folded(one.written) != folded(name)
    ]
    if said:
        more = f" and {len(said) - _MOST_NAMED} more" if len(said) > _MOST_NAMED else ""
        wrong = f"headers read: {', '.join(said[:_MOST_NAMED])}{more}"
        naming.tell("", wrong, "Nothing, if that is right.", "note")


def tell_missing(naming: Naming, there: set[str]) -> None:
    """Ask for each needed column that is neither there nor can be read from others."""
    kind = naming.header.kind
    known, table = names_of(kind), TABLE[kind].name
    unknown = [one.written.lower() for one in naming.header.headings if one.written]
    unknown = [header for header in unknown if header not in known]
    for column in columns_of(kind):
        if not column.needed or column.name in there:
            continue
        if kind == "shot" and _READ_FROM_OTHERS.get(column.name) in there:
            continue
        slip = next((u for u in unknown if nearest(u, known) == column.name), None)
        hint = f' Rename "{slip}" if that is it.' if slip else ""
        fix = f"Add it: {column.meaning}.{hint}"
        if column.name == "player":
            fix = f'Add the column, or say who with --as "NAME".{hint}'
        naming.tell(column.name, f"a {table} needs this column", fix)


def note_extra(naming: Naming) -> None:
    """Note each column that is none of the kind's; its cells are kept."""
    kind = naming.header.kind
    table, known = TABLE[kind].name, names_of(kind)
    pairs = zip(naming.header.headings, naming.names, strict=True)
    for header in dict.fromkeys(h.written.lower() for h, name in pairs if h.written and not name):
        guess = nearest(header, [name for name in known if name not in naming.names])
        fix = (
            f'Did you mean "{guess}"? If not, there is nothing to do.'
            if guess
            else "Nothing to do; it takes no part in any answer."
        )
        wrong = f"a {table} has no such column; its cells are kept as they are"
        naming.tell(header, wrong, fix, "note")
