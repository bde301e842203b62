"""How `make docs-site` builds these pages: offline, and whatever Sphinx warns of fails it."""

from __future__ import annotations

import importlib.metadata
import inspect
import re
from typing import Any

from pygments.lexers.special import TextLexer
from sphinx.application import Sphinx

from sgzone import Selection

project = "sgzone"
author = "The sgzone developers"
release = importlib.metadata.version("sgzone")
extensions = ["myst_parser", "sphinx.ext.autodoc"]
exclude_patterns: list[str] = []
source_suffix = {".md": "markdown"}
root_doc = "index"
myst_heading_anchors = 3
html_theme = "furo"
html_title = f"sgzone {release}"
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
autodoc_typehints = "signature"
autodoc_member_order = "bysource"
autodoc_preserve_defaults = True
autodoc_type_aliases = {name: name for name in ("ArrayLike", "Day", "Frame", "NDArray", "Season")}
python_maximum_signature_line_length = 88

_ALIAS = re.compile(r"TypeAliasForwardRef\('(\w+)'\)")
_CONSTANT = re.compile(r" ?= ?((?:\w+\.)*_?[A-Z][A-Z_]{2,})\b")
_ROUNDS = re.compile(r"\*\*rounds: \S*Unpack\[\S+?\]")
ROUNDS = "player: str = None, since: Day = None, until: Day = None, event: str = None"
"""What ``_ROUNDS`` takes."""
_CHART = re.compile(r"^\| \[(.+?)\]\((\S+)\.md\)", re.MULTILINE)
_METHOD = re.compile(r"\[.+?\]\((method-\S+)\.md\)")
UNTOLD = ("sgzone.Store",)
"""Classes that callers do not make themselves."""


def gather(_: Sphinx, name: str, source: list[str]) -> None:
    """Have a page hold the pages that its table links to, so that the side bar is short."""
    held: list[str] = []
    if name == "charts/README":
        held = [f"{said[0].upper()}{said[1:]} <{page}>" for said, page in _CHART.findall(source[0])]
    if name == "method":
        held = _METHOD.findall(source[0])
    if held:
        source[0] += "\n```{toctree}\n:hidden:\n\n" + "\n".join(held) + "\n```\n"


def sign(
    _: Sphinx, _kind: str, name: str, of: Any, _how: object, given: str | None, back: str | None
) -> tuple[str | None, str | None]:
    """Return a signature as a caller reads it: kinds by their names, constants by their values."""
    if name in UNTOLD:
        return "", None
    known = getattr(inspect.unwrap(of), "__globals__", {})

    def valued(match: re.Match[str]) -> str:
        first, *others = match[1].split(".")
        value = known.get(first)
        for other in others:
            value = getattr(value, other, None)
        if value == Selection():
            return "=Selection()"
        return f"={value!r}" if isinstance(value, int | float | str) else match[0]

    told = _CONSTANT.sub(valued, _ALIAS.sub(r"\1", given or ""))
    told = _ROUNDS.sub(ROUNDS if "*, " in told else f"*, {ROUNDS}", told)
    return told or given, _ALIAS.sub(r"\1", back) if back else back


def setup(app: Sphinx) -> None:
    """Let cards shown as csv be plain text, which no lexer knows; see ``gather`` and ``sign``."""
    app.add_lexer("csv", TextLexer)
    app.connect("source-read", gather)
    app.connect("autodoc-process-signature", sign)
