"""Season files that another program changed: every verb refuses them in one sentence."""

from __future__ import annotations

import shutil
from pathlib import Path

import duckdb
import pytest

from sgzone.errors import DataError
from sgzone.season.store import open_store
from tests.hard.calls import call, inside
from tests.season.cardfiles import card_text, write
from tests.season.older import taken_back

ROWS = ("1,1,fairway,100", "1,2,green,20", "1,3,green,2")
ACTING = {
    "macro": "CREATE MACRO sum(x) AS 42",
    "macro of an operator": 'CREATE MACRO "+"(a, b) AS 7',
    "macro of the catalogue": "CREATE MACRO duckdb_functions() AS TABLE SELECT 1 AS nothing",
    "macro of count": "CREATE MACRO count(x) AS 1",
    "macro of a table": "CREATE MACRO rounds() AS TABLE SELECT 1 AS nothing",
    "view beside": "CREATE VIEW more AS SELECT 1 AS one",
    "type": "CREATE TYPE lies AS ENUM ('moon')",
    "schema": "CREATE SCHEMA other; CREATE TABLE other.rounds AS FROM rounds",
    "trigger": "CREATE TRIGGER t AFTER INSERT ON strokes FOR EACH STATEMENT DELETE FROM bag",
    "unique index": "CREATE UNIQUE INDEX one ON strokes (distance_ft)",
}
"""What answers in the place of a table or a function, or acts when something is written."""
SHAPES = {
    "table gone": "DROP TABLE bag",
    "column gone": "ALTER TABLE strokes DROP COLUMN club",
    "column more": "ALTER TABLE rounds ADD COLUMN more INTEGER",
    "column retyped": "ALTER TABLE rounds ALTER player TYPE BLOB USING player::BLOB",
    "dates as text": "ALTER TABLE strokes ALTER date TYPE VARCHAR",
    "column filled": "ALTER TABLE strokes ALTER note SET DEFAULT 'x'",
    "column may be empty": "ALTER TABLE strokes ALTER player DROP NOT NULL",
    "no player": (
        "ALTER TABLE rounds ALTER player DROP NOT NULL; UPDATE rounds SET player = NULL;"
        "ALTER TABLE strokes ALTER player DROP NOT NULL; UPDATE strokes SET player = NULL"
    ),
    "no key": "CREATE TABLE o AS FROM rounds; DROP TABLE rounds; ALTER TABLE o RENAME TO rounds",
    "foreign key": "CREATE TABLE mine (k BIGINT REFERENCES rounds (round_key))",
    "check": (
        "DROP TABLE bag; CREATE TABLE bag (load_id INTEGER NOT NULL, source_row INTEGER NOT NULL, "
        "player VARCHAR NOT NULL, club VARCHAR NOT NULL, loft_deg DOUBLE CHECK (loft_deg > 99), "
        "bounce_deg DOUBLE, in_play_from DATE NOT NULL, in_play_to DATE, extra VARCHAR)"
    ),
    "letters": (
        "DROP TABLE fitted_players; CREATE TABLE fitted_players "
        "(name VARCHAR NOT NULL, player VARCHAR COLLATE NOCASE NOT NULL)"
    ),
    "view": "CREATE TABLE o AS FROM bag; DROP TABLE bag; CREATE VIEW bag AS FROM o",
}
SCHEMAS = {
    "schema 0": "UPDATE meta SET schema_version = 0",
    "schema -1": "UPDATE meta SET schema_version = -1",
    "schema 2.5": "ALTER TABLE meta ALTER schema_version TYPE DOUBLE; "
    "UPDATE meta SET schema_version = 2.5",
    "schema text": "ALTER TABLE meta ALTER schema_version TYPE VARCHAR; "
    "UPDATE meta SET schema_version = 'four'",
    "schema NULL": "ALTER TABLE meta ALTER schema_version DROP NOT NULL; "
    "UPDATE meta SET schema_version = NULL",
    "schema true": "ALTER TABLE meta ALTER schema_version TYPE BOOLEAN",
    "two schemas": "INSERT INTO meta VALUES (1)",
    "no schema": "DELETE FROM meta",
    "schema of a view": "DROP TABLE meta; CREATE VIEW meta AS SELECT 4 AS schema_version",
}
ROUNDS = {
    "day of no end": "UPDATE rounds SET date = 'infinity'; UPDATE strokes SET date = 'infinity'",
    "year 0": "UPDATE rounds SET date = '0001-01-01 (BC)'; UPDATE strokes SET date = '0001-01-01'",
    "year 1": "UPDATE rounds SET date = '0001-01-01'; UPDATE strokes SET date = '0001-01-01'",
    "year 99999": "UPDATE rounds SET date = '99999-01-01'; UPDATE strokes SET date = '99999-01-01'",
    "load of no end": "UPDATE loads SET loaded_at = 'infinity'",
    "round twice": "INSERT INTO rounds SELECT * REPLACE (round_key + 9 AS round_key) FROM rounds",
    "round of no load": "DELETE FROM loads",
}
TAMPERED = ACTING | SHAPES | SCHEMAS | ROUNDS
TOLD = ("is not a season file, or it is damaged", "but not a season file", "is damaged: ")
VERBS = (
    *(("load", "more.csv"), ("rounds",), ("backup", "copy.duckdb"), ("gained",), ("summary",)),
    *(("backup", "copy.parquet", "--strokes"), ("counts",), ("why",), ("compare", "--by", "club")),
    *(
        ("rounds", "--rename", "Ada", "Bo"),
        ("rounds", "--delete", "Ada", "2026-05-14", "1", "--yes"),
    ),
    *(
        ("trend",),
        ("agree",),
        ("field",),
        ("clubs",),
        ("number", "87"),
        ("practice", "--hours", "4", "--weeks", "6"),
    ),
    *(("report", "r.html"), ("benchmarks",), ("fit", "--name", "own")),
    ("gained", "--benchmark", "own", "--format", "csv"),
)


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sound")
    with open_store(folder / "s.duckdb") as store:
        store.load(write(folder, card_text(*ROWS)))
    write(folder, card_text(*ROWS).replace("2026-05-14", "2026-05-15"), "more.csv")
    return folder


