"""A file for each player: its own player's page, and nothing of the others in it."""

from __future__ import annotations

import re
import shutil
import subprocess
import zlib
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from urllib.parse import unquote

import pandas as pd
import pytest

from sgzone.errors import CallError, DataError
from sgzone.report.squad import Squad, file_stems, own_pages
from sgzone.report.squad.each import SHOWN
from sgzone.report.write import write_report
from sgzone.season.agreed.keeping import add
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from sgzone.words.digits import day
from tests.report.squads import ask_all, squad

ADA, OTTO, PEN = "Ada Quillfeather", "Otto Frobish", "Penn O'Wask"
PLAYERS = (ADA, OTTO, PEN)
TEXTS = {ADA: "chips land before the green", OTTO: "two putts from afar", PEN: "full wedges only"}
STEMS = {ADA: "ada-quillfeather", OTTO: "otto-frobish", PEN: "penn-o-wask"}


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """Three players with rounds of their own, notes on their cards, logs and agreements."""
    folder = tmp_path_factory.mktemp("squad")
    with squad(folder, PLAYERS, 9) as opened:
        for number, player in enumerate(PLAYERS):
            days = opened.rounds(Selection(player))["date"]
            add(opened, player, TEXTS[player], day=days.max().date() - timedelta(days=number + 1))
            minutes = 31 + 60 * number
            log = {"date": sorted(set(days.dt.date)), "minutes": minutes, "part": "putt_0_10"}
            pd.DataFrame(log).assign(player=player).to_csv(folder / "log.csv", index=False)
            opened.load(folder / "log.csv", new_player=True)
        yield opened


@pytest.fixture(scope="module")
def asked(store: Store) -> Squad:
    return ask_all(store)


