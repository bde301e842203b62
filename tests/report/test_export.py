"""Tables and charts as files: all there, harmless, named by section, the same bytes."""

from __future__ import annotations

import errno
import json
import os
import re
from contextlib import AbstractContextManager
from pathlib import Path
from typing import BinaryIO

import pandas as pd
import pytest

from sgzone import writing
from sgzone.errors import DataError
from sgzone.report.export import write_export
from sgzone.report.player import Report
from sgzone.report.write import write_report
from sgzone.season.store import open_store
from sgzone.words.notes import met
from tests.report.seasons import demo_report

NAME = re.compile(r"[a-z]+(_\d+)?(-[a-z]+)*(-\d+)?\.(csv|parquet|svg|png|vl\.json)")
NOTED = """player,date,hole,shot,lie,distance,result,note
=cmd,2026-05-01,1,1,fairway,100,,"=HYPERLINK(""http://x"",""y"")"
=cmd,2026-05-01,1,2,green,20,,
=cmd,2026-05-01,1,3,green,2,holed,@home +1
"""


@pytest.fixture(scope="module")
def made() -> Report:
    return demo_report()


@pytest.fixture(scope="module")
def folder(made: Report, tmp_path_factory: pytest.TempPathFactory) -> Path:
    where = tmp_path_factory.mktemp("export") / "new"
    write_export(made, where)
    return where


def test_every_table_comes_twice_unrounded(made: Report, folder: Path) -> None:
    for name, table in made.tables.items():
        plain = table.reset_index(drop=True)
        read = pd.read_parquet(folder / f"{name}.parquet")
        assert list(read.columns) == list(plain.columns)
        assert len(read) == len(plain)
        text = pd.read_csv(folder / f"{name}.csv", keep_default_na=False, na_values=[""])
        for column in plain.select_dtypes("float"):
            assert read[column].to_numpy() == pytest.approx(plain[column].to_numpy(), nan_ok=True)
            written = pd.to_numeric(text[column]).to_numpy()
            assert written == pytest.approx(plain[column].to_numpy(), nan_ok=True, rel=1e-12)


def _rows(frame: pd.DataFrame, wanted: pd.Series) -> int:
    return len(frame[wanted])


PAGE = {
    "where": {"where": len},
    "standards": {"standards": len},
    "against": {"against": len},
    "grid": {"grid": len},
    "proximity": {"proximity": len},
    "why": {
        # its two columns stand beside; what no stroke met is left out on the page
        "why": lambda t: _rows(met(t), met(t)["column"] == "total"),
        "why-putts": len,
    },
    "misses": {"misses": lambda t: _rows(t, t["shots"] > 0)},
    "counts": {
        "counts": lambda t: _rows(t, t["band"].isna() & (t["n"] > 0)),
        "counts ": lambda t: t.loc[t["band"].notna() & (t["n"] > 0), "band"].nunique(),
    },
    "clubs": {"clubs": len, "clubs-numbers": len},
    "practice": {"practice": len, "practice-splits": len},
    "trend": {"trend": lambda t: t["part"].nunique()},  # the chart's rounds are in the file too
    "method": {"method": len},
    "sources": {"sources": len},
}
"""Section -> its tables in order: the file and how many rows of it the page shows."""


def test_every_table_of_the_page_is_in_the_export(made: Report, folder: Path) -> None:
    seen = 0
    for section in made.page.sections:
        tables = [*(figure.table for figure in section.figures), *section.tables]
        wanted = PAGE.get(section.id, {})
        assert len(tables) == len(wanted), section.id
        for table, (name, shown) in zip(tables, wanted.items(), strict=True):
            frame = pd.read_parquet(folder / f"{name.strip()}.parquet")
            assert len(table.rows) == shown(frame), (name, table.caption)
            assert len(pd.read_csv(folder / f"{name.strip()}.csv")) == len(frame)
            seen += 1
    assert seen == 17
    (practice,) = (section for section in made.page.sections if section.id == "practice")
    drills = sum(len(card.drills) for card in practice.cards)
    assert drills == len(pd.read_csv(folder / "practice-week.csv"))  # the cards of the page


def test_the_numbers_that_no_swing_fits_are_exported(folder: Path) -> None:
    cover = pd.read_csv(folder / "clubs-cover.csv")
    assert cover["from_yd"].min() >= 30
    assert cover["to_yd"].max() == 150
    assert 0 < cover["uncovered"].sum() < cover["strokes"].sum()


def test_every_chart_comes_thrice_and_stands_alone(made: Report, folder: Path) -> None:
    charts = 0
    for section in made.page.sections:
        panels = [panel for figure in section.figures for panel in figure.panels]
        charts += len(panels)
        for number in range(1, len(panels) + 1):
            stem = f"{section.id}-chart-{number}"
            assert (folder / f"{stem}.png").read_bytes().startswith(b"\x89PNG")
            assert "<svg" in (folder / f"{stem}.svg").read_text(encoding="utf-8")
            spec = json.loads((folder / f"{stem}.vl.json").read_text(encoding="utf-8"))
            assert "vega-lite" in spec["$schema"]
            assert spec.get("width") != "container"
    assert charts > 12
    assert len(list(folder.glob("*.svg"))) == charts


