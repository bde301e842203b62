"""Loading, loading again, replacing, correcting and copying a season file."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from datetime import date
from pathlib import Path

import duckdb
import pandas as pd
import pytest

from sgzone.errors import CallError, DataError
from sgzone.season import loading, steps
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import HEADER, card_text, write

TABLES = (
    *("loads", "rounds", "holes", "strokes", "practice_log", "test_balls", "bag"),
    *("fitted_curves", "fitted_knots", "fitted_players", "agreements"),
)
TWO_ROUNDS = (
    HEADER
    + """
Ada,2026-05-14,1,1,fairway,100,,
Ada,2026-05-14,1,2,green,20,,
Ada,2026-05-14,1,3,green,2,,
Ada,2026-05-15,7,2,rough,40,1,
Ada,2026-05-15,7,4,fringe,6 ft,,
Ada,2026-05-15,8,1,fairway,90,,
Ada,2026-05-15,8,2,,,,picked_up
"""
)
LOG = (
    "player,date,minutes,part,club\nAda,2026-05-14,30,putt_0_10,\nAda,2026-05-14,20,chip_0_30,56\n"
)
TEST = (
    "player,date,block,target_yd,club,carry_yd\n"
    "Ada,2026-05-14,a,80,52,78\nAda,2026-05-14,a,80,52,83\n"
)
BAG = "player,club,in_play_from,in_play_to\nAda,52,2026-01-01,\nAda,56,2026-01-01,2026-04-01\n"


def everything(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Return all rows of all tables but load times."""
    return {
        table: sorted(
            map(tuple, store.frame(f"SELECT * FROM {table}").astype(str).to_numpy().tolist())
        )
        for table in TABLES
    }


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path / "season.duckdb")


def test_strokes_holes_and_rounds_by_value(store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, TWO_ROUNDS.replace("6 ft,,", "6 ft,,holed"))
    report = store.load(path)
    assert (report.kind, report.rows, report.in_place) == ("shot", 7, 0)
    strokes = store.frame(
        "SELECT source_row, hole, shot, lie, distance_ft, penalty, end_lie, end_distance_ft, "
        "result, played FROM strokes"
    )
    rows = strokes.astype(object).where(strokes.notna(), None).to_numpy().tolist()
    assert rows == [
        [2, 1, 1, "fairway", 300.0, 0, "green", 20.0, None, True],
        [3, 1, 2, "green", 20.0, 0, "green", 2.0, None, True],
        [4, 1, 3, "green", 2.0, 0, "holed", 0.0, "holed", True],
        [5, 7, 2, "rough", 120.0, 1, "fringe", 6.0, None, True],
        [6, 7, 4, "fringe", 6.0, 0, "holed", 0.0, "holed", True],
        [7, 8, 1, "fairway", 270.0, 0, None, None, None, True],
        [8, 8, 2, None, None, 0, None, None, "picked_up", False],
    ]
    rounds = store.rounds()
    assert rounds[["holes", "strokes"]].to_numpy().tolist() == [[1, 3], [2, 3]]
    holes = store.frame("SELECT hole, ending FROM holes ORDER BY hole_key")
    assert holes.to_numpy().tolist() == [[1, "holed"], [7, "holed"], [8, "picked_up"]]
    keys = store.frame(
        "SELECT count(DISTINCT hole_key) AS h, count(DISTINCT round_key) AS r FROM strokes"
    )
    assert keys.to_numpy().tolist() == [[3, 2]]
    loads = store.frame("SELECT * FROM loads").iloc[0]
    assert loads["file_name"] == "card.csv"
    assert loads["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert loads["rows"] == 7
    assert abs(pd.Timestamp.now("UTC").tz_localize(None) - loads["loaded_at"]) < pd.Timedelta("1h")


def test_a_conceded_ball_is_the_last_known_place(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, card_text("1,1,fairway,100", "1,2,green,4,,conceded")))
    hole = store.frame("SELECT ending, last_lie, last_distance_ft FROM holes")
    assert hole.to_numpy().tolist() == [["conceded", "green", 4.0]]
    end = store.frame("SELECT end_lie, end_distance_ft FROM strokes WHERE played")
    assert end.to_numpy().tolist() == [["green", 4.0]]
    assert store.rounds()["strokes"].tolist() == [1]