@pytest.fixture(scope="module")
def folder(store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the squad's pages, and in ``each`` a page and a paper for every player."""
    made = tmp_path_factory.mktemp("made")
    files = [made / "team.html", made / "team.pdf"]
    written = write_report(files, store, kind="team", names=True, each=made / "each")
    assert set(written) == {
        *files,
        *(made / "each" / f"{stem}{ending}" for stem in STEMS.values() for ending in ENDINGS),
    }
    return made


ENDINGS = (".html", ".pdf")


def _held(path: Path) -> str:
    """Return all that can be read in a file: a page's pictures too, what a PDF has packed."""
    held = path.read_bytes()
    if path.suffix == ".html":
        return unquote(held.decode())
    unpacked = [path.name, held.decode("latin-1")]
    for match in re.finditer(rb"stream\r?\n(.*?)endstream", held, re.S):
        try:
            unpacked.append(zlib.decompressobj().decompress(match[1]).decode("latin-1"))
        except zlib.error:
            continue
    tool = shutil.which("pdftotext")
    if tool is None:
        pytest.skip("needs pdftotext: apt-get install poppler-utils")
    done = subprocess.run([tool, "-layout", path, "-"], capture_output=True, check=True, text=True)
    return "\n".join([*unpacked, done.stdout])


def _values(asked: Squad) -> dict[str, set[str]]:
    """Return digits of values that one player alone has, as a page's data have them."""
    found = {}
    for own in asked.members:
        columns = own.parts[["gained_per_round", "shrunk_per_round", "shrunk_low_per_round"]]
        numbers = columns.to_numpy(float).ravel()
        found[own.player] = {f"{abs(n):.7g}"[:7] for n in numbers if abs(n) > 0.01}
    for player, digits in found.items():
        for other in PLAYERS:
            if other != player:
                digits -= found[other]
    return found


def _words(asked: Squad) -> dict[str, set[str]]:
    """Return names, texts and days that are one player's alone."""
    return {
        own.player: {
            *own.player.replace("O'", "").split(),
            *STEMS[own.player].split("-")[-1:],
            TEXTS[own.player],
            *(day(when.date()).rsplit(" ", 1)[0] for when in own.sizes["date"]),
        }
        for own in asked.members
    }


@pytest.mark.repeats
@pytest.mark.parametrize("player", PLAYERS)
@pytest.mark.parametrize("ending", ENDINGS)
def test_a_file_has_its_own_player_and_nothing_of_the_others(
    folder: Path, asked: Squad, player: str, ending: str
) -> None:
    text = _held(folder / "each" / f"{STEMS[player]}{ending}")
    values, words = _values(asked), _words(asked)
    assert all(len(of) > 10 for of in values.values())
    for other in PLAYERS:
        alone = {word for word in words[other] if re.search(rf"\b{re.escape(word)}\b", text)}
        digits = {number for number in values[other] if number in text}
        if other == player:
            assert {TEXTS[player], player.split()[0]} <= alone
            assert ending == ".pdf" or digits == values[player]  # paper has rounded ones
        else:
            assert alone == set(), other
            assert digits == set(), other


@pytest.mark.parametrize("ending", ENDINGS)
def test_the_search_finds_all_of_them_in_the_coach_s_own_file(
    folder: Path, asked: Squad, ending: str
) -> None:
    """The control: what the test above looks for can be found where it is."""
    text = _held(folder / f"team{ending}")
    for player, digits in _values(asked).items():
        assert TEXTS[player] in text
        assert player.split()[0] in text
        assert ending == ".pdf" or all(number in text for number in digits)


@pytest.mark.long
def test_nobody_learns_when_others_agreed_on_something(asked: Squad) -> None:
    last = asked.agreed_on
    assert last is not None
    pages = dict(own_pages(asked))
    assert list(pages) == sorted(PLAYERS)
    for player, page in pages.items():
        since = next(section for section in page.sections if section.id == "since")
        assert since.lead[0].startswith(f"From {day(last + timedelta(days=1))} on")
        assert "agreement" not in " ".join(since.lead), player
        assert [s.id for s in page.sections[1:]] == list(SHOWN)
        assert player in page.title


def test_names_of_files_are_harmless_and_stay_whoever_comes() -> None:
    hostile = ["../etc/passwd", "CON", "a/b", "..", "Ünal Ørsted", "李", "x" * 300, "-rf", "Com1"]
    stems = file_stems(hostile)
    assert len(set(stems.values())) == len(hostile)
    for stem in stems.values():
        assert re.fullmatch(r"[a-z0-9][a-z0-9-]{0,60}", stem), stem
    assert stems["../etc/passwd"] == "etc-passwd"
    assert stems["Ünal Ørsted"].startswith("unal-")
    assert stems["CON"].startswith("con-")
    alike = ["Ada Low", "ada  low", "Ada-Low"]
    three, two = file_stems(alike), file_stems(alike[:2])
    assert len({*three.values()}) == 3
    assert all(three[name] == two[name] for name in alike[:2])
    marked = three["Ada Low"]  # somebody who is called as a mark looks like
    assert len({*file_stems([*alike, marked]).values()}) == 4


def test_a_foreign_file_is_never_written_over(store: Store, tmp_path: Path) -> None:
    foreign = tmp_path / "otto-frobish.html"
    foreign.write_text("my own notes", encoding="utf-8")
    with pytest.raises(DataError, match=r"otto-frobish\.html.* is not overwritten"):
        write_report(tmp_path / "t.html", store, kind="team", each=tmp_path)
    assert foreign.read_text(encoding="utf-8") == "my own notes"
    assert [path.name for path in tmp_path.iterdir()] == [foreign.name]
    foreign.unlink()
    with pytest.raises(CallError, match="Two files would be written"):
        write_report(foreign, store, kind="team", each=tmp_path)


def test_each_is_of_a_team_alone(store: Store, tmp_path: Path) -> None:
    with pytest.raises(CallError, match="--kind team"):
        write_report([], store, selection=Selection(ADA), each=tmp_path)
    assert not list(tmp_path.iterdir())
