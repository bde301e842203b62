"""Sentences a person reads are short, and in the words of the trade."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.test_house import PACKAGE

MOST_WORDS = 20
WORDS = sorted(
    path for folder in ("words", "words/rounds") for path in (PACKAGE / folder).glob("*.py")
)
NOT_OURS = re.compile(r"\b(hangs on|stands|nought|none is|interval|intervals)\b")
"""What a coach would not say."""


def sentences(code: str) -> list[str]:
    """Return the sentences of a module's literals; what is filled in counts as one word."""
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
    return [one for text in texts for one in re.split(r"(?<=[.!?])\s+", text) if " " in one]


def _text(node: ast.JoinedStr | ast.Constant) -> str:
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else ""
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else "N" for part in node.values
    )


@pytest.mark.parametrize("module", WORDS, ids=lambda path: path.stem)
def test_a_sentence_has_at_most_20_words(module: Path) -> None:
    code = module.read_text(encoding="utf-8")
    long = [one for one in sentences(code) if len(one.split()) > MOST_WORDS]
    assert not long


@pytest.mark.parametrize("module", WORDS, ids=lambda path: path.stem)
def test_no_word_is_one_that_a_coach_would_not_say(module: Path) -> None:
    code = module.read_text(encoding="utf-8")
    assert not [one for one in sentences(code) if NOT_OURS.search(one)]


def test_long_sentences_are_seen() -> None:
    words = " ".join(["word"] * 15)
    assert [len(s.split()) for s in sentences(f'x = f"{words} {{y}} {words}. Short one."')] == [
        *(31, 2),
    ]
    assert sentences(f'"""{words}"""') == []
