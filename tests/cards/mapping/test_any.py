"""Any table with any mapping: it is read, or refused with sentences; nothing else comes of it."""

from __future__ import annotations

import csv
import json
import tempfile
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.cards.mapping.content import PLACES
from sgzone.cards.mapping.raw import beside
from sgzone.cards.mapping.reading import read_mapping
from sgzone.cards.mapping.toml import key, quoted
from sgzone.cards.mapping.write import write_mapping
from sgzone.cards.reader import read_table
from sgzone.cards.tables import all_names
from sgzone.errors import DataError
from sgzone.season.reading import find_problems
from sgzone.terms import LIES

HEADERS = (
    *("player", "date", "hole", "shot", "lie", "distance", "Lage", "Rest (m)", "Lie", "[2]", ""),
    *("Ball lat", "Ball lon", "Pin lat", "Pin lon", "Result", "Einheit", 'say "x"', "a\nb"),
)
CELLS = (
    *("", " ", "1", "18", "0", "-3", "87,5", "87.5", "1.250", "14/5/2026", "5.6.26", "2026-05-14"),
    *("green", "Bunker", "in", "holed", "water", "Total", "m", "yd", "48.137", "11,575", "1e999"),
    *("nan", "١", "½", "7'10\"", "x" * 90, "a\nb", "=1+1", "\x1b[31m", "99/99/9999", "Lie"),
)
LIKELY = ("shot", "lie", "distance", "date", "player", "result", "penalty", "carry_yd")
names = st.sampled_from(sorted(all_names()))
headers = st.sampled_from(HEADERS)
values = st.one_of(st.sampled_from(CELLS).map(quoted), st.integers(-9, 99).map(str))
pairs = st.lists(headers, min_size=2, max_size=2)
widths = st.integers(1, 8)
Table = tuple[list[str], list[list[str]]]


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Return a header, mostly without a name twice, and rows mostly as wide."""
    width = draw(widths)
    head = draw(st.lists(headers, min_size=width, max_size=width, unique=draw(st.booleans())))
    uneven = draw(st.booleans())
    cells = st.lists(
        st.sampled_from(CELLS), min_size=0 if uneven else width, max_size=width + uneven
    )
    return head, draw(st.lists(cells, max_size=8))


@st.composite
def cases(draw: st.DrawFn) -> tuple[Table, str]:
    """Return a table and a mapping that mostly fits it."""
    head, rows = draw(tables())
    lines = [
        f"{name} = {quoted(draw(st.sampled_from(known)))}"
        for name, known in (
            ("encoding", ("utf-8", "cp1252", "iso-8859-15")),
            ("decimal", (".", ",")),
            ("dates", ("dmy", "mdy", "ymd")),
        )
        if draw(st.booleans())
    ]
    if rows and draw(st.booleans()):
        lines.append(f"skip = {[draw(st.integers(1, len(rows) + 1))]}")
    ours = ("hole", *draw(st.permutations(LIKELY)))
    columns = dict(zip(ours, [h for h in dict.fromkeys(head) if h], strict=False))
    if draw(st.integers(0, 3)):
        lines += ["[columns]", *(f"{name} = {quoted(h)}" for name, h in columns.items())]
    lines += draw(parts(columns))
    return (head, rows), "\n".join(lines) + "\n"


@st.composite
def parts(draw: st.DrawFn, columns: dict[str, str]) -> list[str]:
    """Return the other tables of a mapping, now and then with something that cannot be."""
    lines: list[str] = []
    if "distance" in columns and draw(st.booleans()):
        unit = draw(st.sampled_from(("m", "yd", *columns.values())))
        lines += ["[units]", f"distance = {quoted(unit)}"]
    if "lie" in columns and draw(st.booleans()):
        words = draw(st.dictionaries(st.sampled_from(CELLS), st.sampled_from(LIES), max_size=4))
        lines += ["[words.lie]", *(f"{key(word)} = {quoted(lie)}" for word, lie in words.items())]
    fixed = {name: '"Ned"' for name in ("player", "course") if name not in columns}
    if draw(st.integers(0, 9)) == 0:
        fixed |= draw(st.dictionaries(names, values, max_size=2))
    lines += ["[fixed]", *(f"{name} = {value}" for name, value in fixed.items())]
    if not draw(st.integers(0, 3)):
        two = [draw(pairs) if draw(st.booleans()) else [*columns.values()][:2] for _ in PLACES]
        lines += [
            "[positions]",
            *(f"{of} = {json.dumps(one)}" for of, one in zip(PLACES, two, strict=True)),
        ]
    return lines


def written(folder: str, table: Table, separator: str = ",") -> Path:
    text = StringIO()
    csv.writer(text, delimiter=separator).writerows([table[0], *table[1]])
    path = Path(folder, "t.csv")
    path.write_text(text.getvalue(), encoding="utf-8", newline="")
    return path


def is_told(wrong: DataError) -> None:
    assert wrong.problems
    assert all(problem.wrong and problem.fix for problem in wrong.problems)


@given(cases())
@settings(max_examples=200)
def test_a_table_and_a_mapping_by_chance(case: tuple[Table, str]) -> None:
    table, mapping = case
    with tempfile.TemporaryDirectory() as folder:
        path = written(folder, table)
        beside(path).write_text(mapping, encoding="utf-8")
        try:
            text = read_table(path)
        except DataError as wrong:
            is_told(wrong)
            return
        assert text.problems[0].wrong == "read with the mapping t.csv.map.toml"
        rows = text.table["source_row"].to_pylist()
        assert rows == sorted(set(rows))
        assert all(row > 1 for row in rows)


@pytest.mark.long
@given(tables(), st.sampled_from(",;\t|"))
@settings(max_examples=80)
def test_whatever_is_guessed_is_a_mapping_of_that_table(table: Table, separator: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = written(folder, table, separator)
        try:
            target, _ = write_mapping(path)
        except DataError as wrong:
            is_told(wrong)
            return
        read_mapping(target)
        faulty = {problem.file for problem in find_problems(path) if problem.severity == "error"}
        assert faulty <= {"t.csv"}
