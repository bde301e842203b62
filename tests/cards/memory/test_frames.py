"""Tables in memory read as cards: every library, every type of column, the row that is wrong."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import sgzone as sg
from sgzone.cards.given import answers
from sgzone.cards.memory.frames import as_arrow, digest_of, read_frame
from sgzone.errors import CallError, DataError


class Lie(Enum):
    """Lies as somebody else's program has them."""

    FAIRWAY = "fairway"
    GREEN = "green"
    TEE = "tee"


CARD: dict[str, list[Any]] = {
    "player": ["Ada", "Ada", "Ada"],
    "date": [date(2026, 5, 14)] * 3,
    "hole": [1, 1, 2],
    "shot": [1, 2, 1],
    "lie": ["fairway", "green", "tee"],
    "distance": [112.5, 18, 143],
    "result": [None, "holed", "picked_up"],
}


def plain(**columns: Any) -> pd.DataFrame:
    return pd.DataFrame({**CARD, **columns})


def with_types() -> pd.DataFrame:
    return plain(
        player=pd.Categorical(CARD["player"]),
        date=pd.to_datetime(pd.Series(CARD["date"])),
        hole=pd.array([1, 1, 2], dtype="Int16"),
        distance=[Decimal("112.5"), Decimal("18"), Decimal("143")],
        lie=pd.Categorical(CARD["lie"], ["tee", "fairway", "green"], ordered=True),
    )


FRAMES: dict[str, Callable[[], Any]] = {
    "pandas": plain,
    "pandas, typed": with_types,
    "pandas, texts": lambda: plain().astype(object).astype(str).replace("None", None),
    "pandas, an index": lambda: plain().set_index(pd.Index(["x", "y", "z"])),
    "pandas, days with a zone": lambda: plain(
        date=pd.to_datetime(pd.Series(CARD["date"])).dt.tz_localize("Europe/Berlin")
    ),
    "pandas, an evening west of here": lambda: plain(
        date=pd.to_datetime(["2026-05-14 22:30"] * 3).tz_localize("America/New_York")
    ),
    "pandas, periods": lambda: plain(date=pd.PeriodIndex(CARD["date"], freq="D")),
    "pandas, words of an enum": lambda: plain(lie=[Lie.FAIRWAY, Lie.GREEN, Lie.TEE]),
    "pandas, the same index": lambda: plain().set_axis([0, 0, 0]),
    "pandas, two levels of index": lambda: plain().set_index([[1, 1, 2], [1, 2, 1]]),
    "pandas, arrow types": lambda: pd.DataFrame(CARD).convert_dtypes(dtype_backend="pyarrow"),
    "polars": lambda: pl.DataFrame(CARD, strict=False),
    "polars, categories": lambda: pl.DataFrame(CARD, strict=False).with_columns(
        pl.col("player").cast(pl.Categorical),
        pl.col("lie").cast(pl.Enum(["tee", "fairway", "green"])),
        pl.col("distance").cast(pl.Decimal(10, 2)),
    ),
    "arrow": lambda: pa.Table.from_pandas(plain(), preserve_index=False),
    "polars, days with a zone": lambda: pl.DataFrame(CARD, strict=False).with_columns(
        pl.col("date").cast(pl.Datetime).dt.replace_time_zone("Asia/Tokyo")
    ),
    "arrow, batches that come once": lambda: pa.Table.from_pandas(
        plain(), preserve_index=False
    ).to_reader(),
    "arrow, a batch": lambda: pa.RecordBatch.from_pandas(plain(), preserve_index=False),
    "arrow, dictionaries": lambda: pa.table(
        {name: pa.array(values).dictionary_encode() for name, values in CARD.items()}
    ),
    "arrow, by its stream alone": lambda: Streamed(pa.table(CARD)),
}


class Streamed:
    """A table of a library that nobody has heard of."""

    def __init__(self, table: pa.Table) -> None:
        self._table = table

    def __arrow_c_stream__(self, requested_schema: object | None = None) -> object:
        return self._table.__arrow_c_stream__(requested_schema)


@pytest.mark.repeats
@pytest.mark.parametrize("kind", FRAMES)
def test_every_library_gives_the_same_card(kind: str) -> None:
    card = sg.read_card(FRAMES[kind]())
    assert card["distance_ft"].tolist() == [337.5, 18.0, 429.0]
    assert card["lie"].tolist() == ["fairway", "green", "tee"]
    assert card["date"].tolist() == [pd.Timestamp(2026, 5, 14)] * 3
    assert card["played"].tolist() == [True, True, False]
    assert card["hole"].tolist() == [1, 1, 2]


