"""Files that pass for a mapping: huge, deeply nested, binary, no file at all."""

from __future__ import annotations

import os
import tomllib
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.cards.limits import MAX_MAPPING_BYTES
from sgzone.cards.mapping.raw import beside
from sgzone.cards.mapping.schema import MOST_TOLD
from sgzone.cards.mapping.toml import key, quoted
from sgzone.cards.reader import read_table
from sgzone.errors import DataError
from tests.cards.mapping.faults import MAPPING, faults, lay

DEEP = 100_000
MANY = MAX_MAPPING_BYTES // 10


@pytest.mark.parametrize(
    ("mapping", "wrong"),
    [
        ("x" * (MAX_MAPPING_BYTES + 1), "a mapping may have"),
        ("a." * DEEP + "a = 1", "a line of 200005 signs"),
        ("[" + "a." * DEEP + "a]", "a line of 200003 signs"),
        ("a = " + "[" * 900, "deeper than any mapping"),
        ("a = " + "{a = " * 150 + "1" + "}" * 150, "deeper than any mapping"),
        ("a = [[[[1]]]]", "deeper than any mapping"),
        ("[a.b.c.d]\nx = 1", "deeper than any mapping"),
        ("\n".join("a." * 400 + f"b{n} = 1" for n in range(200)), "deeper than any mapping"),
        (b"\x00\x01\x02", "binary data"),
        (b"\xff\xfe" + MAPPING.encode("utf-16-le"), "UTF-16"),
        ("lie = 'Böschung'".encode("cp1252"), "not UTF-8"),
        (b"PK\x03\x04rest", "a workbook or an archive"),
        ("a = \x1b[31m", "this is not TOML"),
    ],
    ids=range(13),
)
def test_what_no_mapping_is(tmp_path: Path, mapping: str | bytes, wrong: str) -> None:
    (problem,) = faults(tmp_path, mapping)
    assert wrong in problem.wrong
    assert len(problem.value) < 100
    assert problem.value.isprintable()


@pytest.mark.repeats
@pytest.mark.parametrize(
    "line", ["[t{}]\n", "[[a]]\n", "k{} = 1\n", "a.b{} = 1\n", "[words.a{}]\n"]
)
def test_many_small_lines_take_little_memory(tmp_path: Path, line: str) -> None:
    lines = [line.format(n) for n in range(MANY)]
    text = "".join(lines)[: MAX_MAPPING_BYTES - 20].rsplit("\n", 1)[0]
    tracemalloc.start()
    try:
        found = faults(tmp_path, text)
        assert len(found) <= MOST_TOLD + 1
        assert tracemalloc.get_traced_memory()[1] < 200_000_000
    finally:
        tracemalloc.stop()


def test_a_mapping_that_is_a_folder_or_a_pipe(tmp_path: Path) -> None:
    path = lay(tmp_path, MAPPING)
    beside(path).unlink()
    beside(path).mkdir()
    with pytest.raises(DataError, match="folder"):
        read_table(path)
    beside(path).rmdir()
    os.mkfifo(beside(path))
    with pytest.raises(DataError, match="pipe"):
        read_table(path)


def test_a_link_that_leads_nowhere_is_no_mapping_forgotten(tmp_path: Path) -> None:
    path = lay(tmp_path, MAPPING)
    beside(path).unlink()
    beside(path).symlink_to(tmp_path / "gone.toml")
    with pytest.raises(DataError, match="no such file"):
        read_table(path)


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=20))
def test_any_text_is_quoted_so_that_toml_reads_it(text: str) -> None:
    assert tomllib.loads(f"{key(text)} = {quoted(text)}") == {text: text}
    assert "\n" not in quoted(text)
