"""The house: files are written in one place, which knows what they may not go over."""

from __future__ import annotations

import ast

import pytest

from tests.test_house import MODULES, PACKAGE

WRITES = {
    *("write_text", "write_bytes", "touch", "hardlink_to", "symlink_to", "link", "symlink"),
    *("mkstemp", "NamedTemporaryFile", "copyfile", "copytree", "copy2", "move", "rename_to"),
    *("write_parquet", "write_csv", "parquet"),
}
"""Calls that write a file, whatever they are given."""
WRITES_A_PATH = {
    *("to_csv", "to_parquet", "to_json", "to_excel", "to_feather", "to_pickle"),
    *("save", "savetxt", "savez", "tofile", "ParquetWriter", "write_table", "ZipFile"),
}
"""Calls that write a file where a path is what they are given first."""
MAY_WRITE = {
    ("writing.py", "open"): "the one place",
    ("writing.py", "fdopen"): "the one place",
    ("writing.py", "hardlink_to"): "the one place",
    ("season/making.py", "open"): "a season file, which DuckDB itself writes",
    ("season/making.py", "link"): "a season file, which DuckDB itself writes",
    ("inputs.py", "open"): "reads",
    ("start.py", "open"): "/dev/null, where a stream is closed",
    ("verbs/streams.py", "open"): "/dev/null, where a stream is closed",
    ("report/paper/pdf.py", "write_text"): "what a PDF is made of, in a folder of our own",
    ("cards/memory/frames.py", "write_table"): "into the sum of its bytes",
    ("verbs/parquet.py", "parquet"): "Spark makes its new folder itself",
    ("distributed.py", "parquet"): "reads",
    ("cards/blank_book.py", "save"): "into memory",
    ("cards/unpacking.py", "ZipFile"): "reads",
    ("verbs/fit.py", "save"): "into the season file",
    ("demo/simulate.py", "to_parquet"): "into the file of an output",
    ("report/export.py", "to_parquet"): "into the file of an output",
    ("season/parquet.py", "ParquetWriter"): "into the file of an output",
}


def written(code: str) -> set[str]:
    """Return the names of the calls in a module that write a file, or may."""
    calls = [node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call)]
    return {name for call in calls if (name := _name(call)) and _writes(call, name)}


def _name(call: ast.Call) -> str:
    function = call.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _writes(call: ast.Call, name: str) -> bool:
    words = [*call.args, *(word.value for word in call.keywords)]
    if name in ("open", "fdopen"):
        if ast.unparse(call.func) == "os.open":
            return True
        modes = [word.value for word in words if isinstance(word, ast.Constant)]
        return any(isinstance(mode, str) and set(mode) & set("wax+") for mode in modes)
    paths = ("path", "path_or_buf", "where", "excel_writer", "buf")
    given = call.args or [word for word in call.keywords if word.arg in paths]
    return name in WRITES or (name in WRITES_A_PATH and bool(given))


def test_files_are_written_in_one_place() -> None:
    """A module that writes in another way forgets what may not be written over."""
    found = {
        (module.relative_to(PACKAGE).as_posix(), name)
        for module in MODULES
        for name in written(module.read_text(encoding="utf-8"))
    }
    assert found == set(MAY_WRITE)


@pytest.mark.parametrize(
    "code",
    [
        "Path(x).write_text('a')",
        "path.open('w')",
        "open(path, mode='ab')",
        "os.open(path, os.O_WRONLY)",
        "frame.to_csv(path, index=False)",
        "frame.to_csv(path_or_buf=path)",
        "pq.ParquetWriter(path, schema)",
        "chart.save('x.html')",
        "shutil.copyfile(a, b)",
    ],
)
def test_ways_of_writing_are_seen(code: str) -> None:
    assert written(code)


@pytest.mark.parametrize("code", ["path.open('rb')", "frame.to_csv(index=False)", "open_store(x)"])
def test_what_writes_nothing_is_not_one(code: str) -> None:
    assert not written(code)
