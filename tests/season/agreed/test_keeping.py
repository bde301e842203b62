"""Agreements in the season file: kept, changed, closed, dropped; they go where the player goes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import duckdb
import pandas as pd
import pytest

from sgzone.errors import CallError, DataError
from sgzone.season import opening
from sgzone.season.agreed import keeping
from sgzone.season.agreed.keeping import AGREEMENT_COLUMNS, MOST_LETTERS, About
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import card_text, write
from tests.season.older import taken_back

PUTTS = About(measure="holed", from_ft=4, to_ft=5, target=0.75, due=date(2026, 8, 1))
TODAY = date(2026, 6, 1)


@pytest.fixture(autouse=True)
def june(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SGZONE_TODAY", TODAY.isoformat())


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        store.load(write(tmp_path, card_text("1,1,green,2"), "ada.csv"))
        bea = card_text("1,1,green,3").replace("Ada", "Bea")
        store.load(write(tmp_path, bea, "bea.csv"))
    return path


@pytest.fixture
def store(path: Path) -> Store:
    return open_store(path)


def test_what_is_kept_by_value(store: Store) -> None:
    assert keeping.add(store, "Ada", "holed from 4 to 5 ft", PUTTS) == 1
    assert keeping.add(store, "Ada", "chip, then look up", About(part="chip_0_30")) == 2
    assert keeping.add(store, "Bea", "sleep", day=date(2026, 5, 20)) == 3
    table = keeping.kept(store)
    assert list(table.columns) == list(AGREEMENT_COLUMNS)
    first, second, third = (row for _, row in table.iterrows())
    assert first.iloc[:4].tolist() == [1, "Ada", pd.Timestamp(TODAY), "holed from 4 to 5 ft"]
    assert pd.isna(first["part"])
    assert first["measure"] == "holed"
    assert first.iloc[6:10].tolist() == [4, 5, 0.75, pd.Timestamp(2026, 8, 1)]
    assert second["part"] == "chip_0_30"
    assert second.iloc[5:].isna().all()
    assert third.loc[["player", "day"]].tolist() == ["Bea", pd.Timestamp(2026, 5, 20)]
    assert table["closed"].isna().all()
    assert keeping.kept(store, "Bea")["agreement"].tolist() == [3]


def test_the_day_is_today_or_the_newest_round(store: Store, tmp_path: Path) -> None:
    """What is in the file was known when it was agreed: none of it is since."""
    keeping.add(store, "Ada", "a")
    store.load(write(tmp_path, card_text("1,1,green,2").replace("05-14", "05-31"), "b.csv"))
    keeping.add(store, "Ada", "b")
    store.execute("UPDATE rounds SET date = '2026-06-09' WHERE date = '2026-05-31'")
    keeping.add(store, "Ada", "c")
    days = keeping.kept(store)["day"].dt.date.tolist()
    assert days == [TODAY, TODAY, date(2026, 6, 9)]
    assert keeping.last_days(store).to_numpy().tolist() == [["Ada", pd.Timestamp(2026, 6, 9)]]


def test_edited_closed_and_dropped(store: Store) -> None:
    for text in ("one", "two", "three"):
        keeping.add(store, "Ada", text)
    keeping.edit(store, 2, "  second\n thing ")
    keeping.close(store, 1)
    keeping.close(store, 3, date(2026, 5, 30))
    assert keeping.kept(store)["text"].tolist() == ["one", "second thing", "three"]
    closed = keeping.kept(store)["closed"]
    assert closed.isna().tolist() == [False, True, False]
    assert closed.dropna().dt.date.tolist() == [TODAY, date(2026, 5, 30)]
    keeping.drop(store, 2)
    assert keeping.kept(store)["agreement"].tolist() == [1, 3]
    with pytest.raises(CallError, match=r"Agreement 1 was done on 2026-06-01 already"):
        keeping.close(store, 1)
    unknown = r"No agreement 2 in the season file \(there: 1, 3\)"
    for change in (keeping.drop, keeping.close):
        with pytest.raises(CallError, match=unknown):
            change(store, 2)
    with pytest.raises(CallError, match=unknown):
        keeping.edit(store, 2, "a")


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "needs a text"),
        (" \n\t", "needs a text"),
        ("a" * (MOST_LETTERS + 1), "has 201 letters; an agreement has at most 200"),
        ("a" * 10_000, "has 10,000 letters"),
        ("red \x1b[31m", "control characters"),
        ("nul \x00", "control characters"),
        ("turned \u202e round", "control characters"),
        ("half \ud800", "control characters"),
    ],
)
def test_a_text_that_is_none(store: Store, text: str, wrong: str) -> None:
    with pytest.raises(CallError, match=wrong):
        keeping.add(store, "Ada", text)
    keeping.add(store, "Ada", "fine")
    with pytest.raises(CallError, match=wrong):
        keeping.edit(store, 1, text)
    assert keeping.kept(store)["text"].tolist() == ["fine"]


@pytest.mark.parametrize(
    "text",
    [
        *(
            "<b onclick='x()'>two</b>",
            "#eval(1) $x$ *a* _b_ @c",
            "=1+1",
            "'; DROP TABLE strokes --",
        ),
        *("a" * MOST_LETTERS, "שני פאטים", "Zoë 🏌️", "$text"),
    ],
)
def test_any_other_text_is_kept_as_it_is(store: Store, text: str) -> None:
    keeping.add(store, "Ada", text)
    assert keeping.kept(store)["text"].tolist() == [text]
    assert len(store.frame("SELECT * FROM strokes")) == 2


@pytest.mark.parametrize(
    ("about", "wrong"),
    [
        ({"part": "chips"}, '"chips" is no part; write one of approach_100_150'),
        ({"measure": "hold"}, '"hold" is no measure.*Did you mean holed'),
        ({"part": "chip_0_30", "measure": "holed"}, "a part or a measure, not both"),
        ({"part": "chip_0_30", "from_ft": 4}, "from need a measure"),
        ({"target": 0.5, "to_ft": 3}, "to and value need a measure"),
        ({"measure": "holed", "from_ft": 5, "to_ft": 5}, "from must be less than to"),
        ({"measure": "holed", "from_ft": -1}, "from 0 to 600 ft"),
        ({"measure": "holed", "to_ft": float("nan")}, "from 0 to 600 ft"),
        ({"measure": "holed", "target": 1.5}, "from 0 to 100%, not 150%"),
        ({"measure": "proximity", "target": float("inf")}, "from 0 to 600 ft"),
    ],
)
def test_what_does_not_fit_together(about: dict[str, object], wrong: str) -> None:
    with pytest.raises(CallError, match=wrong):
        About(**about)  # type: ignore[arg-type]


def test_an_unknown_player_and_a_day_that_has_passed(store: Store) -> None:
    with pytest.raises(CallError, match='No player "Cy"'):
        keeping.add(store, "Cy", "a")
    with pytest.raises(CallError, match="Due 2026-06-01 is not after 2026-06-01"):
        keeping.add(store, "Ada", "a", About(due=TODAY))


def test_they_travel_with_a_copy_and_follow_a_name(store: Store, tmp_path: Path) -> None:
    keeping.add(store, "Ada", "holed", PUTTS)
    store.rename("Ada", "Ada Low")
    before = keeping.kept(store)
    assert before["player"].tolist() == ["Ada Low"]
    store.backup(tmp_path / "copy.duckdb")
    with open_store(tmp_path / "copy.duckdb", read_only=True) as copy:
        pd.testing.assert_frame_equal(keeping.kept(copy), before)


def test_they_go_with_the_player(store: Store) -> None:
    keeping.add(store, "Ada", "a")
    keeping.add(store, "Bea", "b")
    assert store.held("Ada")["agreements"] == 1
    assert store.delete_player("Ada")["agreements"] == 1
    assert keeping.kept(store)["player"].tolist() == ["Bea"]
    store.delete("Bea", "2026-05-14")
    assert store.delete_player("Bea")["agreements"] == 1  # still known by it alone


@pytest.mark.long
def test_a_file_of_the_fifth_schema_can_keep_them(path: Path) -> None:
    with duckdb.connect(str(path)) as file:
        taken_back(file, 5)
        assert "agreements" not in str(file.execute("SHOW TABLES").fetchall())
    with open_store(path, read_only=True) as store:
        assert store.frame("SELECT * FROM meta").iloc[0, 0] == opening.SCHEMA_VERSION
        assert keeping.kept(store).empty
        assert store.players() == ["Ada", "Bea"]
    with open_store(path) as store:
        assert keeping.add(store, "Ada", "a") == 1


@pytest.mark.repeats
@pytest.mark.parametrize(
    "change", ["part = 'chips'", "measure = 'x'", "target = 'nan'", "day = '0001-01-01'"]
)
def test_what_another_program_changed_is_told(path: Path, change: str) -> None:
    with open_store(path) as store:
        keeping.add(store, "Ada", "a", PUTTS)
        store.execute(f"UPDATE agreements SET {change}")
    with pytest.raises(DataError, match="is damaged: 1 row in it"), open_store(path):
        raise KeyError("some question that broke")
