"""Every option in every way of asking: it changes something, or is refused, or stands here.

A call is made once without the option and once with another value than its default. What is
printed, what is written and the exit code must differ.
"""

from __future__ import annotations

import os
import shlex
import shutil
import tempfile
from datetime import date
from pathlib import Path

import click
import pandas as pd
import pytest

from sgzone import cli
from sgzone.resources import data_path
from sgzone.season.agreed.keeping import About, add
from sgzone.season.store import open_store
from sgzone.verbs import why
from tests.hard.calls import FINE, Outcome, call, inside
from tests.shared import shared

ADA, BEN = "Ada", "Ben"
PLAYER = f"--player {ADA}"
STROKES = "strokes.parquet"
AGREED = "--day 2026-06-30"

WAYS: dict[str, tuple[str, ...]] = {
    "check": ("season.csv", "broken.csv"),
    "load": ("more.csv",),
    "rounds": (
        *("", f"--rename {BEN} Cid", f"--delete {BEN} 2026-04-04 1 --yes"),
        *(f"--as-text {BEN} 2026-04-04", f"--as-text {BEN} 2026-04-04 1"),
    ),
    "debrief": tuple(
        f"{PLAYER} {way}"
        for way in ("", "2026-05-30", "--round 1", "--format csv", "--brief", "--brief 2026-07-11")
    ),
    "backup": ("copy.duckdb", "copy.parquet --strokes"),
    "gained": (
        f"--since 2026-07-05 --until 2026-08-01 {PLAYER}",
        *("--format csv", f"--in {STROKES} --format csv", f"--in {STROKES} --benchmark squad"),
        *(f"--in {STROKES} --out written", f"--since 2026-07-05 {PLAYER} --benchmark auto"),
    ),
    "summary": (
        *("--benchmark auto --format csv", f"--benchmark auto {PLAYER}"),
        *("", "--no-measuring --by band,lie", f"--format csv {PLAYER}", f"--in {STROKES}"),
        f"--in {STROKES} --benchmark squad --no-measuring",
        *(f"{PLAYER} --plays-like", f"{PLAYER} --plays-like --format csv"),
    ),
    "counts": ("", "--format csv"),
    "why": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("", "--format csv", "--detail misses", "--detail short-sided", "--detail carry"),
            *("--detail putting", "--detail ratio", "--benchmark auto --format csv"),
        )
    ),
    "compare": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("--by club", "--by club --format csv", "--by swing --at 80", "--by wind"),
            *("--split-date 2026-07-20", "--by event --lie green"),
        )
    ),
    "trend": (PLAYER, f"{PLAYER} --format csv", f"{PLAYER} --split-date 2026-07-20"),
    "field": ("", "--format csv"),
    "agree": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("", "--format csv", f"'two putts' --measure three_putt {AGREED}", "--done 1"),
            *("--edit 1 'hole more'", "--drop 1 --yes", "--chart drawn.json --number 2"),
        )
    ),
    "clubs": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("", "--format csv", "--source test", "--detail cover", "--detail consistency"),
            *("--detail questions", "--detail bag", "--detail wear", "--detail changes"),
        )
    ),
    "number": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("97", "97 --format csv", "97 --source test", "--from 60 --to 70"),
            *("--from 60 --to 70 --out sheet.csv", "--from 60 --to 70 --out sheet.html"),
        )
    ),
    "practice": tuple(
        f"{PLAYER} {way}"
        for way in (
            *("--hours 5", "--hours 5 --format csv", "--hours 5 --target scratch"),
            *("--hours 5 --week", "--hours 5 --week --format csv", "--blocks"),
            *("--hours 5 --target 75 --format csv", "--blocks --format csv"),
            "--what-if 'wedge_50_100 long_short_spread -20%'",
        )
    ),
    "benchmarks": (
        *("", "--format csv", "tour", "squad", "squad.csv", "--at 'fairway 100'"),
        *("tour --at 'fairway 100'", "squad --at 'fairway 100' --format csv"),
    ),
    "fit": ("--name new",),
    "sources": ("",),
    "template": ("new.csv", "new.pdf"),
    "map": ("season.csv",),
}
"""Verb -> ways of asking it. Reports and the demo are tried apart: they take seconds each."""
APART = {"demo", "report"}
CHANGES_THE_FILE = {"load", "rounds", "fit", "agree"}

