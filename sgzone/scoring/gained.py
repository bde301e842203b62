"""Strokes gained of every stroke of the zone, scored in SQL on the season file.

gained = expected(before) - expected(after) - 1 - penalty, with expected(holed) = 0. The formula
itself stands in ``sql/gained.sql``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.errors import CallError, did_you_mean
from sgzone.scoring.chunks import STROKES_AT_A_TIME, in_full, put_together, spans, sum_key
from sgzone.scoring.only import ALL_STROKES, Only
from sgzone.scoring.places import curve_cells
from sgzone.scoring.recipe import GAINED_COLUMNS, MONTH, recipe, step, sums_step
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.store import Column, Store

FACTORS = (
    *("club", "swing", "measured", "intended_yd", "carry_yd", "effective_yd", "depth_ft"),
    *("side_ft", "launch_deg", "spin_rpm", "pin_on_yd", "green_deep_yd", "pin_left_yd"),
    *("green_wide_yd", "format", "flight", "shape", "wind", "wind_mph", "turf"),
    *("green_firmness", "green_speed_ft", "lie_quality", "face", "course", "event", "par"),
)

BY_COLUMNS = (
    *("part", "band", "lie", "club", "swing", "course", "event", "month", "measured", "flight"),
    *("shape", "wind", "turf", "green_firmness", "lie_quality", "face", "format", "hole", "par"),
)
"""What strokes can be grouped by: the only column names that ever reach the SQL text."""

_STEPS = ("chosen_rounds", "zone_starts", "outside_starts", "starts", "valued", "gained")
_MORE = (
    *("round_place AS round_key", "hole_key", "distance_ft", "end_distance_ft", *FACTORS),
    MONTH,
)
TOLD = ("club", "swing", "course", "event", "note", "depth_ft", "side_ft")
"""What a card says of a stroke that a caller who looks at single strokes wants beside its value."""
_IN_ORDER = "ORDER BY player, date, round, hole, shot"
CHUNKS_KEPT = 3
"""Chunks until what was read of the file is given back, some 60 MB: each time costs as much as a
tenth of a chunk."""
_CHUNK_STEPS = ("chunk_rounds", "zone_starts", "valued", "gained")


def strokes_gained(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    only: Only = ALL_STROKES,
) -> pd.DataFrame:
    """Return one row per stroke of the zone, and per later stroke of its hole outside it.

    Distances are in yards, expected strokes and gained in strokes; a stroke whose end or
    benchmark value is unknown has ``gained`` missing and says why in ``status``. ``only``: strokes
    of one lie, club or part.
    """
    return only.of(scored(store, benchmark, selection))[list(GAINED_COLUMNS)]


def scored(
    store: Store, benchmark: str | Benchmark = "tour", selection: Selection = EVERYTHING
) -> pd.DataFrame:
    """Return the rows of ``strokes_gained`` with the round, the hole and every factor beside."""
    return _run(store, benchmark, selection, _listed(_MORE))


def told_strokes(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    only: Only = ALL_STROKES,
) -> pd.DataFrame:
    """Return the rows of ``strokes_gained`` with the columns ``TOLD`` beside."""
    return only.of(_run(store, benchmark, selection, _listed(TOLD)))


def gained_by_row(
    store: Store, benchmark: str | Benchmark = "tour", selection: Selection = EVERYTHING
) -> pd.DataFrame:
    """Return what every row of the cards gained: source_row, part, band, value, status.

    ``status`` is as of ``strokes_gained``; ``outside``: the stroke started farther than 150 yards,
    before its hole came nearer; ``no_stroke``: the row only marks where the ball lay.
    """
    query = recipe(_STEPS, "starts") + step("by_row")
    return _run(store, benchmark, selection, query)


def _listed(more: Sequence[str]) -> str:
    columns = "".join(f",\n    {name}" for name in more)
    return recipe(_STEPS, "starts") + step("listed").replace("{more}", columns) + _IN_ORDER


def round_sums(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
    *,
    of_lies: Sequence[str] = (),
) -> pd.DataFrame:
    """Return sums of gained per cell and round: the input of every mean, interval and bootstrap.

    Columns: the ``by`` columns, player, round_key, n (scored strokes of the zone), total and
    squares (strokes, strokes squared), unscored, and of these unvalued: those whose end is known
    and whose lie or end the benchmark has no value for; then, for each lie of ``of_lies``, how many
    of the n start there. Raises ``CallError`` for an unknown column.
    """
    return in_full(sums_and_sizes(store, benchmark, selection, by, of_lies)[0], by)


def sums_and_sizes(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
    of_lies: Sequence[str] = (),
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return what ``round_sums`` and ``round_sizes`` return, in less memory.

    The words of players and places are categories, counts of four bytes. Sizes: player, round_key,
    holes.
    """
    refuse_unknown(by)
    by = tuple(dict.fromkeys(by))
    rounds = _rounds_in_order(store, selection)
    key = rounds["round_key"].to_numpy()
    places = {"round_key": key, "round_place": np.arange(len(key), dtype=np.int32)}
    store.temp("chosen", pd.DataFrame(places))
    store.keep("curve", curve_cells(in_store(store, benchmark)))
    query = recipe(_CHUNK_STEPS, "zone_starts", rounds="chunk_rounds")
    query += sums_step([*(sum_key(name) for name in by), "round_place"], "FSUM", of_lies)
    found = spans(key, rounds["strokes"].to_numpy(), STROKES_AT_A_TIME)
    chunks = _chunks(store, query.replace("{curve}", "curve"), found)
    sums = put_together(chunks, by, rounds)
    sizes = rounds[["player", "round_place", "holes"]]
    return sums, sizes.rename(columns={"round_place": "round_key"})


