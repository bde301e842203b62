"""Wide tables on narrow terminals: every cell whole, in as many blocks as it takes."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.verbs.layout import GAP, LONG_TEXT, blocks, folded, may_wrap
from tests.hard.calls import call, inside
from tests.season.cardfiles import card_text, write


def test_what_fits_stays_one_block():
    rows = [("wedge", "174", "-0.54"), ("chip", "205", "-0.49")]
    assert blocks(["part", "shots", "gained"], rows, ["left", "right", "right"], 40) == [[0, 1, 2]]


def test_what_does_not_fit_goes_below_beside_the_columns_that_tell_rows_apart():
    rows = [("wedge", "full", "-0.54", "12 to 14"), ("wedge", "half", "-0.49", "15 to 17")]
    sides = ["left", "left", "right", "right"]
    assert blocks(["club", "swing", "value", "interval"], rows, sides, 25) == [[0, 1, 2], [0, 1, 3]]


def test_letters_that_take_two_places_count_twice():
    rows = [("山田太郎", "x" * 8)]
    assert blocks(["a", "b"], [("abcdefgh", "x" * 8), *rows], ["left", "left"], 21) == [[0, 1]]
    assert blocks(["a", "b", "c"], [(*rows[0], "1")], ["left"] * 3, 21) == [[0, 1, 2]]
    assert blocks(["a", "b", "c"], [(*rows[0], "1")], ["left"] * 3, 20) == [[0, 1], [0, 2]]


def test_only_long_texts_wrap():
    rows = [("x", "n" * (LONG_TEXT + 1), "1" * (LONG_TEXT + 1))]
    assert may_wrap(rows, ["left", "left", "right"]) == [False, True, False]


def test_headings_fold_at_words_to_the_width_of_their_cells():
    assert folded(["gained per round, strokes"], [("-0.54",)], 14) == [
        "gained per\nround,\nstrokes"
    ]
    assert folded(["interval"], [("x" * 30,)], 14) == ["interval"]


@given(
    st.lists(st.lists(st.integers(1, 30), min_size=6, max_size=6), min_size=1, max_size=5),
    st.integers(20, 120),
)
def test_every_column_once_beside_the_keys_and_no_block_too_wide(lengths, width):
    rows = [[str(n) + "x" * long for long in row] for n, row in enumerate(lengths)]
    found = blocks(list("abcdef"), rows, ["right"] * 6, width)
    assert [at for block in found for at in block if at > 0] == [1, 2, 3, 4, 5]
    for block in found:
        assert block[0] == 0
        wide = [max(len(row[at]) for row in rows) for at in block]
        assert sum(wide) + GAP * (len(wide) - 1) <= width or len(block) <= 2


@pytest.mark.repeats
@pytest.mark.parametrize("columns", [60, 100])
def test_a_terminal_shows_every_number_whole(
    columns: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same cells as through a pipe, where nothing is folded."""
    rows = [f"{hole},{shot},green,{9 - shot * 4}" for hole in range(1, 19) for shot in (1, 2)]
    card = card_text(*rows)
    again = card.split("\n", 1)[1]
    days = [again.replace("05-14", f"05-{day}") for day in range(15, 20)]  # enough for intervals
    write(tmp_path, "".join([card, *days]), "card.csv")
    ask = ("summary", "--db", "s.duckdb", "--by", "band,lie", "--wide")
    with inside(tmp_path):
        assert call("load", "card.csv", "--db", "s.duckdb").code == 0
        piped = call(*ask).out
        size = {"COLUMNS": str(columns), "LINES": "40"}  # rich asks for both
        for name, value in ({"FORCE_COLOR": "1", "TERM": "dumb"} | size).items():
            monkeypatch.setenv(name, value)
        shown = call(*ask).out
    shown, piped = (text.split("\n\n", 1)[1] for text in (shown, piped))  # without the sentences
    assert "…" not in shown
    assert max(map(len, shown.splitlines())) <= columns < max(map(len, piped.splitlines()))
    numbers = {word for word in piped.split() if word[-1].isdigit() and "." in word}
    assert len(numbers) == 4
    assert numbers <= set(shown.split())
