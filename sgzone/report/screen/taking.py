"""The tables of a page as data addresses: a link takes one, offline and without scripts."""

from __future__ import annotations

from urllib.parse import quote

from sgzone.harmless import csv_text
from sgzone.words.tables import Table

_KEPT = " !$'()*+,-./:;=?@[]^_`{|}~"  # of an address in double quotes


def csv_address(table: Table) -> str:
    """Return what ``--format csv`` would print of a table's rows; empty where it has none."""
    if table.data is None or table.data.empty:
        return ""
    return "data:text/csv;charset=utf-8," + quote(csv_text(table.data), safe=_KEPT)
