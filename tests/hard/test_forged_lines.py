"""No name of a file, player, club or benchmark makes a line of output that looks like ours."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pytest
from click import Context

from sgzone.cli import sgzone
from sgzone.harmless import named, one_line
from tests.hard.calls import Outcome, call, inside
from tests.hard.test_crash import card

FORGED = "sgzone: all fine"
BREAKS = (
    "\n",
    "\r\n",
    "\r",
    "\u2028",
    "\u2029",
    "\x0b",
    "\x0c",
    "\x85",
    "\x1b[2K\x1b[1G",
    "\u202e",
)
EVIL = f"a\n{FORGED}"
"""Two names in one; the most that a file may be called is 255 bytes, a player 80 characters."""
DB = f"{EVIL}.duckdb"
CURVE = "lie,distance,unit,strokes,source\n" + "".join(
    f'{lie},{d},{"ft" if lie == "green" else "yd"},{1.2 + d / 100},"{EVIL}"\n'
    for lie in ("tee", "fairway", "rough", "sand", "recovery", "green")
    for d in (3, 150)
)
SETTINGS = f'parts = ["putt_0_10"]\n["{FORGED}"]\n"a\\n{FORGED}" = 3\n'

CALLS: dict[str, list[tuple[str, ...]]] = {
    "demo": [("demo", "--out", f"{EVIL}.csv")],  # a file: no folder to write into
    "template": [
        ("template", f"{EVIL}.xlsx"),
        ("template", f"{EVIL}.csv"),
        ("template", f"{EVIL}.pdf"),
        ("template", EVIL),
    ],
    "map": [
        ("map", f"{EVIL}.csv"),
        ("map", f"{EVIL} bad.csv"),
        ("map", f"{EVIL} gone.csv"),
        ("map", EVIL),
    ],
    "check": [
        *(("check", f"{EVIL}.csv", "--format", fmt) for fmt in ("table", "csv", "json")),
        *(("check", f"{EVIL} bad.csv", "--format", fmt) for fmt in ("table", "csv", "json")),
        ("check", f"{EVIL} gone.csv"),
        ("check", EVIL),
    ],
    "load": [
        ("load", f"{EVIL}.csv", "--db", DB),
        ("load", f"{EVIL} bad.csv", f"{EVIL}/{EVIL} bad.csv", "--db", DB),
        ("load", f"{EVIL} gone.csv", "--db", DB),
        ("load", f"{EVIL}.csv", "--db", f"{EVIL}.csv"),
        ("load", f"{EVIL}.csv", "--db", f"{EVIL}/{EVIL}/{EVIL}.duckdb"),
    ],
    "rounds": [
        ("rounds", "--db", DB),
        ("rounds", "--db", f"{EVIL} gone.duckdb"),
        ("rounds", "--db", DB, "--player", EVIL, "--event", EVIL, "--since", "2031-01-01"),
        ("rounds", "--db", DB, "--player", f"{EVIL}!"),
        ("rounds", "--db", DB, "--rename", f"{EVIL}!", "Ada"),
        ("rounds", "--db", DB, "--rename", EVIL, f"{EVIL}!"),
        ("rounds", "--db", DB, "--delete", EVIL, EVIL, "1"),
        ("rounds", "--db", DB, "--delete", EVIL, "2030-01-01", EVIL),
        ("rounds", "--db", DB, "--delete", EVIL, "2030-01-01", "1"),
        ("rounds", "--db", DB, "--since", EVIL),
    ],
    "backup": [
        ("backup", f"{EVIL} copy.duckdb", "--db", DB),
        ("backup", f"{EVIL}.csv", "--db", DB),
        ("backup", f"{EVIL} copy.parquet", "--strokes", "--db", DB),
        ("backup", EVIL, "--strokes", "--db", DB),
    ],
    "gained": [
        ("gained", "--db", DB, "--player", EVIL),
        ("gained", "--db", DB, "--benchmark", f"{EVIL}.csv"),
        ("gained", "--db", DB, "--benchmark", f"{EVIL} curve.csv"),
        ("gained", "--db", DB, "--benchmark", EVIL),
        ("gained", "--in", EVIL, "--player", f"{EVIL}!"),
        ("gained", "--in", f"{EVIL} gone"),
        ("gained", "--in", f"{EVIL}.csv"),
        ("gained", "--in", EVIL, "--out", f"{EVIL} out"),
        ("gained", "--in", EVIL, "--out", EVIL),
        ("gained", "--in", EVIL, "--format", EVIL),
    ],
    "summary": [
        ("summary", "--db", DB, "--by", "player,club,course,event"),
        ("summary", "--db", DB, "--by", EVIL),
        ("summary", "--in", EVIL, "--by", "player,club"),
        ("summary", "--db", DB, "--benchmark", f"{EVIL} curve.csv"),
    ],
    "counts": [
        ("counts", "--db", DB),
        ("counts", "--db", DB, "--event", EVIL),
        ("counts", "--db", DB, "--chart", f"{EVIL}.svg"),
        ("counts", "--db", DB, "--chart", f"{EVIL}.gif"),
        ("counts", "--db", DB, "--chart", f"{EVIL} gone/{EVIL}.svg"),
    ],
    "why": [("why", "--db", DB, "--player", EVIL), ("why", "--db", DB)],
    "compare": [
        ("compare", "--db", DB, "--by", "club", "--player", EVIL),
        ("compare", "--db", DB, "--by", EVIL),
    ],
    "trend": [("trend", "--db", DB, "--player", EVIL)],
    "debrief": [
        ("debrief", "--db", DB, "--player", EVIL),
        ("debrief", EVIL, "--db", DB),
        ("debrief", "--db", DB, "--chart", f"{EVIL}.svg"),
    ],
    "agree": [
        ("agree", EVIL, "--db", DB, "--player", EVIL),
        ("agree", "--db", DB, "--chart", f"{EVIL}.svg"),
        ("agree", "a", "--db", DB, "--player", EVIL, "--measure", "holed", "--value", EVIL),
        ("agree", "a", "--db", DB, "--player", EVIL, "--measure", "holed", "--from", EVIL),
    ],
    "field": [("field", "--db", DB)],
    "clubs": [("clubs", "--db", DB, "--player", EVIL), ("clubs", EVIL, "--db", DB)],
    "number": [
        ("number", "97", "--db", DB, "--player", EVIL, "--lie", EVIL),
        ("number", "--from", "60", "--to", "90", "--db", DB, "--player", EVIL, "--out", EVIL),
        ("number", EVIL),
    ],
    "practice": [
        ("practice", "--hours", "5", "--db", DB, "--player", EVIL),
        ("practice", "--hours", "5", "--db", DB, "--settings", f"{EVIL}.toml"),
        ("practice", "--hours", "5", "--db", DB, "--settings", f"{EVIL} gone.toml"),
        ("practice", "--hours", "5", "--db", DB, "--player", EVIL, "--split", EVIL),
        ("practice", "--hours", "5", "--db", DB, "--player", EVIL, "--target", EVIL),
        ("practice", "--db", DB, "--player", EVIL, "--what-if", EVIL),
    ],
    "report": [
        ("report", f"{EVIL}.html", "--db", DB, "--player", EVIL),
        ("report", EVIL, "--db", DB, "--player", EVIL),
        ("report", f"{EVIL}/{EVIL}/x.html", "--db", f"{EVIL} gone.duckdb"),
        ("report", "--export", f"{EVIL}.csv", "--db", DB, "--player", EVIL),
        ("report", "x.html", "--against", EVIL, "--db", DB, "--player", EVIL),
        ("report", "x.html", "--against", f"{EVIL}..", "--db", DB, "--player", EVIL),
    ],
    "benchmarks": [
        ("benchmarks", f"{EVIL} curve.csv"),
        ("benchmarks", f"{EVIL}.csv"),
        ("benchmarks", EVIL, "--chart", f"{EVIL}.svg", "--db", DB),
        ("benchmarks", "--at", EVIL),
    ],
    "fit": [
        ("fit", "--name", "squad", "--out", f"{EVIL} curve.csv", "--db", DB),
        ("fit", "--name", "squad", "--out", f"{EVIL} fitted.csv", "--db", DB),
        ("fit", "--name", EVIL, "--db", DB),
        ("fit", "--name", "b", "--from", EVIL, "--db", DB),
    ],
    "sources": [("sources",), ("sources", EVIL)],
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which everything has a name that is two lines."""
    folder = tmp_path_factory.mktemp("forged")
    with inside(folder):
        text = card(8, 9, "Ada", 2025) + card(8, 9, "EVIL", 2024).split("\n", 1)[1]
        rows = [[*row, "EVIL", "EVIL", "EVIL"] for row in csv.reader(io.StringIO(text))]
        rows[0][-3:] = ["club", "course", "event"]
        with Path(f"{EVIL}.csv").open("w", newline="") as file:
            csv.writer(file).writerows([[cell.replace("EVIL", EVIL) for cell in r] for r in rows])
        with Path(f"{EVIL} bad.csv").open("w", newline="") as file:
            csv.writer(file).writerows([rows[0], [EVIL for _ in rows[0]]])
        Path(EVIL).mkdir()
        shutil.copy(f"{EVIL} bad.csv", EVIL)
        Path(f"{EVIL} curve.csv").write_text(CURVE)
        Path(f"{EVIL}.toml").write_text(SETTINGS)
        assert call("load", f"{EVIL}.csv", "--db", DB).code == 0
        strokes = Path(EVIL, f"{EVIL}.parquet")
        assert call("backup", strokes, "--strokes", "--db", DB).code == 0
        shutil.copy(strokes, Path(EVIL, f"_{EVIL}.parquet"))
    return folder