def _rounds_in_order(store: Store, selection: Selection) -> pd.DataFrame:
    """Return round_key (the stored one), round_place, strokes, holes, player of the chosen rounds.

    The player is a category: names on every row would take most of the memory.
    """
    chosen, values = recipe(("chosen_rounds",), ""), selection.parameters()
    rounds = store.columns(chosen + step("chosen_sizes"), values)
    players = store.columns(chosen + step("chosen_players"), values)
    number = np.repeat(np.arange(len(players["player"])), players["rounds"])
    player = pd.Categorical.from_codes(number, pd.Index(players["player"], dtype="str"))
    return pd.DataFrame({**rounds, "player": player}, copy=False)


def _chunks(store: Store, query: str, found: list[tuple[int, int]]) -> Iterator[dict[str, Column]]:
    """Yield the sums of each chunk; what was read of the file is given back now and then.

    After the last chunk too, so that its memory is free for putting the sums together.
    """
    last_of_all = len(found)
    for number, (first, last) in enumerate(found, 1):
        yield store.columns(query, {"zone_ft": ZONE_FT, "first_key": first, "last_key": last})
        if last_of_all > 1 and (number % CHUNKS_KEPT == 0 or number == last_of_all):
            store.release()


def refuse_unknown(by: Sequence[str]) -> None:
    """Raise ``CallError`` for a column that strokes are not grouped by."""
    for column in by:
        if column not in BY_COLUMNS:
            raise CallError(
                f'no column "{column}" to group by.{did_you_mean(column, BY_COLUMNS)} Choose from: '
                f"{', '.join(BY_COLUMNS)}."
            )


def round_sizes(store: Store, selection: Selection = EVERYTHING) -> pd.DataFrame:
    """Return the chosen rounds: player, round_key, date, round, holes recorded, course, event."""
    query = recipe(("chosen_rounds",), "") + step("round_sizes")
    return store.frame(query, selection.parameters())


def check_totals(
    store: Store, benchmark: str | Benchmark = "tour", selection: Selection = EVERYTHING
) -> pd.DataFrame:
    """Return per hole the sum of gained, the same by the identity, and their difference.

    The identity: expected(first) - expected(last known place, 0 if holed) - strokes - penalties,
    from the hole's first zone stroke on; computed from the rows, not from stored end states.
    ``unscored`` counts strokes without a value; where it counts a lie that the benchmark lacks
    the difference says nothing.
    """
    return _run(store, benchmark, selection, recipe(_STEPS, "starts") + step("hole_totals"))


def _run(store: Store, curve: str | Benchmark, selection: Selection, query: str) -> pd.DataFrame:
    store.keep("curve", curve_cells(in_store(store, curve)))
    return store.frame(
        query.replace("{curve}", "curve"), {**selection.parameters(), "zone_ft": ZONE_FT}
    )