def test_unknown_columns_are_kept(store: Store, tmp_path: Path) -> None:
    text = card_text("1,1,green,9,,,calm", "1,2,green,2", header=HEADER + ',"My ""Mood"""')
    report = store.load(write(tmp_path, text))
    assert [note.column for note in report.notes] == ['my "mood"']
    extra = store.frame("SELECT extra FROM strokes ORDER BY shot")["extra"]
    assert extra[0] == '{"My \\"Mood\\"":"calm"}'
    assert pd.isna(extra[1])


@pytest.mark.parametrize("text", [TWO_ROUNDS.replace("6 ft,,", "6 ft,,holed"), LOG, TEST, BAG])
def test_the_same_file_again_does_nothing(text: str, store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, text)
    first = store.load(path)
    before = everything(store)
    for replace in (False, True):
        again = store.load(path, replace=replace)
        assert (again.rows, again.in_place) == (0, first.rows)
        assert "already" in again.sentence
    assert everything(store) == before


@pytest.mark.parametrize(
    ("text", "changed", "row"),
    [
        (card_text("1,1,green,2"), card_text("1,1,green,3"), 2),
        (LOG, LOG.replace("20,chip", "25,chip").replace("\nAda,2026-05-14,30,putt_0_10,", ""), 2),
        (TEST, TEST.replace("83", "84"), 2),
        (BAG, BAG.replace("2026-04-01", "2026-04-02"), 3),
    ],
)
def test_what_is_there_is_refused_then_replaced(
    text: str, changed: str, row: int, store: Store, tmp_path: Path
) -> None:
    store.load(write(tmp_path, text))
    before = everything(store)
    other = write(tmp_path, changed, "other.csv")
    with pytest.raises(DataError) as caught:
        store.load(other)
    assert caught.value.problems[0].row == row
    assert "in the season file already, with other values" in caught.value.problems[0].wrong
    assert "(from card.csv" in caught.value.problems[0].wrong
    assert "--replace" in caught.value.problems[0].fix
    assert everything(store) == before
    report = store.load(other, replace=True)
    assert report.rows + report.in_place == changed.count("\n") - 1
    assert report.in_place == (1 if text is BAG else 0)  # a log's whole day is replaced
    rows = everything(store)
    loaded = {key: len(value) for key, value in rows.items()}
    table = max(("strokes", "practice_log", "test_balls", "bag"), key=lambda name: loaded[name])
    assert loaded[table] == changed.count("\n") - 1  # a log's whole day is replaced
    assert loaded["holes"] == loaded["rounds"] == len(rows["strokes"])


def test_a_deleted_round_loads_again_and_the_rest_stays(store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, TWO_ROUNDS.replace("6 ft,,", "6 ft,,holed"))
    store.load(path)
    kept = store.frame("SELECT * FROM rounds WHERE date = '2026-05-15'")
    assert store.delete("Ada", "2026-05-14") == 3
    assert len(store.frame("SELECT * FROM holes")) == 2
    again = store.load(path)
    assert (again.rows, again.in_place) == (3, 4)
    assert len(store.frame("SELECT * FROM strokes")) == 7
    pd.testing.assert_frame_equal(
        store.frame("SELECT * FROM rounds WHERE date = '2026-05-15'"), kept
    )
    assert store.load(path).rows == 0


def test_a_round_replaced_from_elsewhere_is_not_in_place(store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, TWO_ROUNDS.replace("6 ft,,", "6 ft,,holed"))
    store.load(path)
    store.load(write(tmp_path, card_text("1,1,green,3"), "new.csv"), replace=True)
    with pytest.raises(DataError) as caught:
        store.load(path)
    assert [problem.row for problem in caught.value.problems if problem.severity == "error"] == [2]
    report = store.load(path, replace=True)
    assert (report.rows, report.in_place) == (3, 4)
    assert store.rounds()["strokes"].tolist() == [3, 3]