def lines(text: str) -> list[str]:
    """Return the lines as the most generous of terminals breaks them."""
    return [line.strip() for line in text.splitlines()]


def forged(done: Outcome) -> list[str]:
    ours = ("sgzone: all fine.", "sgzone: all fine!")  # no sentence of ours
    return [
        line
        for line in lines(done.out) + lines(done.err)
        if line.startswith((FORGED, *ours)) or set(line) & set("\u202e\x1b")
    ]


@pytest.mark.repeats
@pytest.mark.parametrize("verb", CALLS)
def test_no_name_makes_a_line(made: Path, tmp_path: Path, verb: str) -> None:
    home = shutil.copytree(made, tmp_path / "home")
    said = 0
    for words in CALLS[verb]:
        with inside(home):
            done = call(*words)
        if "csv" in words[-1:]:  # data: what a cell holds it holds, inside its quotes
            listed = list(csv.DictReader(io.StringIO(done.out)))
            assert all(None not in row and FORGED not in row["file"].split("\n") for row in listed)
            done = Outcome(done.code, "", done.err)
        assert forged(done) == [], words
        said += FORGED in done.out + done.err
    assert said or verb in ("field", "sources", "demo", "trend")  # they name nobody


def test_every_verb_is_asked() -> None:
    assert set(CALLS) == set(sgzone.list_commands(Context(sgzone)))


