"""The pages of the documentation, taken apart: what is code in them, and what it names."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PAGES = (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").rglob("*.md")))

_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_SPAN = re.compile(r"`([^`\n]+)`")
_MORE_VERBS = re.compile(r"`sgzone [a-z]+`((?:(?:, and |, or |, | and | or )`[a-z]+`)+)")
_ENDS_A_CALL = {"|", ">", ">>", "<", "&&", ";"}


def fences(text: str, language: str) -> list[str]:
    """Return what stands between fences of a language."""
    return [body for said, body in _FENCE.findall(text) if said == language]


def spans(text: str) -> list[str]:
    """Return the code in the lines of a page, fences left out."""
    return _SPAN.findall(_FENCE.sub("", text))


def shell_lines(text: str) -> list[str]:
    """Return the lines of the page's shell blocks, whole, without comments."""
    lines = "".join(fences(text, "sh")).replace("\\\n", " ").splitlines()
    return [line.split("  #")[0].strip() for line in lines if line.strip()]


def commands(text: str, verbs: frozenset[str]) -> list[list[str]]:
    """Return the words of every call of sgzone a page shows, from the verb on.

    In shell blocks, in code of its own (``sgzone summary --by lie``, ``summary --by lie``), and in
    a list that goes on after one (``sgzone clubs``, ``number``).
    """
    said = [*shell_lines(text), *spans(text)]
    found = [_words(line) for line in said if line.startswith("sgzone ")]
    found += [_words("sgzone " + line) for line in spans(text) if _short_call(line, verbs)]
    for rest in _MORE_VERBS.findall(_FENCE.sub("", text)):
        found += [[verb] for verb in _SPAN.findall(rest)]
    return [words for words in found if words and not words[0].isupper()]


def _short_call(line: str, verbs: frozenset[str]) -> bool:
    return line.split()[0] in verbs and " --" in line


def _words(line: str) -> list[str]:
    words = shlex.split(line)[1:]
    end = next((k for k, word in enumerate(words) if word in _ENDS_A_CALL), len(words))
    return [word for word in words[:end] if word not in ("...", "…")]


def lone_options(text: str) -> list[str]:
    """Return the options that a page names without their verb."""
    alone = [span for span in spans(text) if span.startswith("--")]
    return [word.split("=")[0] for span in alone for word in span.split() if word.startswith("--")]
