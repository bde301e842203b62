"""Where strokes are won and lost, how sure that is, and what may be said of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks.saved import find, for_costs, refuse_own
from sgzone.bounds import bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.review.where.cells import OF_LIES, Cells, adjusted, estimates, gather
from sgzone.review.where.enough import enough, judged
from sgzone.review.where.keys import columns_of
from sgzone.scoring import parquet
from sgzone.scoring.gained import BY_COLUMNS, sums_and_sizes
from sgzone.scoring.only import ALL_STROKES, Only
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import BAND_NAMES, DEFAULT_LEVEL, LIES, MEASURED, PART_NAMES

if TYPE_CHECKING:
    from sgzone.benchmarks import Benchmark
    from sgzone.season.store import Store

TOTAL = "total"
SUMMARY_BY = ("player", *BY_COLUMNS, TOTAL)

FACTS = ("held_back", "thin", "unended", "unvalued")
"""What a note is made of: whether the cell's own strokes and the rest of the game lean opposite
ways, whether its shots are so few that it leans on the rest, and how many strokes have no value,
for want of an end and of a benchmark value."""
VALUE_COLUMNS = (
    *("shots", "rounds", "gained_per_shot", "low", "high"),
    *("gained_per_round", "low_per_round", "high_per_round"),
    *("shrunk_per_shot", "shrunk_low", "shrunk_high"),
    *("shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"),
    *("verdict", *FACTS),
)
_UNCERTAIN = ["low", "high", "low_per_round", "high_per_round"]
_ADJUSTED = [name for name in VALUE_COLUMNS if name.startswith("shrunk")]

_ORDER = {
    name: {word: place for place, word in enumerate(words)}
    for name, words in (
        ("part", PART_NAMES),
        ("band", BAND_NAMES),
        ("lie", LIES),
        ("measured", MEASURED),
    )
}


@bounded
def summarise(
    store: Store | ParquetStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: str | Sequence[str] = ("part",),
    level: float = DEFAULT_LEVEL,
    *,
    only: Only = ALL_STROKES,
) -> pd.DataFrame:
    """Return one row per cell of strokes inside 150 yards, the worst best estimate first.

    Columns: the keys, then ``VALUE_COLUMNS``: scored strokes, rounds with one, gained in strokes
    per shot and per round with intervals of ``level``, the best estimate (adjusted for few shots)
    per shot and, times the shots of a round, per round, verdict and the ``FACTS`` of its note.
    Rows stand in the order of the best estimate per round; where there is none, of what was gained;
    months in the order of time. ``by``: columns of ``SUMMARY_BY``, crossed, in a list or
    a text with commas;
    ``total`` among them adds a last row of all strokes. Several players and none chosen: ``player``
    is the first key and no player leans on another. A cell with too few shots keeps what was gained
    and has no interval. ``store`` may be strokes in Parquet files: the same numbers without a
    season file. ``only``: strokes of one lie, club or part, over the same rounds.
    Raises ``CallError`` for an unknown column and against the player's own curve.
    """
    by = columns_of(by)
    keys = summary_keys(store, selection, by)
    columns = [*(name for name in keys if name != "player"), *only.columns]
    if isinstance(store, ParquetStrokes):
        curve = find(benchmark)
        refuse_own(store, curve, selection)
        sums, sizes = parquet.sums_and_sizes(store, curve, selection, columns, OF_LIES)
    else:
        curve = for_costs(store, benchmark, selection)
        sums, sizes = sums_and_sizes(store, curve, selection, columns, OF_LIES)
    return summary_table(only.of(sums), sizes, keys, level, total=TOTAL in by)


def summary_keys(
    store: Store | ParquetStrokes, selection: Selection, by: Sequence[str]
) -> list[str]:
    """Return the key columns of a summary: ``by`` without ``total``, ``player`` where needed."""
    for name in by:
        if name not in SUMMARY_BY:
            raise CallError(
                f'no column "{name}" to group by.{did_you_mean(name, SUMMARY_BY)} Choose from: '
                f"{', '.join(SUMMARY_BY)}."
            )
    keys = [name for name in dict.fromkeys(by) if name not in (TOTAL, "player")]
    several = selection.player is None and len(store.players()) > 1
    return ["player", *keys] if several or "player" in by else keys


def summary_table(
    sums: pd.DataFrame,
    sizes: pd.DataFrame,
    keys: Sequence[str],
    level: float,
    *,
    total: bool = False,
) -> pd.DataFrame:
    """Return the summary of per-round sums; see ``summarise``.

    ``sums``, ``sizes``: as ``gather``.
    """
    places = [name for name in keys if name != "player"]
    shared = [name for name in keys if name == "player"]
    tables = []
    if places or not total:
        tables.append(_ranked(_table(gather(sums, sizes, keys), level), places))
    if total:
        whole = _table(gather(sums, sizes, shared), level)
        whole.insert(len(shared), places[0] if places else "part", TOTAL)
        tables.append(whole)
    table = pd.concat(tables, ignore_index=True)
    if shared:
        table = table.sort_values("player", kind="stable", ignore_index=True)
    names = [*keys, *([] if places or not total else ["part"]), *VALUE_COLUMNS]
    return table.reindex(columns=names)


def _table(cells: Cells, level: float) -> pd.DataFrame:
    counts = pd.DataFrame({"shots": cells.shots.astype(int), "rounds": cells.rounds.astype(int)})
    table = pd.concat([cells.keys, counts, estimates(cells, level), adjusted(cells, level)], axis=1)
    words, held, thin = judged(
        table["verdict"].to_numpy(), cells.shots, cells.rounds, table["held_back"]
    )
    table = table.assign(
        verdict=words,
        held_back=held,
        thin=thin,
        unended=(cells.unscored - cells.unvalued).astype(int),
        unvalued=cells.unvalued.astype(int),
    )
    a_round = cells.shots / np.where(cells.over.weight > 0, cells.over.weight, np.nan)
    for name in ("shrunk_per_shot", "shrunk_low", "shrunk_high"):
        table[f"{name.removesuffix('_per_shot')}_per_round"] = table[name] * a_round
    table.loc[~enough(cells.shots, cells.rounds), [*_UNCERTAIN, *_ADJUSTED]] = np.nan
    return table


def _ranked(table: pd.DataFrame, places: Sequence[str]) -> pd.DataFrame:
    """Return the rows worst first, by the best estimate where there is one; months in time.

    Ties stand in the order of the vocabularies.
    """
    ties = {
        name: table[name].map(_ORDER[name]) if name in _ORDER else table[name] for name in places
    }
    size = table["shrunk_per_round"].fillna(table["gained_per_round"])
    order = pd.DataFrame({f"by {name}": values for name, values in ties.items()})
    order.insert(int(places[:1] == ["month"]), "size", size)
    return table.loc[order.sort_values(list(order.columns), kind="stable").index]