@pytest.mark.repeats
@pytest.mark.parametrize("sign", BREAKS)
def test_whatever_breaks_a_line_is_spelt_out(tmp_path: Path, sign: str) -> None:
    evil = f"a{sign}{FORGED}"
    for made in (one_line(evil), named(evil)):
        assert len(made.splitlines()) == 1
        assert FORGED in made
        assert sign not in made
    with inside(tmp_path):
        Path(f"{evil}.csv").write_text(card(1, 1, "Ada", 2025))
        for words in (("load", f"{evil}.csv"), ("check", f"{evil}.csv"), ("rounds",)):
            assert forged(call(*words)) == []
        Path(f"{evil}.toml").write_text("x = ")
        words = ("practice", "--hours", "5", "--settings", f"{evil}.toml")
        assert forged(call(*words)) == []


def test_a_name_is_no_part_of_the_sentence(tmp_path: Path) -> None:
    with inside(tmp_path):
        name = "card.csv: shot card, 900 rows loaded. Beside it.csv"
        Path(name).write_text(card(1, 1, "Ada", 2025))
        assert call("load", name).err.startswith(f'"{name}": shot card, 3 rows loaded')
        assert call("template", "two words.csv").err.startswith('Wrote "two words.csv": ')
        assert call("template", "plain.csv").err.startswith("Wrote plain.csv: ")