def tampered(sound: Path, change: str) -> None:
    """Copy the sound file into the working folder and change it there."""
    shutil.copyfile(sound / "s.duckdb", "sgzone.duckdb")
    shutil.copyfile(sound / "more.csv", "more.csv")
    with duckdb.connect("sgzone.duckdb") as file:
        try:
            file.execute(change)
        except duckdb.ParserException:
            pytest.skip("this version of DuckDB has no such thing")


@pytest.mark.long
@pytest.mark.parametrize("what", TAMPERED)
def test_every_verb_refuses_it(sound: Path, tmp_path: Path, what: str) -> None:
    with inside(tmp_path):
        tampered(sound, TAMPERED[what])
        before = {path.name: path.read_bytes() for path in Path().iterdir()}
        for verb in VERBS:
            done = call(*verb)
            assert (done.code, done.out, done.err.count("\n")) == (1, "", 1), (verb, done)
            assert any(told in done.err for told in TOLD), done.err
            assert {path.name: path.read_bytes() for path in Path().iterdir()} == before


@pytest.mark.repeats
@pytest.mark.parametrize("version", [1, 2, 3])
@pytest.mark.parametrize("what", ["macro", "column retyped", "no player", "round twice", "year 1"])
def test_an_older_file_is_looked_at_before_it_is_taken_on(
    sound: Path, tmp_path: Path, what: str, version: int
) -> None:
    with inside(tmp_path):
        tampered(sound, "SELECT 1")
        with duckdb.connect("sgzone.duckdb") as file:
            taken_back(file, version)
            file.execute(TAMPERED[what])
        before = Path("sgzone.duckdb").read_bytes()
        for read_only in (True, False):
            with pytest.raises(DataError, match="damaged"):
                open_store("sgzone.duckdb", read_only=read_only)
        assert Path("sgzone.duckdb").read_bytes() == before


VALUES = {
    ("UPDATE strokes SET lie = NULL WHERE shot = 2", "compare"),
    ("UPDATE strokes SET distance_ft = -5, start_cell = 8197 WHERE shot = 1", "report"),
    ("UPDATE strokes SET distance_ft = 'nan', start_cell = 8197 WHERE shot = 1", "fit"),
    ("UPDATE strokes SET penalty = 2000000000", "report"),
    ("UPDATE strokes SET date = 'infinity'", "gained"),
    ("UPDATE strokes SET round_key = 99", "report"),
    ("INSERT INTO holes SELECT * FROM holes", "report"),
}
"""What no opening looks for, and a verb that meets it."""


@pytest.mark.repeats
@pytest.mark.parametrize(("change", "verb"), sorted(VALUES))
def test_what_breaks_a_question_is_looked_for_in_the_file(
    change: str, verb: str, sound: Path, tmp_path: Path
) -> None:
    """An answer comes, or the file is named as what is at fault; never a traceback."""
    words = next(words for words in VERBS if words[0] == verb)
    with inside(tmp_path):
        tampered(sound, change)
        done = call(*words)
        assert done.code == 0 or "damaged" in done.err
        with pytest.raises(DataError, match="damaged"), open_store("sgzone.duckdb"):
            raise ZeroDivisionError


def test_a_fault_that_is_not_the_files_comes_through(sound: Path) -> None:
    with pytest.raises(ZeroDivisionError), open_store(sound / "s.duckdb", read_only=True):
        raise ZeroDivisionError
    with pytest.raises(ZeroDivisionError), open_store():
        raise ZeroDivisionError


def test_a_table_beside_its_own_is_let_be(sound: Path, tmp_path: Path) -> None:
    with inside(tmp_path):
        tampered(sound, "CREATE TABLE mine (a INTEGER); CREATE INDEX more ON strokes (player)")
        assert call("load", "more.csv").code == 0
        assert len(call("rounds", "--format", "json").json()) == 2
