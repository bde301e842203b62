"""The report: a player's season of 40 rounds, and a squad of 20, from season file to page.

The charts' script is kept beside the season files, as from a user's second report on; one contender
makes it too, as the first one does. The floor beside each reads the columns the scoring needs of
the same season file and adds them up.
"""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import TemporaryDirectory

from sgzone.demo.simulate import SEASON_ROUNDS, write_cards
from sgzone.report.screen.script import CACHE, vega_bundle
from sgzone.report.write import write_report
from sgzone.resources import data_path
from sgzone.season.store import open_store
from tests.bench.material import STROKES_PER_PLAYER, Answer, Material
from tests.bench.scoring import floor_of

PLAYERS = 20


def forty_rounds(material: Material) -> Path:
    """Return where the season file of one player's 40 rounds is."""
    return material.season.with_name(f"one-{SEASON_ROUNDS}.duckdb")


def twenty_players(material: Material) -> Path:
    """Return where the season file of a squad is, some 46 simulated rounds a player."""
    return material.season.with_name(f"squad-{PLAYERS}.duckdb")


def make_seasons(material: Material) -> None:
    """Write both season files, and the charts' script, beside the material's, unless there."""
    os.environ[CACHE] = _scripts(material)
    vega_bundle()
    if twenty_players(material).exists():
        return
    with open_store(forty_rounds(material)) as store:
        store.load(data_path("demo/season.csv"))
    card = material.season.with_name("squad.parquet")
    write_cards(card, PLAYERS * STROKES_PER_PLAYER, players=PLAYERS)
    with open_store(twenty_players(material)) as store:
        store.load(card)


def _scripts(material: Material) -> str:
    return str(material.season.with_name("scripts"))


def _write(season: Path, name: str, scripts: str, kind: str = "season") -> Answer:
    """Write one report into a folder of its own; its size in bytes."""
    os.environ[CACHE] = scripts
    with TemporaryDirectory() as folder, open_store(season, read_only=True) as store:
        (path,) = write_report(Path(folder, name), store, kind=kind)
        return path.stat().st_size, 0.0


def season_page(material: Material) -> Answer:
    """Write the page of 40 rounds."""
    return _write(forty_rounds(material), "report.html", _scripts(material))


def season_page_first(material: Material) -> Answer:
    """Write the page of 40 rounds where no script is kept."""
    return _write(forty_rounds(material), "report.html", "")


def season_print(material: Material) -> Answer:
    """Write the printed report of 40 rounds."""
    return _write(forty_rounds(material), "report.pdf", _scripts(material))


def season_floor(material: Material) -> Answer:
    """Read and add up the columns of 40 rounds."""
    return floor_of(forty_rounds(material))


def team_page(material: Material) -> Answer:
    """Write the page of a squad of 20."""
    return _write(twenty_players(material), "team.html", _scripts(material), "team")


def team_print(material: Material) -> Answer:
    """Write the printed report of a squad of 20."""
    return _write(twenty_players(material), "team.pdf", _scripts(material), "team")


def team_floor(material: Material) -> Answer:
    """Read and add up the columns of a squad of 20."""
    return floor_of(twenty_players(material))
