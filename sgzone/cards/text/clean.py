"""A typed line made plain: signs that a phone or a mail program puts in mean what they stand for.

What stands in square brackets is left as it is: a name or a note keeps every sign.
"""

from __future__ import annotations

import re
import unicodedata

MAX_LINE = 50_000
"""Characters; a hole of thirty strokes with a note on each has fewer."""

_QUOTED = re.compile(r"(?:\s*[>|])+\s*")
_BULLET = re.compile(r"\s*(?:[•·◦▪‣●○■□☐☑☒✓✔✅*+-]\s+|[•·◦▪‣●○■□☐☑☒✓✔✅])")
_BOX = re.compile(r"\s*\[[ xX]?\]\s+")
_BLANKS = re.compile(r"[\s\x00-\x1f\x7f]+")
_KEYCAP = re.compile("([0-9#*])\ufe0f?\u20e3")
_FRACTIONS = {"½": ("5", "1/2"), "¼": ("25", "1/4"), "¾": ("75", "3/4")}
_SIGNS = {
    **dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u00b4`\u02bc\uff07", "'"),
    **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb\uff02", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2043\uff0d", "-"),
    **dict.fromkeys("\u2192\u21d2\u279c\u2794\u27a1\u25b6\u203a\u2b95", " > "),
    **dict.fromkeys("\u2044\u2215\u2571\uff0f", "/"),
    **dict.fromkeys("\u00d7\u2715\u2716\u2717\u2718", "x"),
    **dict.fromkeys("\u00ba\u02da", "°"),
    "\u2026": " ",
    "\u037e": ";",
}
_DROPPED = {"Cf", "Cc", "Mn", "Me", "Cs", "Co", "Cn"}


def clean(line: str) -> str:
    """Return a line with plain quotes, dashes, digits and blanks, its bullet or box taken off.

    >>> clean("• 3\u00a0– f112 7\u203210\u2033 4½ # it\u2019s")
    '3 - f112 7\\'10" 4.5 # it\u2019s'
    """
    line = _START_SIGNS.sub("", line)
    done, at = [], 0
    for start, end in _kept(line):
        done += [_plain(line[at:start]), line[start:end]]
        at = end
    plain = "".join([*done, _plain(line[at:])])
    return _without_mark(plain).strip()


_START_SIGNS = re.compile("^[\ufeff\u200b\u200e\u200f\u2060]+")


def bracket_end(text: str, start: int) -> int:
    """Return where the bracket that opens at ``start`` is closed, -1 where it never is.

    A closing bracket within is written twice.
    """
    end = text.find("]", start)
    while end >= 0 and text.startswith("]]", end):
        end = text.find("]", end + 2)
    return end


def _kept(line: str) -> list[tuple[int, int]]:
    """Return where bracketed texts stand, and the note behind a #: nothing in them is changed."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(line):
        opening, note = line.find("[", at), _note_at(line, at)
        if note >= 0 and (opening < 0 or note < opening):
            return [*found, (note, len(line))]
        end = bracket_end(line, opening) if opening >= 0 else -1
        if end < 0:
            return found
        if line[opening + 1 : end].strip(" xX"):  # a box to tick is no text
            found.append((opening, end + 1))
        at = end + 1
    return found


def _note_at(line: str, start: int) -> int:
    place = line.find("#", start)
    while place >= 0 and _NOT_NUMBER.match(line, place):
        place = line.find("#", place + 1)
    return place


_NOT_NUMBER = re.compile("#(?=\ufe0f?\u20e3)")


def _without_mark(line: str) -> str:
    """Return a line without what a list, a mail or a notes app puts before it."""
    for mark in (_QUOTED, _BOX, _BULLET, _BOX):
        if match := mark.match(line):
            line = line[match.end() :]
    return line


def _plain(text: str) -> str:
    if text.isascii():
        return _BLANKS.sub(" ", text)
    text = _KEYCAP.sub(r"\1", unicodedata.normalize("NFC", text))
    done: list[str] = []
    for sign in text:
        done.append(sign if sign.isascii() else _sign(sign, done))
    return _BLANKS.sub(" ", "".join(done))


def _sign(sign: str, before: list[str]) -> str:
    """Return what a sign beyond ASCII stands for, after what stands before it."""
    if sign in _FRACTIONS:
        decimals, swing = _FRACTIONS[sign]
        last = before[-1] if before else ""
        if last == "/":
            return swing
        return f".{decimals}" if last.isdecimal() else f"0.{decimals}"
    if sign in _SIGNS:
        return _SIGNS[sign]
    if "\uff01" <= sign <= "\uff5e":
        return chr(ord(sign) - 0xFEE0)
    kind = unicodedata.category(sign)
    if kind == "Nd":
        return str(unicodedata.decimal(sign))
    if kind in ("Zs", "Zl", "Zp", "So"):
        return " " if sign != "°" else sign
    return "" if kind in _DROPPED else sign