VALUES = {
    "as_text": f"--as-text {ADA} 2026-04-04",
    "at": "--at 90",
    "base": "--from scratch",
    "benchmark": "--benchmark scratch",
    "blocks": "--blocks",
    "brief": "--brief",
    "club": "--club 54",
    "by": "--by club",
    "ceiling": "--ceiling approach_100_150=3",
    "chart": "--chart drawn.svg",
    "dates": "--dates dmy",
    "day": "--day 2026-07-20",
    "db": "--db none.duckdb",
    "delete_player": f"--delete-player {ADA} --yes",
    "delete": f"--delete {ADA} 2026-04-04 1",
    "detail": "--detail misses",
    "done": "--done 1",
    "drop": "--drop 3 --yes",
    "due": "--due 2026-12-01",
    "edit": "--edit 1 'other words'",
    "engine": "--engine spark",
    "event": "--event practice",
    "every": "--all",
    "everybody": "--everybody",
    "firmness": "--firmness soft",
    "floor_hours": "--floor 2",
    "fmt": "--format json",
    "from_": "--from 65",
    "full_more": "--full-more 10",
    "green_deep": "--green-deep 15",
    "green_left": "--green-left 4",
    "green_on": "--green-on 4",
    "green_wide": "--green-wide 14",
    "gap": "--gap 8",
    "groups": "--groups 54,50",
    "hours": "--hours 8",
    "largest_change": "--largest-change 0.02",
    "left_side": "--left-side water",
    "level": "--level 0.95",
    "lie": "--lie rough",
    "log": "--no-log",
    "long_": "--long water",
    "mapping": "--map own.map.toml",
    "measure": "--measure holed",
    "measuring": "--no-measuring",
    "name": "--name other",
    "new_player": "--new-player",
    "plays_like": f"--plays-like {PLAYER}",
    "out": "--out other.csv",
    "paper": "--paper letter",
    "part": "--part sand_0_50",
    "place": "--at 'green 14'",
    "player": f"--player {BEN}",
    "players": f"--player {BEN}",
    "rate_hours": "--rate 2",
    "ratio": "--ratio 1.5",
    "recoverable": "--recoverable 0.3",
    "remind_months": "--remind-months 3",
    "remind_shots": "--remind-shots 10",
    "old_deep": "--deep 15",
    "old_left": "--left 4",
    "old_on": "--on 4",
    "rename": f"--rename {ADA} Cid",
    "replace": "--replace",
    "right_side": "--right-side water",
    "rows": "--rows 1",
    "settings": "--settings own.toml",
    "sheet": "--sheet May",
    "short": "--short water",
    "since": "--since 2026-06-01",
    "source": "--source test",
    "split_date": "--split-date 2026-06-10",
    "step": "--step 10",
    "strokes": "--strokes",
    "target": "--target amateur-80",
    "to": "--to 68",
    "typed": "--split wedge_50_100=50,putt_0_10=50",
    "units": "--units metric",
    "until": "--until 2026-09-01",
    "value": "--value 20%",
    "week": "--week 2",
    "weeks": "--weeks 8",
    "yes": "--yes",
    "which": "--round 2",
    "only": "--number 1",
    "what_if": "--what-if 'wedge_50_100 long_short_spread -20%'",
    "wide": "--wide",
}
OTHERS = {
    "agree from_": "--from 10",
    "agree to": "--to 30",
    "check player": "--as Cid",
    "load player": "--as Cid",
    "clubs detail": "--detail cover",
    "practice detail": "--detail",
    "summary source": f"--in {STROKES}",
    "gained source": f"--in {STROKES}",
}
"""Where an option of that name takes other words."""

_DATA = "csv and json keep the units of their column names"
_SAME = "strokes are the same wherever they come from"
_PARTS = "no full swing of hers is as short as that"
_LAST = "the last round is the same from whatever day on, and here it has no place"
_ALIKE = "the same share of every part leaves the hours where they were"
ONE_ROW = {
    f"compare {PLAYER} --split-date 2026-07-20",
    f"compare {PLAYER} --by event --lie green",
    f"clubs {PLAYER} --detail changes",
    "benchmarks tour --at 'fairway 100'",
    f"agree {PLAYER} --chart drawn.json --number 2",
}
SPARED: dict[str, dict[str, str]] = {
    f"debrief {PLAYER} --format csv": {"since": _LAST},
    f"debrief {PLAYER} --brief": {"since": _LAST},
    f"gained --since 2026-07-05 --until 2026-08-01 {PLAYER}": {"source": _SAME},
    f"number {PLAYER} --from 60 --to 70": {"full_more": _PARTS},
    f"number {PLAYER} --from 60 --to 70 --out sheet.csv": {"units": _DATA, "full_more": _PARTS},
    f"number {PLAYER} --from 60 --to 70 --out sheet.html": {
        "firmness": "rounded to whole yards",
        "full_more": _PARTS,
    },
    f"practice {PLAYER} --hours 5 --week": {"recoverable": _ALIKE},
    f"practice {PLAYER} --hours 5 --week --format csv": {"recoverable": _ALIKE},
    f"summary {PLAYER} --plays-like --format csv": {"level": "too few rounds for a range"},
    "check season.csv": {"new_player": "no name there is like another"},
    "check broken.csv": {"new_player": "no name there is like another"},
    "load more.csv": {
        "replace": "what is not there yet cannot be replaced",
        "new_player": "no name there is like another",
    },
    "fit --name new": {"replace": "what is not there yet cannot be replaced"},
    "map season.csv": {"replace": "what is not there yet cannot be replaced"},
}
"""Way -> options that may change nothing there, and why."""


