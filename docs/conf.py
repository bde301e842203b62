"""How `make docs-site` builds these pages: offline, and whatever Sphinx warns of fails it."""

from __future__ import annotations

import importlib.metadata

from pygments.lexers.special import TextLexer
from sphinx.application import Sphinx

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
html_copy_source = False
autodoc_typehints = "signature"
autodoc_member_order = "bysource"


def setup(app: Sphinx) -> None:
    """Let cards shown as csv be plain text: no lexer knows them."""
    app.add_lexer("csv", TextLexer)
