"""The house: SQL stands in named steps under ``sql/``, not in the text of Python."""

from __future__ import annotations

import ast
import re

import pytest

from tests.test_house import MODULES, PACKAGE

_SQL = re.compile(
    r"\b(SELECT|INSERT INTO|DELETE FROM|UPDATE \w+ SET"
    r"|(CREATE|DROP)( OR REPLACE)?( TEMP)? (TABLE|VIEW))\b"
)
ONE_LINE = 80
"""Letters of a question of one line, which the season file may ask where it needs the answer."""
MADE_OF_NAMES = {
    "season/backup.py": "table by table, of those the steps make",
    "season/coding.py": "of the columns and rules of the kind of table that is read",
    "season/corrections.py": "of every table's key",
    "season/keys.py": "of the kind of table's key",
    "season/loading.py": "into the table of the kind that is loaded",
    "season/parquet.py": "of the files' own columns",
    "season/reading.py": "of the columns of the kind that is read",
    "season/staging.py": "of the columns and rules of the kind that is staged",
    "season/steps.py": "a temporary table by its name",
}
"""Where the text is put together of names from closed lists: a file of it would be full of gaps."""
THE_ENGINE = "season/catalogue.py"
"""It asks what a file holds, by the engine's own tables."""


def sql_in(code: str) -> dict[str, list[str]]:
    """Return the texts with SQL in a module: ``made`` of names, or ``whole``; no docstrings."""
    tree = ast.parse(code)
    made = [n for n in ast.walk(tree) if isinstance(n, ast.JoinedStr)]
    pieces = {id(piece) for text in made for piece in ast.walk(text)}
    docs = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
    whole = [
        n.value
        for n in ast.walk(tree)
        if isinstance(n, ast.Constant) and isinstance(n.value, str) and id(n) not in pieces | docs
    ]
    return {
        "made": [text for text in map(ast.unparse, made) if _SQL.search(text)],
        "whole": [text for text in whole if _SQL.search(text)],
    }


@pytest.mark.long
def test_sql_stands_in_its_folders() -> None:
    seen = set()
    for path in MODULES:
        name = path.relative_to(PACKAGE).as_posix()
        found = sql_in(path.read_text(encoding="utf-8"))
        if name == THE_ENGINE:
            continue
        if found["made"]:
            assert name in MADE_OF_NAMES, (name, found["made"])
            seen.add(name)
        for text in found["whole"]:
            assert name.startswith("season/"), (name, text)
            assert len(text) <= ONE_LINE, (name, text)
    assert seen == set(MADE_OF_NAMES)


@pytest.mark.parametrize(
    "code",
    [
        "store.frame('SELECT player FROM rounds')",
        "QUERY = '''\nSELECT *\nFROM bag\n'''",
        "store.execute(f'DELETE FROM {table} WHERE name = $name')",
        "store.execute(f'INSERT INTO {table} BY NAME SELECT * FROM rows')",
        "connection.execute('CREATE OR REPLACE TEMP VIEW chosen AS FROM rounds')",
        "connection.execute('UPDATE meta SET schema_version = 5')",
    ],
)
def test_sql_in_python_is_seen(code: str) -> None:
    found = sql_in(code)
    assert found["made"] or found["whole"]


def test_words_are_no_sql() -> None:
    assert sql_in("'''SELECT in sql/.'''\nsay('Select a club, or update the card.')") == {
        "made": [],
        "whole": [],
    }