def test_a_crash_in_the_middle_leaves_nothing(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.load(write(tmp_path, card_text("1,1,green,2")))
    before = everything(store)
    step = loading.run_step

    def crash(connection: duckdb.DuckDBPyConnection, name: str, *rest: object) -> None:
        step(connection, name, *rest)  # type: ignore[arg-type]
        if name == "insert_card":
            raise KeyboardInterrupt

    other = write(tmp_path, card_text("1,1,green,3", "2,1,green,4"), "other.csv")
    with monkeypatch.context() as patch:
        patch.setattr(loading, "run_step", crash)
        with pytest.raises(KeyboardInterrupt):
            store.load(other, replace=True)
    assert everything(store) == before
    assert store.load(other, replace=True).rows == 2


def test_copies_of_a_round_in_the_season_file(store: Store, tmp_path: Path) -> None:
    text = card_text("1,1,fairway,100", "1,2,green,20", "1,3,green,2")
    path = write(tmp_path, text)
    store.load(path)
    copied = write(tmp_path, text.replace("Ada", "Bea"), "bea.csv")
    with pytest.raises(DataError, match=r'those of "Ada" on the same day \(the season file'):
        store.load(copied)
    store.rename("Ada", "Bea")
    assert store.load(path).rows == 0  # the very file is in place, under a corrected name
    assert store.players() == ["Bea"]


def test_a_round_that_is_missing_comes_back_though_another_counts_twice(
    store: Store, tmp_path: Path
) -> None:
    """The row of the second round is there under two names: still only one row of the file."""
    first, second = card_text("1,1,green,2"), card_text("1,1,green,3").replace("-14", "-15")
    path = write(tmp_path, first + second.split("\n", 1)[1])
    store.load(path)
    store.rename("Ada", "Bea")
    store.delete("Bea", "2026-05-14")
    store.load(path)
    store.delete("Ada", "2026-05-14")
    assert store.load(path).rows == 1
    assert store.load(path).rows == 0
    assert len(store.frame("SELECT * FROM loads")) == 3
    assert store.rounds()["player"].tolist().count("Ada") == 2


def test_a_round_with_holes_of_its_own_is_no_copy(store: Store, tmp_path: Path) -> None:
    one = ("1,1,green,20", "1,2,green,5", "1,3,green,2")
    store.load(write(tmp_path, card_text(*one)))
    more = card_text(*one, "2,1,fairway,100", "2,2,green,9").replace("Ada", "Bea")
    assert store.load(write(tmp_path, more, "bea.csv")).rows == 5


def test_rename_everywhere_and_refuse_a_clash(store: Store, tmp_path: Path) -> None:
    for number, text in enumerate((card_text("1,1,green,2"), LOG, TEST, BAG)):
        store.load(write(tmp_path, text, f"{number}.csv"))
    other = card_text("1,1,green,3").replace("Ada", "Bea")
    store.load(write(tmp_path, other.replace("-14", "-20"), "bea.csv"))
    assert store.rename("Bea", " Cleo ") == 1
    store.load(write(tmp_path, other.replace("-14", "-21"), "bea.csv"))
    assert store.rename("Bea", "Cleo") == 2
    store.load(write(tmp_path, other, "clash.csv"))
    before = everything(store)
    with pytest.raises(DataError, match="both have 2026-05-14, 1"):
        store.rename("Ada", "Bea")
    assert everything(store) == before
    store.rename("Ada", "Eve")
    for table in ("strokes", "rounds", "practice_log", "test_balls", "bag"):
        assert store.frame(f"SELECT * FROM {table} WHERE player = 'Ada'").empty
        assert not store.frame(f"SELECT * FROM {table} WHERE player = 'Eve'").empty
    with pytest.raises(CallError, match=r"there: Bea, Cleo, Eve"):
        store.rename("Nobody", "Eve")
    with pytest.raises(CallError, match="1 to 80"):
        store.rename("Eve", "  ")


def test_a_rename_that_fails_halfway_changes_nothing(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, card_text("1,1,green,2")))
    before = everything(store)
    store.execute("ALTER TABLE rounds RENAME COLUMN player TO who")
    with pytest.raises(duckdb.BinderException):
        store.rename("Ada", "Bea")
    store.execute("ALTER TABLE rounds RENAME COLUMN who TO player")
    assert everything(store)["strokes"] == before["strokes"]


def test_delete_what_is_not_there(store: Store) -> None:
    with pytest.raises(CallError, match="No round 2"):
        store.delete("Ada", date(2026, 5, 14), 2)
    with pytest.raises(CallError, match="is not a date"):
        store.delete("Ada", "14/05/2026")


