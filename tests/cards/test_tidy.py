"""The quick way through a tidy file reads what the slow way reads, and leaves the rest to it."""

from __future__ import annotations

import pyarrow as pa
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.cards.delimited import csv_grid
from sgzone.cards.grid import Cells, from_grid
from sgzone.cards.tidy import read_tidy

HEAD = "player,hole,note\n"


def _slowly(text: str, delimiter: str = ",") -> Cells:
    return from_grid("a.csv", *csv_grid("a.csv", text, delimiter))


def _texts(columns: list[pa.Array]) -> list[list[str]]:
    """The cells as text; a blank one is null or empty, as the way of reading has it."""
    return [[cell or "" for cell in column.to_pylist()] for column in columns]


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        (HEAD + "Ann,1,x\nAnn,2,y\n", ["Ann", "1", "x"], ["Ann", "2", "y"]),
        (
            HEAD + 'Ann,1,"short, left"\r\nAnn,2,""\r\n',
            ["Ann", "1", "short, left"],
            ["Ann", "2", ""],
        ),
        (HEAD + "Ann,1,\nÅsa,2,é\n\n\n", ["Ann", "1", ""], ["Åsa", "2", "é"]),
        (HEAD + "NULL,1,NA\nnan,2,7", ["NULL", "1", "NA"], ["nan", "2", "7"]),
    ],
)
def test_tidy_files_take_the_quick_way(text: str, first: list[str], last: list[str]) -> None:
    tidy = read_tidy(text.encode(), ",")
    assert tidy is not None
    headers, columns = tidy
    assert headers == ["player", "hole", "note"]
    assert [cells[0] for cells in _texts(columns)] == first
    assert [cells[-1] for cells in _texts(columns)] == last
    assert _texts(columns) == _texts(_slowly(text).columns)


@pytest.mark.parametrize(
    "rows",
    [
        "",
        "\n",
        "Ann,1,x\n\nAnn,2,y\n",  # a blank line: rows and lines part
        'Ann,1,"two\nlines"\nAnn,2,y\n',
        "Ann,1,7'10\"\n",
        'Ann,1,"7\'10"""\n',
        'Ann,1,"never closed\n',
        'Ann,1,"closed"early\n',
        'Ann,1, "after a blank"\n',
        "Ann,1\n",
        "Ann,1,2,3\n",
        ",,\n",
        " ,1,x\n",
        "Ann,1,x\rAnn,2,y\n",
        "Ann,1,x\nPlayer,hole,note\n",
    ],
)
def test_other_files_take_the_slow_way(rows: str) -> None:
    assert read_tidy((HEAD + rows).encode(), ",") is None


def test_a_header_that_is_none_or_quoted_takes_the_slow_way() -> None:
    assert read_tidy(b"My season\nplayer,hole\nAnn,1\n", ",") is None
    assert read_tidy(b'"player","hole"\nAnn,1\n', ",") is None
    assert read_tidy(b"player,hole", ",") is None


CELL = st.text(alphabet=st.sampled_from("ab7,;\"' \n\r\t"), max_size=6)
WRITTEN = st.tuples(CELL, st.booleans()).map(
    lambda pair: '"' + pair[0].replace('"', '""') + '"' if pair[1] else pair[0]
)
LINES = st.lists(st.lists(WRITTEN, min_size=2, max_size=3), min_size=1, max_size=5)


@given(LINES, st.sampled_from([",", ";", "\t"]), st.sampled_from(["\n", "\r\n"]))
def test_whatever_the_quick_way_reads_the_slow_way_reads_the_same(
    lines: list[list[str]], delimiter: str, end: str
) -> None:
    rows = [delimiter.join(["Ann", *cells]) for cells in lines]
    text = end.join([delimiter.join(["player", "hole", "note"]), *rows]) + end
    tidy = read_tidy(text.encode(), delimiter)
    if tidy is None:
        return
    slow = _slowly(text, delimiter)
    assert not slow.problems
    assert slow.row_numbers == list(range(2, len(tidy[1][0]) + 2))
    assert _texts(tidy[1]) == _texts(slow.columns)