def verb_of(name: str) -> click.Command:
    """Return a verb of the command line."""
    verb = cli.sgzone.get_command(click.Context(cli.sgzone), name)
    assert verb is not None
    return verb


@shared
def home() -> str:
    """Return a folder with the season of two players, a fitted curve, strokes and cards."""
    folder = Path(tempfile.mkdtemp(dir=os.environ.get("SGZONE_TESTS_SHARED")))
    season = pd.read_csv(data_path("demo/season.csv"))
    days = sorted(season["date"].unique())[::3]
    mine = season[season["date"].isin(days)].assign(player=ADA)
    others = mine[mine["date"].isin(days[:7])].assign(player=BEN)
    others["distance"] += 1
    pd.concat([mine, others[others["date"] < days[6]]]).to_csv(folder / "season.csv", index=False)
    others[others["date"] == days[6]].to_csv(folder / "more.csv", index=False)
    mine.assign(hole="x").to_csv(folder / "broken.csv", index=False)
    (folder / "own.toml").write_text("rate_hours = 2\n", encoding="utf-8")
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "season.csv")
        for name in ("practice_log", "test_blocks", "bag"):
            table = pd.read_csv(data_path(f"demo/{name}.csv")).assign(player=ADA)
            table.to_csv(folder / f"{name}.csv", index=False)
            store.load(folder / f"{name}.csv")
        holed = About(measure="holed", from_ft=3, to_ft=8, target=0.75)
        near = About(measure="proximity", from_ft=150)
        for player, text, about in (
            *((ADA, "hole out", holed), (ADA, "wedges", About(part="wedge_50_100"))),
            *((ADA, "near", near), (BEN, "sleep", About())),
        ):
            add(store, player, text, about, date(2026, 6, 30))
    with inside(folder):
        assert call("fit", "--name", "squad").code == FINE
        assert call("backup", "--strokes", STROKES).code == FINE
    return str(folder)


def asked(words: list[str]) -> tuple[Outcome, dict[str, bytes]]:
    """Return what a call does in a folder of its own: what it prints, and the files it makes."""
    there = Path(home())
    with tempfile.TemporaryDirectory() as name, inside(Path(name)):
        for file in there.iterdir():
            copied = file.suffix != ".duckdb" or words[0] in CHANGES_THE_FILE
            (shutil.copyfile if copied else os.symlink)(file, Path(file.name))
        outcome = call(*words)
        made = [path for path in Path(name).rglob("*") if not (there / path.name).exists()]
        return outcome, {path.name: path.read_bytes() for path in made if path.is_file()}


def idle_options(way: str) -> set[str]:
    """Return the options that change nothing in one way of asking."""
    words = shlex.split(way)
    before = asked(words)
    assert before[0].code in (FINE, 1) if words[0] == "check" else before[0].code == FINE, before
    found = set()
    for param in verb_of(words[0]).params:
        name = str(param.name)
        if isinstance(param, click.Argument) or {*param.opts, *param.secondary_opts} & {*words}:
            continue
        option = OTHERS.get(f"{words[0]} {name}", VALUES[name])
        if asked([*words, *shlex.split(option)]) == before and not _acts_beyond(words, option):
            found.add(name)
    return found


def _acts_beyond(words: list[str], option: str) -> bool:
    """Return whether an option changes the columns that a short table leaves to ``--wide``."""
    whole = asked([*words, "--wide"])
    return whole[0].code == FINE and asked([*words, "--wide", *shlex.split(option)]) != whole


def spared(way: str) -> set[str]:
    """Return the options that may change nothing in one way of asking: those ``SPARED``.

    And ``--units`` with csv, which keeps the units of its column names whatever is asked;
    ``--rows`` where the one row of a table is printed anyhow; and ``--everybody``, which overrides
    a setting that is not there.
    """
    units = ("units",) if "--format csv" in way else ()
    return {*SPARED.get(way, {}), "everybody", *units, *(("rows",) if way in ONE_ROW else ())}


@pytest.mark.long
@pytest.mark.parametrize("way", [f"{v} {w}".strip() for v, ways in WAYS.items() for w in ways])
def test_an_option_changes_something_or_is_refused(way: str) -> None:
    assert idle_options(way) <= spared(way)


@pytest.mark.long
def test_an_option_that_does_nothing_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(why, "refuse_idle", lambda *_: None)
    assert idle_options(f"why {PLAYER} --detail carry") == {"ratio", "benchmark"}


def test_every_verb_is_asked_and_every_option_has_a_value() -> None:
    assert set(WAYS) | APART == set(cli.VERBS)
    params = {(verb, p.name) for verb in WAYS for p in verb_of(verb).params if p.opts[0][0] == "-"}
    assert {name for _, name in params} == set(VALUES)
