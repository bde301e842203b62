"""What is tried with a card, a damaged file or a call, and what must hold of it.

Each trial draws its case and runs it through a ``Desk``. `tests/hard/test_fuzz.py` runs a few of
each, `tests/hard/night.py` as many as there is time for.
"""

from __future__ import annotations

import csv
import random
import shutil
import zipfile
from collections import Counter
from collections.abc import Callable
from io import StringIO
from pathlib import Path

import pandas as pd
from hypothesis import strategies as st
from openpyxl import Workbook

from sgzone.cards.text.card import lines_of
from sgzone.scoring import check_totals
from sgzone.season.reading import read_card
from sgzone.season.store import open_store
from tests.cards.examples import NAME, give_example_a_player
from tests.hard import books
from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome
from tests.hard.drawn_books import hostile_books, sound_books
from tests.hard.hostile import Table, mutated, plain_tables, spoiled_tables
from tests.hard.typed_cards import lines_lost, plain_text_cards, spoiled_text_cards

Call = Callable[..., Outcome]
Trial = Callable[["Desk", st.DataObject], None]

COUNTS = " + ".join(
    f"(SELECT count(*) FROM {table})" for table in ("strokes", "practice_log", "test_balls", "bag")
)
HELD = f"SELECT {COUNTS} AS rows, (SELECT count(*) FROM loads) AS loads"
VERBS = ("gained", "summary", "counts", "rounds")
QUESTIONS = (("rounds", "--format", "csv"), ("gained", "--format", "csv"))
HEAD = 12_288  # bytes: the headers of a season file, where damage does most


class Desk:
    """The present folder with what every trial starts from, and the way sgzone is called in it.

    ``one_in``: one case in so many is also checked, asked and added up; each one is loaded.
    ``done`` counts the cases by trial, ``ends`` how their main call ended.
    """

    def __init__(self, call: Call, one_in: int = 1) -> None:
        self.call, self.one_in = call, one_in
        self.done: Counter[str] = Counter()
        self.ends: Counter[int] = Counter()
        open_store("empty.duckdb").close()
        for name in ("card.csv", "card.xlsx"):
            self.call("template", name)
            give_example_a_player(Path(name))
        self.call("load", "card.csv", "--db", "full.duckdb")
        pd.read_csv("card.csv", dtype=str).to_parquet("card.parquet")
        more = Path("card.csv").read_text().replace(NAME, "Another")
        Path("more.csv").write_text(more)
        self.answers = {q: call(*q, "--db", "full.duckdb").out for q in QUESTIONS}
        assert all(len(answer.splitlines()) > 1 for answer in self.answers.values())

    def closely(self) -> bool:
        """Return whether the present case is one of those looked at from all sides."""
        return sum(self.done.values()) % self.one_in == 0


