"""A table in a link: what a spreadsheet reads out of it is what the command line prints."""

from __future__ import annotations

import csv
import io
from urllib.parse import unquote

import pandas as pd

from sgzone.report.screen.taking import csv_address
from sgzone.words.tables import Table


def _table(data: pd.DataFrame | None) -> Table:
    return Table("Clubs", ("club",), (("54",),), ("word",), (True,), data=data)


def test_all_rows_are_there_unrounded() -> None:
    data = pd.DataFrame({"club": ["54", "7i"], "carry": [97.123456789, 150.0], "n": [3, None]})
    address = csv_address(_table(data))
    kind, _, text = address.partition(",")
    assert kind == "data:text/csv;charset=utf-8"
    assert unquote(text).splitlines() == ["club,carry,n", "54,97.123456789,3.0", "7i,150.0,"]


def test_no_cell_is_a_formula_and_none_ends_the_attribute() -> None:
    hostile = ["=1+1", '@sum("a")', "a,b", 'say "x"<&>#%', "two\nlines"]
    address = csv_address(_table(pd.DataFrame({"club": hostile})))
    assert not set('"<>&#\n') & set(address)
    rows = [row[0] for row in csv.reader(io.StringIO(unquote(address.partition(",")[2])))]
    assert rows[0] == "club"
    assert rows[1:3] == ["'=1+1", '\'@sum("a")']
    assert rows[3:5] == hostile[2:4]


def test_a_table_of_no_rows_has_no_link() -> None:
    assert csv_address(_table(None)) == ""
    assert csv_address(_table(pd.DataFrame({"club": []}))) == ""
