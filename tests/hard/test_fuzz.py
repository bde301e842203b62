"""Thousands of cards through the real command line: valid, nearly valid, hostile, mutated.

``SGZONE_FUZZ`` says how many; `make fuzz` runs many, from another seed each time.
"""

from __future__ import annotations

import csv
import os
import shutil
import tempfile
import zipfile
from collections.abc import Iterator
from io import StringIO
from itertools import count
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from sgzone.scoring import check_totals
from sgzone.season.store import open_store
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome, call, inside
from tests.hard.hostile import Table, mutated, plain_tables, spoiled_tables

CARDS = int(os.environ.get("SGZONE_FUZZ", "20"))
SOME = settings(
    max_examples=CARDS,
    derandomize="SGZONE_FUZZ" not in os.environ,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),  # a shrunk case costs minutes
)
FEW = settings(SOME, max_examples=max(CARDS // 3, 1))
COUNTS = " + ".join(
    f"(SELECT count(*) FROM {table})" for table in ("strokes", "practice_log", "test_balls", "bag")
)
HELD = f"SELECT {COUNTS} AS rows, (SELECT count(*) FROM loads) AS loads"
VERBS = ("gained", "summary", "counts", "rounds")
runs = count()


@pytest.fixture(scope="module")
def bench() -> Iterator[Path]:
    """A folder with an empty season file, one with a card in it, and a card of every kind."""
    with tempfile.TemporaryDirectory() as folder, inside(Path(folder)):
        call("load", "none.csv", "--db", "empty.duckdb")
        call("template", "card.csv")
        call("template", "card.xlsx")
        call("load", "card.csv", "--db", "full.duckdb")
        pd.read_csv("card.csv", dtype=str).to_parquet("card.parquet")
        yield Path(folder)


def loaded(name: str) -> tuple[Outcome, Outcome, int]:
    """Check and load one file into an empty season file; return both outcomes and the rows held.

    Asserts that both agree, that it is all or nothing, that errors point into the file, and that
    what was loaded can be asked and adds up.
    """
    shutil.copyfile("empty.duckdb", "season.duckdb")
    checked = call("check", name, "--format", "json")
    load = call("load", name, "--db", "season.duckdb")
    assert checked.code == load.code
    problems = checked.json()
    assert any(p["severity"] == "error" for p in problems) == (load.code == DATA_AT_FAULT)
    with open_store("season.duckdb", read_only=True) as store:
        held = store.frame(HELD).iloc[0]
        assert (held["loads"] == 1) == (held["rows"] > 0) == (load.code == FINE)
        if load.code == FINE:
            totals = check_totals(store)
            assert totals["difference"].dropna().abs().max() < 1e-9 or totals.empty
    if load.code == FINE:
        verb = VERBS[next(runs) % len(VERBS)]
        assert call(verb, "--db", "season.duckdb", "--format", "csv").code == FINE
        assert call(verb, "--db", "season.duckdb").code == FINE
    return checked, load, int(held["rows"])


@SOME
@given(
    table=st.one_of(spoiled_tables(), spoiled_tables(), plain_tables()),
    delimiter=st.sampled_from(",;\t"),
    newline=st.sampled_from(("\n", "\r\n", "\r")),
)
def test_a_card_loads_whole_or_is_refused(
    bench: Path, table: Table, delimiter: str, newline: str
) -> None:
    text = table.csv(delimiter, newline)
    Path("fuzz.csv").write_text(text, encoding="utf-8", newline="")
    checked, load, rows = loaded("fuzz.csv")
    there = list(csv.reader(StringIO(text, newline=""), delimiter=delimiter))
    for problem in checked.json():
        assert problem["row"] is None or 1 <= problem["row"] <= max(len(there), 1)
    if load.code == FINE:
        assert rows == sum(any(map(str.strip, row)) for row in there) - 1


@FEW
@given(table=plain_tables(), data=st.data())
def test_a_faulty_row_is_named_by_its_true_line(
    bench: Path, table: Table, data: st.DataObject
) -> None:
    """Blank lines and cells of several lines stand above it; the row counts as a sheet does."""
    header, *rows = (row for row in table.rows if row)
    lines: list[tuple[str, ...] | None] = [(*header, "note")]
    fault = data.draw(st.integers(0, len(rows) - 1))
    kind = data.draw(st.sampled_from(("lie", "date", "width")))
    true = 0
    for place, row in enumerate(rows):
        lines += [None] * data.draw(st.integers(0, 2))
        cells = dict(zip(header, row, strict=True))
        if place == fault and kind != "width":
            cells[kind] = "nonesuch"
        note = data.draw(st.sampled_from(("", "two\nlines", 'said "7"', "one\r\n\r\nthree", "a,b")))
        spare = ("",) if place == fault and kind == "width" else ()
        lines.append((*cells.values(), note, *spare))
        if place == fault:
            true = len(lines)
    Path("fuzz.csv").write_text(Table(tuple(lines)).csv(), encoding="utf-8", newline="")
    checked, load, _ = loaded("fuzz.csv")
    assert load.code == DATA_AT_FAULT
    column = "" if kind == "width" else kind
    errors = [p for p in checked.json() if p["severity"] == "error"]
    assert [p["row"] for p in errors if p["column"] == column] == [true]


@FEW
@given(data=st.data(), name=st.sampled_from(("card.csv", "card.xlsx", "card.parquet")))
def test_a_damaged_file_loads_whole_or_is_refused(
    bench: Path, data: st.DataObject, name: str
) -> None:
    target = Path("damaged").with_suffix(Path(name).suffix)
    target.write_bytes(data.draw(mutated(Path(name).read_bytes())))
    loaded(target.name)


@FEW
@given(data=st.data())
def test_a_damaged_part_of_a_workbook(bench: Path, data: st.DataObject) -> None:
    """The archive is sound, one of its files is not."""
    with zipfile.ZipFile("card.xlsx") as sound, zipfile.ZipFile("damaged.xlsx", "w") as damaged:
        spoiled = data.draw(st.sampled_from(sound.namelist()))
        for name in sound.namelist():
            content = sound.read(name)
            damaged.writestr(name, data.draw(mutated(content)) if name == spoiled else content)
    loaded("damaged.xlsx")


@FEW
@given(data=st.data())
def test_damaged_settings_and_curves(bench: Path, data: st.DataObject) -> None:
    settings_text = b'recoverable = 0.5\nparts = ["putt_0_10"]\n[part.putt_0_10]\nrate_hours = 3\n'
    curve = b"lie,distance,unit,strokes,source\ngreen,3,ft,1.1,me\ngreen,30,ft,2.1,me\n"
    Path("own.toml").write_bytes(data.draw(mutated(settings_text)))
    Path("own.csv").write_bytes(data.draw(mutated(curve)))
    plan = ("practice", "--hours", "5", "--weeks", "6", "--db", "full.duckdb")
    assert call(*plan, "--settings", "own.toml").code != CALL_AT_FAULT
    assert call("gained", "--benchmark", "own.csv", "--db", "full.duckdb").code != CALL_AT_FAULT


words = st.one_of(
    st.sampled_from(("--player", "--since", "--by", "--level", "--format", "--benchmark", "-1")),
    st.sampled_from(
        ("csv", "2026-05-14", "0.9", "Example Player", "part,total", "'; DROP", "\x1b[")
    ),
    st.text(st.characters(exclude_characters="\x00"), max_size=8),
)


@FEW
@given(verb=st.sampled_from((*VERBS, "why", "compare", "trend", "clubs")), rest=st.lists(words))
def test_any_call_ends_in_a_sentence(bench: Path, verb: str, rest: list[str]) -> None:
    call(verb, "--db", "full.duckdb", *rest)