def test_backup_is_whole_opens_and_grows(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, card_text("1,1,green,2")))
    store.load(write(tmp_path, LOG, "log.csv"))
    target = store.backup(tmp_path / "copy.duckdb")
    with open_store(target) as copy:
        assert everything(copy) == everything(store)
        copy.load(write(tmp_path, card_text("2,1,green,2").replace("-14", "-15"), "next.csv"))
        keys = copy.frame("SELECT hole_key, round_key, load_id FROM strokes ORDER BY date")
        assert keys.to_numpy().tolist() == [[1, 1, 1], [2, 2, 3]]
    with pytest.raises(DataError, match="not overwritten"):
        store.backup(target)
    with pytest.raises(DataError, match="no folder"):
        store.backup(tmp_path / "none" / "copy.duckdb")
    assert sorted(path.name for path in tmp_path.glob("*.part*")) == []


def test_a_full_disk_is_said_plainly(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise duckdb.IOException("No space left on device")

    monkeypatch.setattr(loading, "run_step", full)
    with pytest.raises(DataError, match=r"No space left on device.*Is the disk full"):
        store.load(write(tmp_path, card_text("1,1,green,2")))
    assert store.rounds().empty


def test_temp_and_bound_values(store: Store) -> None:
    store.temp("cells", pd.DataFrame({"lie": ["rough", None], "e0": [2.5, 3.0]}))
    frame = store.frame("SELECT e0 FROM cells WHERE lie = $lie", {"lie": "rough"})
    assert frame["e0"].tolist() == [2.5]
    store.temp("cells", pd.DataFrame({"a": [1]}))
    assert store.frame("SELECT * FROM cells").shape == (1, 1)
    with pytest.raises(ValueError, match="table name"):
        store.temp("cells; DROP TABLE strokes", pd.DataFrame({"a": [1]}))


def test_a_kept_frame_is_made_again_where_it_was_undone(store: Store) -> None:
    one, two = pd.DataFrame({"a": [1]}), pd.DataFrame({"a": [2]})
    store.keep("cells", one)
    with suppress(KeyError), store.transaction():
        store.keep("cells", two)
        raise KeyError
    store.keep("cells", two)
    assert store.frame("SELECT a FROM cells")["a"].tolist() == [2]
    store.execute("DROP TABLE cells")
    store.keep("cells", two)
    assert store.frame("SELECT a FROM cells")["a"].tolist() == [2]


LIMIT = "SELECT current_setting('memory_limit') AS there"
KEPT = "SELECT sum(memory_usage_bytes) AS there FROM duckdb_memory() WHERE tag = 'BASE_TABLE'"


@pytest.mark.parametrize("beside", [None, "SELECT 0"], ids=["as it is", "too little to do with"])
def test_what_was_read_is_given_back_and_all_is_as_before(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, beside: str | None
) -> None:
    store.execute("CREATE TABLE many AS SELECT hash(range) AS a FROM range(1000000)")
    store.close()
    left = 2**20
    monkeypatch.setattr(steps, "_LEFT_OVER", left)
    if beside is not None:  # far below what the temporary table takes
        monkeypatch.setattr(steps, "step_text", lambda _: beside)
    ask = "SELECT bit_xor(a) AS there FROM many"
    with open_store(tmp_path / "season.duckdb", read_only=True) as again:

        def value(query: str) -> object:
            return again.frame(query)["there"][0]

        again.execute("CREATE TEMP TABLE own AS SELECT hash(range) AS a FROM range(500000)")
        again.execute("SET memory_limit = '3GiB'")  # the caller's own
        own = ask.replace("many", "own")
        limit, before = value(LIMIT), (value(ask), value(own))
        assert value(KEPT) > 6 * left
        again.release()
        assert value(KEPT) <= left
        assert value(LIMIT) == limit
        assert (value(ask), value(own)) == before


def test_a_store_in_memory_keeps_all(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(steps, "_LEFT_OVER", 1)
    with open_store() as store:
        store.execute("CREATE TABLE many AS SELECT hash(range) AS a FROM range(500000)")
        store.release()
        assert store.frame("SELECT count(*) AS n FROM many")["n"][0] == 500_000


def test_columns_are_those_of_the_frame_with_what_is_missing_masked(store: Store) -> None:
    found = store.columns(
        "SELECT a, a * $by AS b FROM (VALUES (1), (NULL), (3)) AS t(a)", {"by": 2}
    )
    assert found["a"].tolist() == [1, None, 3]
    assert found["b"].tolist() == [2, None, 6]


def test_no_file_is_within_reach_of_a_query(store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, "a\n1\n")
    with pytest.raises(duckdb.PermissionException):
        store.frame(f"SELECT * FROM read_csv('{path}')")
    assert store.frame("SELECT current_setting('threads') AS n")["n"].tolist() == [2]