@pytest.mark.repeats
@pytest.mark.parametrize("kind", FRAMES)
def test_the_same_frame_again_is_loaded_already(kind: str) -> None:
    with sg.open_store() as store:
        assert store.load(FRAMES[kind]()).rows == 3
        assert store.load(FRAMES[kind]()).sentence == (
            "frame: shot card, all 3 rows are in the season file already"
        )
        assert store.rounds()["file"].tolist() == ["frame"]


def test_a_column_of_words_and_numbers_is_read_cell_by_cell() -> None:
    card = sg.read_card(plain(distance=["112 yd", 18, "130 m"]))
    assert card["distance_ft"].tolist() == [336.0, 18.0, pytest.approx(426.509186)]


def test_a_problem_names_the_row_of_the_frame() -> None:
    wrong = plain(lie=["farway", "green", "tee"], distance=[112.5, 18, 4000])
    problems = sg.check_card(wrong.set_index(pd.Index([7, 8, 9])))
    rows = problems[["row", "column", "value"]].values.tolist()
    assert rows == [[0, "lie", "farway"], [2, "distance", "4000"]]
    with sg.open_store() as store, pytest.raises(DataError) as caught:
        store.load(wrong)
    said = str(caught.value)
    assert said.startswith("frame: 2 problems, nothing of this frame was loaded (first: row 0, lie")
    assert said.endswith("Correct the frame and load it again.")


def test_a_problem_of_the_header_has_no_row_and_says_what_to_write_in_python() -> None:
    problems = sg.check_card(plain().drop(columns="player"))
    assert problems["row"].isna().all()
    assert problems["fix"].tolist() == ['Add the column, or say who with player="NAME".']
    assert sg.check_card(plain().drop(columns="player"), player="Ada").empty


def test_days_that_can_be_read_two_ways_are_asked_in_python() -> None:
    both = plain(date=["5/6/2026"] * 3)
    [fix] = sg.check_card(both)["fix"]
    assert 'dates="dmy"' in fix
    assert "--" not in fix
    assert sg.read_card(both, dates="mdy")["date"][0] == pd.Timestamp(2026, 5, 6)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (7, "int is no table"),
        ([1, 2], "list is no table"),
        (None, "NoneType is no table"),
        (pl.DataFrame(CARD, strict=False).lazy(), "write frame.collect()"),
        (plain()["lie"], "Series is no table"),
        (pl.Series("lie", ["green"]), "Series is no table"),
        (pa.array(["green"]), "Array is no table"),
        (
            plain().set_index(["player", "date"]),
            r"index holds player, date.* frame.reset_index\(\)",
        ),
        (plain().set_axis(pd.MultiIndex.from_product([["a"], CARD]), axis=1), "several levels"),
    ],
    ids=[
        *("number", "list", "nothing", "lazy", "one column", "of polars", "of arrow", "an index"),
        "levels",
    ],
)
def test_what_is_no_table_is_said(given: Any, said: str) -> None:
    with pytest.raises(CallError, match=said):
        sg.check_card(given)


@pytest.mark.parametrize("name", ["sheet", "mapping"])
def test_an_answer_for_files_is_refused(name: str) -> None:
    with pytest.raises(CallError, match=f"{name}= is for files; rename the columns"):
        read_frame(plain(), answers(**{name: "May"}))


def test_cells_that_are_no_plain_values_are_refused() -> None:
    with pytest.raises(DataError, match="not text, numbers or dates"):
        sg.read_card(plain(lie=[["fairway"], ["green"], ["tee"]]))


def test_the_hash_is_of_what_is_in_it() -> None:
    digests = {digest_of(read_frame(frame).table) for frame in (plain(), FRAMES["polars"]())}
    assert len(digests) == 1
    assert digest_of(read_frame(plain(shot=[1, 2, 2])).table) not in digests
    assert as_arrow(plain(hole=[1, np.nan, 2]))["hole"].null_count == 1


def test_a_moment_is_no_day_but_midnight() -> None:
    assert sg.check_card(plain(date=[datetime(2026, 5, 14)] * 3)).empty