def loaded(desk: Desk, name: str) -> tuple[Outcome, int, list[dict[str, object]] | None]:
    """Load a file into an empty season file: how that ended, the rows held, the problems found.

    Asserts that it is all or nothing; looked at closely, that `check` agrees and that what was
    loaded can be asked and adds up. No list of problems: not looked at closely.
    """
    shutil.copyfile("empty.duckdb", "season.duckdb")
    load = desk.call("load", name, "--db", "season.duckdb")
    desk.ends[load.code] += 1
    closely = desk.closely()
    with open_store("season.duckdb", read_only=True) as store:
        held = store.frame(HELD).iloc[0]
        assert (held["loads"] == 1) == (held["rows"] > 0) == (load.code == FINE)
        if closely and load.code == FINE:
            totals = check_totals(store)
            assert totals.empty or totals["difference"].dropna().abs().max() < 1e-9
    if not closely:
        return load, int(held["rows"]), None
    checked = desk.call("check", name, "--format", "json")
    assert checked.code == load.code
    problems = checked.json()
    assert any(p["severity"] == "error" for p in problems) == (load.code == DATA_AT_FAULT)
    if load.code == FINE:
        verb = VERBS[desk.done.total() // desk.one_in % len(VERBS)]
        assert desk.call(verb, "--db", "season.duckdb", "--format", "csv").code == FINE
        assert desk.call(verb, "--db", "season.duckdb").code == FINE
    return load, int(held["rows"]), problems


def a_card_loads_whole_or_is_refused(desk: Desk, data: st.DataObject) -> None:
    """Valid, nearly valid and hostile cards."""
    table = data.draw(st.one_of(spoiled_tables(), spoiled_tables(), plain_tables()))
    delimiter = data.draw(st.sampled_from(",;\t"))
    newline = data.draw(st.sampled_from(("\n", "\r\n", "\r")))
    text = table.csv(delimiter, newline)
    Path("fuzz.csv").write_text(text, encoding="utf-8", newline="")
    load, rows, problems = loaded(desk, "fuzz.csv")
    there = _rows_of(text, delimiter)
    for problem in problems or ():
        row = problem["row"]
        assert row is None or (isinstance(row, int) and 1 <= row <= max(len(there), 1))
    if load.code == FINE:
        filled = sum(any(map(str.strip, row)) for row in there)
        if problems is not None and not any("passed over" in str(p["wrong"]) for p in problems):
            assert rows == filled - 1
        assert 0 < rows < filled


def _rows_of(text: str, delimiter: str) -> list[list[str]]:
    before = csv.field_size_limit(len(text) + 1)
    try:
        return list(csv.reader(StringIO(text, newline=""), delimiter=delimiter))
    finally:
        csv.field_size_limit(before)


def a_faulty_row_is_named_by_its_true_line(desk: Desk, data: st.DataObject) -> None:
    """Blank lines and cells of several lines stand above it; the row counts as a sheet does."""
    header, *rows = (row for row in data.draw(plain_tables()).rows if row)
    lines: list[tuple[str, ...] | None] = [(*header, "note")]
    fault = data.draw(st.integers(0, len(rows) - 1))
    suffix = data.draw(st.sampled_from(("csv", "csv", "xlsx")))
    kind = data.draw(st.sampled_from(("lie", "date", "width" if suffix == "csv" else "lie")))
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
    table = Table(tuple(lines))
    if suffix == "csv":
        Path("fuzz.csv").write_text(table.csv(), encoding="utf-8", newline="")
    else:
        _write_sheet(table)
    name = f"fuzz.{suffix}"
    if desk.closely():
        assert loaded(desk, name)[0].code == DATA_AT_FAULT
    checked = desk.call("check", name, "--format", "json")
    column = "" if kind == "width" else kind
    errors = [p for p in checked.json() if p["severity"] == "error"]
    assert [p["row"] for p in errors if p["column"] == column] == [true]


def _write_sheet(table: Table) -> None:
    book = Workbook(write_only=True)
    sheet = book.create_sheet("card")
    for row in table.rows:
        sheet.append(row or ())
    book.save("fuzz.xlsx")


def a_damaged_file_loads_whole_or_is_refused(desk: Desk, data: st.DataObject) -> None:
    """Bytes of a CSV file, a workbook or a Parquet file changed, cut out, repeated, put in."""
    name = data.draw(st.sampled_from(("card.csv", "card.xlsx", "card.parquet")))
    target = Path("damaged").with_suffix(Path(name).suffix)
    target.write_bytes(data.draw(mutated(Path(name).read_bytes())))
    loaded(desk, target.name)


def a_damaged_part_of_a_workbook(desk: Desk, data: st.DataObject) -> None:
    """The archive is sound, one of its files is not."""
    with zipfile.ZipFile("card.xlsx") as sound, zipfile.ZipFile("damaged.xlsx", "w") as damaged:
        spoiled = data.draw(st.sampled_from(sound.namelist()))
        for name in sound.namelist():
            content = sound.read(name)
            damaged.writestr(name, data.draw(mutated(content)) if name == spoiled else content)
    loaded(desk, "damaged.xlsx")


def a_workbook_reads_as_the_csv_it_could_be(desk: Desk, data: st.DataObject) -> None:
    """Its cells are stored in any of the ways there are, among sheets that are hidden."""
    table, drawn = data.draw(sound_books())
    Path("fuzz.csv").write_text(table.csv(), encoding="utf-8", newline="")
    books.pack(Path("fuzz.xlsx"), drawn.parts)
    load, rows, _ = loaded(desk, "fuzz.xlsx")
    assert (load.code, rows) == (FINE, len(table.rows) - 1)
    pd.testing.assert_frame_equal(read_card("fuzz.xlsx"), read_card("fuzz.csv"))


def a_workbook_of_parts_made_by_hand(desk: Desk, data: st.DataObject) -> None:
    """Odd cells, places, links and texts; what shows an error or has no result never loads."""
    drawn = data.draw(hostile_books())
    books.pack(Path("fuzz.xlsx"), drawn.parts)
    load, _, _ = loaded(desk, "fuzz.xlsx")
    assert load.code == DATA_AT_FAULT or not drawn.faulty


def damaged_settings_and_curves(desk: Desk, data: st.DataObject) -> None:
    """Bytes of the TOML file of a plan and of an own benchmark changed."""
    settings_text = b'recoverable = 0.5\nparts = ["putt_0_10"]\n[part.putt_0_10]\nrate_hours = 3\n'
    curve = b"lie,distance,unit,strokes,source\ngreen,3,ft,1.1,me\ngreen,30,ft,2.1,me\n"
    Path("own.toml").write_bytes(data.draw(mutated(settings_text)))
    Path("own.csv").write_bytes(data.draw(mutated(curve)))
    plan = ("practice", "--hours", "5", "--weeks", "6", "--db", "full.duckdb")
    done = desk.call(*plan, "--settings", "own.toml")
    assert done.code != CALL_AT_FAULT
    desk.ends[done.code] += 1
    assert desk.call("gained", "--benchmark", "own.csv", "--db", "full.duckdb").code in (0, 1)


def a_damaged_season_file(desk: Desk, data: st.DataObject) -> None:
    """One clear sentence or the answer of the sound file; a crash of the database shows as one."""
    draw = random.Random(data.draw(st.integers(0, 2**64 - 1)))
    season = bytearray(Path("full.duckdb").read_bytes())
    for _ in range(draw.choice((1, 3, 30))):
        season[draw.choice((draw.randrange(HEAD), draw.randrange(len(season))))] ^= (
            1 << draw.randrange(8)
        )
    if draw.random() < 0.2:
        del season[draw.randrange(len(season)) :]
    Path("damaged.duckdb").write_bytes(season)
    question = draw.choice((*QUESTIONS, ("load", "more.csv")))
    try:
        done = desk.call(*question, "--db", "damaged.duckdb")
    finally:
        Path("damaged.duckdb.wal").unlink(missing_ok=True)
    assert done.code in (FINE, DATA_AT_FAULT)
    desk.ends[done.code] += 1
    if done.code == FINE and question in desk.answers:
        assert done.out == desk.answers[question]


words = st.one_of(
    st.sampled_from(("--player", "--since", "--by", "--level", "--format", "--benchmark", "-1")),
    st.sampled_from(("csv", "2026-05-14", "0.9", NAME, "part,total", "'; DROP", "\x1b[")),
    st.text(st.characters(exclude_characters="\x00"), max_size=8),
)


def any_call_ends_in_a_sentence(desk: Desk, data: st.DataObject) -> None:
    """Options as nobody should type them."""
    verb = data.draw(st.sampled_from((*VERBS, "why", "compare", "trend", "clubs")))
    done = desk.call(verb, "--db", "full.duckdb", *data.draw(st.lists(words)))
    desk.ends[done.code] += 1


def a_text_card_loads_whole_or_is_refused(desk: Desk, data: st.DataObject) -> None:
    """Typed lines with slips: no line is lost without a word, no row comes from nowhere."""
    text = data.draw(st.one_of(spoiled_text_cards(), spoiled_text_cards(), plain_text_cards()))
    Path("fuzz.txt").write_text(text, encoding="utf-8", newline="")
    load, rows, problems = loaded(desk, "fuzz.txt")
    there = len(lines_of(text))
    for problem in problems or ():
        row = problem["row"]
        assert row is None or (isinstance(row, int) and 1 <= row <= there)
    assert lines_lost(text) == set()
    if load.code == FINE:
        assert rows == len(read_card("fuzz.txt"))
        assert read_card("fuzz.txt")["hole"].between(1, 36).all()


TRIALS: dict[Trial, float] = {
    a_card_loads_whole_or_is_refused: 0.20,
    a_text_card_loads_whole_or_is_refused: 0.10,
    a_faulty_row_is_named_by_its_true_line: 0.12,
    a_damaged_file_loads_whole_or_is_refused: 0.12,
    a_damaged_part_of_a_workbook: 0.06,
    a_workbook_reads_as_the_csv_it_could_be: 0.06,
    a_workbook_of_parts_made_by_hand: 0.12,
    damaged_settings_and_curves: 0.05,
    a_damaged_season_file: 0.12,
    any_call_ends_in_a_sentence: 0.05,
}
"""Trial -> its share of a large run."""


def run(trial: Trial, desk: Desk, data: st.DataObject) -> None:
    """Run one case and count it."""
    desk.done[trial.__name__] += 1
    trial(desk, data)
