"""A hole line cut into numbers, words, signs and values, none of it left out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sgzone.cards.text.clean import bracket_end
from sgzone.harmless import one_line

NUMBER, WORD, SIGN, PAIR, QUOTED, GROUP, NOTE = (
    *("number", "word", "sign", "pair", "quoted"),
    *("group", "note"),
)
_ARROWS = re.compile(r"[-=]{0,3}>+")
_DIGITS = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_LETTERS = re.compile(r"[^\W\d_]+")
_KEY = re.compile(r"[A-Za-z_][\w-]{0,60}=(?!=)")
_VALUE = re.compile(r"[^\s\[\]#;]*")
_ESCAPED = re.compile(r"\\(n|\\|x[\da-f]{2}|u[\da-f]{4})|\]\]")


@dataclass(frozen=True, slots=True)
class Atom:
    """One piece of a line.

    ``text``: as it was typed. ``glued``: nothing blank before it. ``key``, ``value``: of
    ``column=value``; ``value`` also of what stands in brackets or behind a #.
    """

    kind: str
    text: str
    glued: bool
    key: str = ""
    value: str = ""

    @property
    def lower(self) -> str:
        """The text in small letters."""
        return self.text.lower()


def atoms_of(line: str) -> list[Atom]:
    """Return the pieces of a clean line; blanks are in ``glued`` alone.

    A bracket that is never closed is a sign, and so is every other sign that is no value.
    """
    return list(_cut(line))


def unbracketed(text: str) -> str:
    """Return what stands between square brackets: ``]]`` is one, ``\\n`` a new line.

    Signs that command a terminal are spelt out, as ``harmless.one_line`` does.
    """
    return _ESCAPED.sub(_plain, text)


def bracketed(text: str) -> str:
    """Return a text in square brackets, as ``unbracketed`` reads it.

    >>> unbracketed(bracketed("a]b")[1:-1])
    'a]b'
    """
    plain = one_line(text.replace("\\", "\\\\"))
    return f"[{plain.replace(']', ']]')}]"


def _plain(match: re.Match[str]) -> str:
    escaped = match[1]
    if escaped is None:
        return "]"
    if escaped in ("n", "\\"):
        return "\n" if escaped == "n" else escaped
    code = int(escaped[1:], 16)
    return match[0] if 0xD800 <= code < 0xE000 else chr(code)


def _cut(line: str) -> Iterator[Atom]:
    at, glued = 0, False
    closed = line.rfind("]")  # behind it no bracket is closed, and none is looked for
    round_closed = line.rfind(")")
    while at < len(line):
        sign = line[at]
        if sign.isspace():
            at, glued = at + 1, False
            continue
        if sign == "#":
            yield Atom(NOTE, line[at:], glued, value=line[at + 1 :].strip())
            return
        atom = None
        if sign == "[" and at < closed:
            atom = _bracket(line, at, glued)
            closed = closed if atom else -1  # nor is any that opens behind it
        elif sign == "(" and at < round_closed:
            atom = _group(line, at, glued)
        atom = atom or _piece(line, at, glued)
        yield atom
        at, glued = at + len(atom.text), True


def _bracket(line: str, at: int, glued: bool) -> Atom | None:
    """Return what stands in brackets, or a pair whose key does."""
    end = bracket_end(line, at)
    if end < 0:
        return None
    inside = unbracketed(line[at + 1 : end])
    if line.startswith("=", end + 1):
        length, value = _value(line, end + 2)
        return Atom(PAIR, line[at : end + 2 + length], glued, inside, value)
    return Atom(QUOTED, line[at : end + 1], glued, value=inside)


def _group(line: str, at: int, glued: bool) -> Atom | None:
    end, note = line.find(")", at), line.find("#", at)
    if end < 0 or 0 <= note < end:
        return None
    return Atom(GROUP, line[at : end + 1], glued, value=line[at + 1 : end].strip())


def _piece(line: str, at: int, glued: bool) -> Atom:
    if key := _KEY.match(line, at):
        length, value = _value(line, key.end())
        return Atom(PAIR, line[at : key.end() + length], glued, key[0][:-1], value)
    for kind, form in ((NUMBER, _DIGITS), (WORD, _LETTERS), (SIGN, _ARROWS)):
        if match := form.match(line, at):
            return Atom(kind, match[0], glued)
    return Atom(SIGN, line[at], glued)


def _value(line: str, at: int) -> tuple[int, str]:
    """Return how long a value is as it stands, and the value."""
    if line.startswith("[", at) and (end := bracket_end(line, at)) >= 0:
        return end + 1 - at, unbracketed(line[at + 1 : end])
    match = _VALUE.match(line, at)
    text = match[0].rstrip(",") if match else ""
    return len(text), text
