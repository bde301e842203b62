"""Text of other people made harmless where it is shown: in a terminal, in a spreadsheet.

Stored text is never changed; docs/security.md says who could send what to whom.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pandas as pd

# control characters but tab and newline, marks that turn the direction of writing, half characters
_COMMANDS = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)
_BREAK_WORDS = {"\n": r"\n", "\u2028": r"\u2028", "\u2029": r"\u2029"}
_BREAKS = re.compile("[\n\u2028\u2029]")
_PLAIN = re.compile(r"[\w./\\:~@%+=-]*[\w/\\~@%+=-]|\.\.?")
_JOINER = "\u200d"
_SKINS = {chr(code) for code in range(0x1F3FB, 0x1F400)}
_FLAGS = {chr(code) for code in range(0x1F1E6, 0x1F200)}  # two letters are one flag
_PICTURES = "\U0001f000"  # and beyond: as wide as two letters
_MOST_PARTS = 32
# at the start, and after whatever a spreadsheet may take for the end of a cell
_FORMULA = re.compile(r"(^|[;\t\n])(?=[=+\-@\t])")


def printable(text: str) -> str:
    r"""Return text in which no character commands a terminal; such a one is spelt out.

    >>> printable("\x1b[31mAda")
    '\\x1b[31mAda'
    """
    return _COMMANDS.sub(_spelt, text)


def one_line(text: str) -> str:
    r"""Return printable text that stays on its line: what would break it is spelt out too.

    For a sentence or a cell that another's text stands in: none of it can pass for a line of ours.

    >>> one_line("a\nsgzone: all fine")
    'a\\nsgzone: all fine'
    """
    return _BREAKS.sub(lambda match: _BREAK_WORDS[match[0]], printable(text))


def named(name: object) -> str:
    """Return the name of a file, folder or player as a sentence shows it.

    In quotes where it could be taken for more of the sentence, and on one line.

    >>> named("a/card.csv"), named("card. 9 rows loaded")
    ('a/card.csv', '"card. 9 rows loaded"')
    """
    plain = str(name)
    return plain if _PLAIN.fullmatch(plain) else f'"{one_line(plain)}"'


def _spelt(match: re.Match[str]) -> str:
    code = ord(match[0])
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"


def cut(text: str, room: int, end: str = "...") -> str:
    """Return text that fits into ``room`` columns, cut between whole characters as eyes see them.

    A wide sign takes two columns, an accent none of its own; ``end`` is beyond the room.

    >>> cut("A\u0301da Low", 3), cut("\U0001f3cc\U0001f3cc", 3), cut("Ada", 3)
    ('A\u0301da...', '\U0001f3cc...', 'Ada')
    """
    if len(text) * 2 <= room:
        return text
    place = 0
    for sign in _signs(text):
        room -= _columns(sign)
        if room < 0:
            return text[:place] + end
        place += len(sign)
    return text


def _signs(text: str) -> Iterator[str]:
    """Yield what stands as one sign: a letter with its accents, a flag, a family."""
    start = 0
    for place in range(1, len(text)):
        if not _belongs(text, start, place):
            yield text[start:place]
            start = place
    if text:
        yield text[start:]


def _belongs(text: str, start: int, place: int) -> bool:
    sign, before = text[place], text[place - 1]
    if place - start >= _MOST_PARTS:  # a pile of accents is no sign, and would have no end
        return False
    if unicodedata.category(sign)[0] == "M" or sign == _JOINER or sign in _SKINS:
        return True
    if before == _JOINER:
        return True
    return sign in _FLAGS and before in _FLAGS and place - start == 1


def _columns(sign: str) -> int:
    return 2 if any(map(_wide, sign)) else 1


def _wide(part: str) -> bool:
    return unicodedata.east_asian_width(part) in "WF" or part >= _PICTURES


def cell(text: str) -> str:
    """Return printable text that no spreadsheet takes for a formula: an apostrophe stands first.

    >>> cell("=1+1"), cell("Ada")
    ("'=1+1", 'Ada')
    """
    return _FORMULA.sub(r"\1'", printable(text))


def csv_text(frame: pd.DataFrame, *, header: bool = True) -> str:
    """Return a frame as CSV: unrounded numbers as they are, text cells harmless, missing empty."""
    changed = frame.copy(deep=False)
    for place, name in enumerate(frame.columns):
        column = frame.iloc[:, place]
        if column.dtype.kind in "biufM":
            continue
        words = {word for word in column.unique() if isinstance(word, str)}
        if tamed := {word: cell(word) for word in words if cell(word) != word}:
            changed[name] = [tamed.get(v, v) if isinstance(v, str) else v for v in column]
    changed.columns = [cell(str(name)) for name in frame.columns]
    text: str = changed.to_csv(
        index=False, header=header, lineterminator="\n", date_format="%Y-%m-%d"
    )
    return text


def json_text(text: str) -> str:
    """Return JSON in which what would command a terminal is escaped; its meaning is the same."""
    return _COMMANDS.sub(lambda match: f"\\u{ord(match[0]):04x}", text)