def test_contents_lists_every_file_and_names_come_from_sections(made: Report, folder: Path):
    listed = pd.read_csv(folder / "contents.csv")
    there = {path.name for path in folder.iterdir()}
    assert set(listed["file"]) | {"contents.csv"} == there
    assert listed["section"].notna().all()
    ids = {section.id for section in made.page.sections} | {"contents"}
    for name in there:
        assert NAME.fullmatch(name), name
        assert name.split(".")[0].split("-")[0] in ids


@pytest.mark.long
def test_the_same_report_gives_the_same_bytes(made: Report, folder: Path, tmp_path: Path) -> None:
    write_export(made, tmp_path)
    for path in sorted(folder.iterdir()):
        assert (tmp_path / path.name).read_bytes() == path.read_bytes(), path.name


@pytest.mark.long
def test_notes_stay_home_unless_asked_for_and_run_nothing(tmp_path: Path) -> None:
    (tmp_path / "card.csv").write_text(NOTED, encoding="utf-8")
    with open_store() as store:
        store.load(tmp_path / "card.csv")
        write_report([], store, export=tmp_path / "without")
        write_report([], store, export=tmp_path / "with", with_notes=True)
    for path in (tmp_path / "without").iterdir():
        assert b"HYPERLINK" not in path.read_bytes()
        assert b"=cmd" not in path.read_bytes()
    assert not (tmp_path / "without" / "notes.csv").exists()
    text = (tmp_path / "with" / "notes.csv").read_text(encoding="utf-8")
    rows = pd.read_csv(tmp_path / "with" / "notes.csv")
    assert list(rows["note"]) == ['\'=HYPERLINK("http://x","y")', "'@home +1"]
    assert list(rows["player"]) == ["'=cmd"] * 2
    assert not re.search(r'(^|[,\n]"?)[=+@]', text)
    raw = pd.read_parquet(tmp_path / "with" / "notes.parquet")
    assert list(raw["note"]) == ['=HYPERLINK("http://x","y")', "@home +1"]


def test_a_squad_s_notes_call_players_as_the_page_does(tmp_path: Path) -> None:
    """Of two with the same initials only the second has notes."""
    card = """player,date,hole,shot,lie,distance,result,note
Al Lime,2026-05-01,1,1,green,20,,into the sun
Al Lime,2026-05-01,1,2,green,2,holed,
Ada Low,2026-05-02,1,1,green,9,holed,
"""
    (tmp_path / "card.csv").write_text(card, encoding="utf-8")
    with open_store() as store:
        store.load(tmp_path / "card.csv")
        write_report([], store, kind="team", export=tmp_path / "out", with_notes=True)
    notes = pd.read_csv(tmp_path / "out" / "notes.csv")
    assert list(notes["player"]) == ["AL 2"]


def test_a_place_that_cannot_be_written_is_said(made: Report, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(DataError, match=r"The tables and charts cannot be .*another place"):
        write_export(made, tmp_path / "file")


@pytest.mark.long
def test_a_folder_half_written_over_has_no_list(
    made: Report, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = writing._whole

    def full(output: writing.Output) -> AbstractContextManager[BinaryIO]:
        if output.path.suffix == ".svg":
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return whole(output)

    last = "file,section,holds\nof-last-year.csv,,\n"
    (tmp_path / "contents.csv").write_text(last, encoding="utf-8")
    with monkeypatch.context() as disk:
        disk.setattr(writing, "_whole", full)
        with pytest.raises(DataError, match="Make room"):
            write_export(made, tmp_path)
    assert len(list(tmp_path.glob("*.parquet"))) > 5
    assert not (tmp_path / "contents.csv").exists()
    (tmp_path / "of-last-year.csv").write_text("kept", encoding="utf-8")
    write_export(made, tmp_path)  # over what the stopped one left
    listed = set(pd.read_csv(tmp_path / "contents.csv")["file"])
    there = {path.name for path in tmp_path.iterdir()}
    assert there == listed | {"contents.csv", "of-last-year.csv"}


def test_a_file_that_no_export_wrote_stays(made: Report, tmp_path: Path) -> None:
    (tmp_path / "where.csv").write_text("my,own\n", encoding="utf-8")
    with pytest.raises(DataError, match=r"where\.csv exists already and is not overwritten"):
        write_export(made, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["where.csv"]
    (tmp_path / "contents.csv").write_text("my,list\n", encoding="utf-8")
    with pytest.raises(DataError, match=r"contents\.csv exists already and is not the list of"):
        write_export(made, tmp_path)
    assert (tmp_path / "where.csv").read_text(encoding="utf-8") == "my,own\n"
