"""What a shell completes: through the process a shell starts, and through bash itself."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sgzone.season.store import open_store
from sgzone.verbs.person.completing import quoted
from tests.hard.calls import call, inside

HOSTILE = "Mal `id` $(id) *"
CARD = "player,date,hole,shot,lie,distance\n" + "".join(
    f'"{player}",2026-05-{day},1,1,rough,40\n"{player}",2026-05-{day},1,2,green,9\n'
    for player, day in (("Ned Farrow", 14), ("Ned O'Hara", 15), (HOSTILE, 16), ("Zoë", 17))
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("completing")
    (folder / "card.csv").write_text(CARD)
    with inside(folder):
        assert call("load", "card.csv", "--new-player").code == 0
        assert call("fit", "--name", "squad").code == 0
    return folder


def completed(home: Path, *words: str, shell: str = "bash") -> list[str]:
    """Return what is offered for the last of ``words``."""
    asked = {
        "COMP_WORDS": "\n".join(("sgzone", *words)),
        "COMP_CWORD": words[-1] if shell == "fish" else str(len(words)),
        "_SGZONE_COMPLETE": f"{shell}_complete",
    }
    done = subprocess.run(
        [sys.executable, "-m", "sgzone"],
        cwd=home,
        env=os.environ | asked,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.stderr == ""
    return [line for line in done.stdout.splitlines() if line]


@pytest.mark.long
def test_verbs_and_the_words_of_options(home: Path) -> None:
    assert completed(home, "su") == ["plain,summary"]
    assert completed(home, "agree", "--part", "w") == ["plain,wedge_50_100"]
    assert completed(home, "summary", "--units", "") == ["plain,yards", "plain,metric"]
    assert "plain,--benchmark" in completed(home, "why", "--be")


@pytest.mark.long
def test_benchmarks_fitted_ones_too_and_files(home: Path) -> None:
    assert completed(home, "why", "--benchmark", "s") == ["plain,scratch", "plain,squad"]
    assert completed(home, "benchmarks", "women") == ["plain,women-scratch", "plain,women-bogey"]
    assert completed(home, "fit", "--from", "sq") == ["plain,squad"]
    assert completed(home, "why", "--benchmark", "card") == ["file,card"]


@pytest.mark.long
def test_players_of_the_season_file(home: Path) -> None:
    neds = ["plain,Ned\\ Farrow", "plain,Ned\\ O\\'Hara"]
    assert completed(home, "why", "--player", "ne") == neds
    assert completed(home, "why", "--player", '"Ned F') == ["plain,Ned Farrow"]
    assert completed(home, "rounds", "--delete-player", "zo") == ["plain,Zoë"]
    there = str(home / "sgzone.duckdb")
    assert completed(home.parent, "why", "--db", there, "--player", "z") == ["plain,Zoë"]


def test_zsh_and_fish_quote_for_themselves(home: Path) -> None:
    assert "Ned Farrow" in completed(home, "why", "--player", "'Ned F", shell="zsh")
    fish = completed(home, "why", "--player", "Ned", shell="fish")
    assert any("Ned Farrow" in line for line in fish)


@pytest.mark.repeats
@pytest.mark.parametrize("held", [None, b"", b"no season file", b"\0" * 5000])
def test_silent_where_there_is_no_season_file(tmp_path: Path, held: bytes | None) -> None:
    if held is not None:
        (tmp_path / "sgzone.duckdb").write_bytes(held)
    assert completed(tmp_path, "why", "--player", "") == []
    assert completed(tmp_path, "why", "--benchmark", "scr") == ["plain,scratch"]


def test_silent_while_another_program_writes_and_where_settings_are_wrong(home: Path) -> None:
    with open_store(home / "sgzone.duckdb"):
        assert completed(home, "why", "--player", "z") == []
    (home / "sgzone.toml").write_text("no toml")
    assert completed(home, "why", "--player", "z") == ["plain,Zoë"]
    (home / "sgzone.toml").unlink()
    assert completed(home, "nonsense", "--player", "z") == []


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_bash_itself_puts_a_safe_word_into_the_line(home: Path, tmp_path: Path) -> None:
    tool = tmp_path / "sgzone"
    tool.write_text(f'#!/bin/sh\nexec {sys.executable} -m sgzone "$@"\n')
    tool.chmod(0o755)
    words = '(sgzone why --player "$1")'
    script = (
        f'eval "$(_SGZONE_COMPLETE=bash_source sgzone)"; COMP_WORDS={words}; COMP_CWORD=3; '
        '_sgzone_completion sgzone; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    path = {"PATH": f"{tmp_path}:{os.environ['PATH']}", "PYTHONPATH": str(Path.cwd())}

    def bash(text: str, *more: str) -> list[str]:
        done = subprocess.run(
            ["bash", "--norc", "-c", text, "bash", *more],
            cwd=home,
            env=os.environ | path,
            capture_output=True,
            text=True,
            timeout=60,
            check=True,
        )
        return done.stdout.splitlines()

    (offered,) = bash(script, "Mal")
    assert bash(f"printf '%s\\n' {offered}") == [HOSTILE]  # as bash reads the line it is put in


@pytest.mark.parametrize("name", ["Ned Farrow", "O'Hara", HOSTILE, 'a"b', "Zoë", "#x", "~x"])
@pytest.mark.parametrize("opened", ["", '"', "'"])
def test_bash_reads_back_the_name(name: str, opened: str) -> None:
    if shutil.which("bash") is None:
        pytest.skip("needs bash")
    line = f"printf %s {opened}{quoted(name, opened)}{opened}"
    done = subprocess.run(
        ["bash", "--norc", "-c", line], capture_output=True, text=True, check=True
    )
    assert done.stdout == name
