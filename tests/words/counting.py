"""Sentences taken out of code, help texts and pages, and how many words each has."""

from __future__ import annotations

import ast
import re

MOST_WORDS = 20
NOT_OURS = re.compile(
    r"\b(hangs? on|stands?|nought|none is|intervals?|said|holds the|confidence|"
    r"is held by|are held by|adjusted for few shots)\b"
)
"""What a coach would not say."""

_ENDS = re.compile(r"(?<=[.!?])[)\"'*]*\s+|\n\s*\n|\n(?=\s*(?:[-|]|\d\.) )|\n(?= {2,}sgzone )")
_QUERY = re.compile(
    r"\b(SELECT|WHERE|CASE WHEN|CAST\(|CREATE|INSERT|VALUES|GROUP BY|bit_or|COPY|ATTACH)\b"
)
_NAMES = re.compile(r"^[\w:]+(?: [\w:]+)*$")
"""Names of columns, one after the other, are no sentence where one has a sign in it."""
_FENCE = re.compile(r"^\s*```.*?^\s*```\s*?$", re.MULTILINE | re.DOTALL)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_INDENTED = re.compile(r"(?:^|\n\n)(?: {4}.*\n?)+")
_TABLE = re.compile(r"^\s*\|.*$", re.MULTILINE)
_IMAGE = re.compile(r"!\[([^\]]*)\]\([^)]*\)")
_LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
_SPAN = re.compile(r"`[^`]+`")


def parted(text: str) -> list[str]:
    """Return the sentences of a text, one line each; a word alone is none."""
    found = (" ".join(one.split()) for one in _ENDS.split(text))
    return [one for one in found if " " in one]


def count(sentence: str) -> int:
    """Return how many words a sentence has; a sign alone is none.

    >>> count("The 54 - full - flies 94 yd.")
    6
    """
    return sum(any(letter.isalnum() for letter in word) for word in sentence.split())


def too_long(sentences: list[str]) -> list[str]:
    """Return the sentences with more words than anybody reads at once."""
    return [one for one in sentences if count(one) > MOST_WORDS]


def not_ours(sentences: list[str]) -> list[str]:
    """Return the sentences with a word that a coach would not say."""
    return [one for one in sentences if NOT_OURS.search(one)]


def of_code(code: str) -> list[str]:
    """Return the sentences of a module's literals; what is filled in counts as one word.

    Docstrings are none, and neither is SQL.
    """
    tree = ast.parse(code)
    plain = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
    inside = {
        id(part) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) for part in ast.walk(n)
    } - {id(n) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr)}
    texts = [
        _text(node)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr | ast.Constant) and id(node) not in plain | inside
    ]
    return [one for text in texts if not _no_prose(text) for one in parted(text)]


def _no_prose(text: str) -> bool:
    columns = _NAMES.match(text) and ("_" in text or ":" in text)
    return bool(columns) or bool(_QUERY.search(text))


def _text(node: ast.JoinedStr | ast.Constant) -> str:
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else ""
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else "N" for part in node.values
    )


def of_page(text: str) -> list[str]:
    """Return the sentences of a page; code, tables and formulas are none, a name in code a word."""
    for block in (_FENCE, _COMMENT, _TABLE):
        text = block.sub("\n\n", text)
    text = _INDENTED.sub("\n\n", text)
    for mark, left in ((_IMAGE, r"\1"), (_LINK, r"\1"), (_SPAN, "X")):
        text = mark.sub(left, text)
    return parted(re.sub(r"^(#+ .*)$", r"\1\n", text, flags=re.MULTILINE))
