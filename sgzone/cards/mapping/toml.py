"""A mapping's file as TOML: read within limits, and where each of its lines stands."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sgzone.cards.grid import fatal
from sgzone.cards.limits import MAX_MAPPING_BYTES
from sgzone.errors import Problem
from sgzone.harmless import cut, one_line
from sgzone.inputs import UnreadError, plain_utf8, read_bytes

MOST_SHOWN = 60  # columns of what was written that a message repeats
_OPENED = re.compile(r"(?:[\[{]\s*(?:\w+\s*=\s*)?){20}")
_PLACE = re.compile(r"^(.*?) \(at (?:line (\d+), column \d+|end of document)\)$", re.DOTALL)
_TABLE = re.compile(r"^\s*\[([^\[\]]+)\]")
_KEY = re.compile(r"""^\s*("(?:[^"\\]|\\.)*"|'[^']*'|[^=\s]+)\s*=""")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST = 1000  # signs in a line: a key of a hundred thousand names keeps TOML busy for minutes
_NESTED = 3  # a table, its key, a list: what nests deeper is no mapping
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\t": "\\t", "\n": "\\n", "\r": "\\r"}


@dataclass(frozen=True, slots=True)
class Document:
    """A file of TOML: ``file`` as messages name it, what it holds, its bytes.

    ``lines``: in which line each table and each key with its tables stands.
    """

    file: str
    data: dict[str, Any]
    held: bytes
    lines: dict[tuple[str, ...], int]

    def problem(self, keys: tuple[str, ...], wrong: str, fix: str, value: object = "") -> Problem:
        """Return a problem of one key, named with its table and its line."""
        column = one_line(cut(".".join(keys), MOST_SHOWN))
        return Problem(self.file, self.lines.get(keys), column, shown(value), wrong, fix)


def read_document(path: Path) -> Document:
    """Read a file of TOML; ``DataError`` where it is none, with the line at fault."""
    file = one_line(path.name)
    try:
        return document_of(path, read_bytes(path, MAX_MAPPING_BYTES, "a mapping"))
    except UnreadError as wrong:
        raise fatal(file, wrong.wrong, wrong.fix, row=wrong.row, value=wrong.value) from wrong


def document_of(path: Path, held: bytes) -> Document:
    """Return what bytes say as TOML. Errors as ``read_document``, ``UnreadError`` for no text."""
    file = one_line(path.name)
    text = plain_utf8(path, held).decode()
    _refuse_long_line(file, text)
    try:
        data = tomllib.loads(text)
    except RecursionError as wrong:
        raise _nested(file) from wrong
    except ValueError as wrong:  # TOML's own, and of numbers of thousands of digits
        deep = _OPENED.search(text)  # where Python's stack was long enough to read on
        raise (_nested(file) if deep else _unread(file, text, str(wrong))) from wrong
    if _depth(data) > _NESTED:
        raise _nested(file)
    return Document(file, data, held, _lines(text))


def quoted(text: str) -> str:
    r"""Return a text as TOML writes it, whatever it holds.

    >>> print(quoted('7\' 10"'))
    "7' 10\""
    """
    return f'"{"".join(map(_written, text))}"'


def key(text: str) -> str:
    """Return a key as TOML writes it: bare where it may be, else in quotes.

    >>> key("lie"), key("Länge (m)")
    ('lie', '"Länge (m)"')
    """
    return text if _BARE.fullmatch(text) else quoted(text)


def shown(value: object) -> str:
    """Return a value as a message repeats it, on one line and no longer than it can be read."""
    return one_line(cut(value if isinstance(value, str) else repr(value), MOST_SHOWN))


def _written(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    if sign.isprintable():
        return sign
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x10000 else f"\\U{ord(sign):08x}"


def _lines(text: str) -> dict[tuple[str, ...], int]:
    table: tuple[str, ...] = ()
    found: dict[tuple[str, ...], int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        if match := _TABLE.match(line):
            table = tuple(_plain(part) for part in match[1].split("."))
            found.setdefault(table, number)
        elif match := _KEY.match(line):
            found.setdefault((*table, _plain(match[1])), number)
    return found


def _plain(written: str) -> str:
    """Return a key as it is meant; what is no key of TOML stays as it is written."""
    written = written.strip()
    try:
        return next(iter(tomllib.loads(f"{written} = 0")))
    except (ValueError, StopIteration, RecursionError):
        return written


def _unread(file: str, text: str, wrong: str) -> Exception:
    match = _PLACE.match(wrong)
    why, row = (match[1], int(match[2]) if match[2] else None) if match else (wrong, None)
    lines = text.splitlines()
    row = min(row or len(lines), len(lines)) or None
    value = lines[row - 1].strip() if row else ""
    return fatal(
        file,
        f"this is not TOML ({shown(why)})",
        'Write name = "value", with texts in quotes; # starts a remark.',
        row=row,
        value=shown(value),
    )


def _refuse_long_line(file: str, text: str) -> None:
    for row, line in enumerate(text.split("\n"), 1):
        if len(line) > _LONGEST:
            wrong = f"a line of {len(line)} signs; a mapping's lines have at most {_LONGEST}"
            raise fatal(file, wrong, "Write one name or word a line.", row=row, value=shown(line))


def _nested(file: str) -> Exception:
    return fatal(
        file,
        "tables inside tables here, deeper than any mapping",
        'Write [columns] and under it lines such as lie = "Lage".',
    )


def _depth(value: object) -> int:
    deepest, waiting = 0, [(value, 0)]
    while waiting:
        one, depth = waiting.pop()
        deepest = max(deepest, depth)
        if isinstance(one, dict | list):
            inside = one.values() if isinstance(one, dict) else one
            waiting += [(each, depth + 1) for each in inside]
    return deepest
