"""The tables of a page as data addresses: a link takes one, offline and without scripts."""

from __future__ import annotations

import re
from urllib.parse import quote

from sgzone.harmless import csv_text
from sgzone.words.tables import Table

_KEPT = " !$'()*+,-./:;=?@[]^_`{|}~"  # of an address in double quotes
_OTHER = re.compile(f"[^A-Za-z0-9{re.escape(_KEPT)}]+")


def csv_address(table: Table) -> str:
    """Return what ``--format csv`` would print of a table's rows; empty where it has none."""
    if table.data is None or table.data.empty:
        return ""
    return "data:text/csv;charset=utf-8," + quoted(csv_text(table.data), _OTHER)


def quoted(text: str, other: re.Pattern[str]) -> str:
    """Return a text as an address holds it: what is of ``other`` as the numbers of its bytes."""
    return other.sub(lambda found: quote(found[0], safe=""), text)
