"""The season file said plainly: pandas frames and the rules of what may be done to them.

What is promised of a load, a rename, a deletion and a copy, and what each leaves behind. No SQL and
no code of the season file; where a promise changes, `Model.load` is the one place that says how.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from sgzone.benchmarks import benchmark
from tests.hard.seasons_files import Sheet

KEYS = {
    "shot": ["player", "date", "round"],
    "log": ["player", "date", "part", "club"],
    "test": ["player", "date", "block"],
    "bag": ["player", "club", "in_play_from"],
}
"""What a row belongs to: where a season file has it, no file may bring it with other values."""
REPLACED = KEYS | {"log": ["player", "date"]}
HOLE = ["player", "date", "round", "hole"]
STROKE = [*HOLE, "shot"]
SAID_ONCE = {"course": HOLE[:3], "event": HOLE[:3], "format": HOLE[:3], "par": HOLE}
NO_VALUES = ("source_row", "extra", "sha256", "file_name")
PRINT = ["shot", "lie", "distance_ft", "penalty"]
LEAST_COPIED = 3
ZONE_FT = 450.0
NO_STROKES = pd.DataFrame(columns=[*STROKE, *PRINT[1:], "played", "end_lie", "end_distance_ft"])


@dataclass(frozen=True)
class Loaded:
    """What a load should report."""

    rows: int
    in_place: int


class RefusedError(Exception):
    """The season file must refuse this and be as it was.

    ``there``: the rows whose key another file brought; ``copies``: the first rows of rounds that
    are another player's. ``call``: the call is at fault, not the data.
    """

    def __init__(
        self, *, there: Sequence[int] = (), copies: Sequence[int] = (), call: bool = False
    ) -> None:
        super().__init__(f"already there: {there}, copied: {copies}")
        self.there, self.copies, self.call = tuple(there), tuple(copies), call


def keys_of(frame: pd.DataFrame, columns: Sequence[str]) -> list[tuple[Any, ...]]:
    """Return the values of some columns, a tuple a row; ``None`` equals ``None``."""
    return [*zip(*(frame[name].tolist() for name in columns), strict=True)]


def among(frame: pd.DataFrame, columns: Sequence[str], wanted: set[tuple[Any, ...]]) -> Any:
    """Return which rows have one of these keys."""
    return np.array([key in wanted for key in keys_of(frame, columns)], dtype=bool)


def unlike(
    there: pd.DataFrame, here: pd.DataFrame, kind: str, by: list[str]
) -> set[tuple[Any, ...]]:
    """Return the keys that both have, with other values."""
    one, other = (_values_by(frame, kind, by) for frame in (there, here))
    return {at for at in one.keys() & other.keys() if one[at] != other[at]}


def _values_by(
    frame: pd.DataFrame, kind: str, by: list[str]
) -> dict[tuple[Any, ...], Counter[tuple[Any, ...]]]:
    """Return key -> its rows' values, in any order; strokes by their place in the hole."""
    names = [name for name in frame if name not in NO_VALUES]
    if kind == "shot":
        names = [*(name for name in names if name != "shot"), "place"]
        frame = frame.sort_values(STROKE, ignore_index=True)
        frame = frame.assign(place=frame.groupby(HOLE).cumcount())
        for name, of in SAID_ONCE.items():
            firsts = {at: _first(rows[name]) for at, rows in groups(frame, of)}
            pairs = zip(frame[name], keys_of(frame, of), strict=True)
            filled = [firsts[at] if value is None else value for value, at in pairs]
            frame = frame.assign(**{name: pd.Series(filled, frame.index, object)})
    return {at: Counter(keys_of(rows, names)) for at, rows in groups(frame, by)}


def groups(
    frame: pd.DataFrame, columns: list[str]
) -> Iterator[tuple[tuple[Any, ...], pd.DataFrame]]:
    """Yield each key with its rows, in their order."""
    places: dict[tuple[Any, ...], list[int]] = {}
    for place, at in enumerate(keys_of(frame, columns)):
        places.setdefault(at, []).append(place)
    for at, rows in places.items():
        yield at, frame.iloc[rows]


@dataclass
class Model:
    """What a season file holds: rows by kind, each with the file that brought it, and the loads."""

    rows: dict[str, pd.DataFrame] = field(default_factory=dict)
    loads: list[tuple[str, str, str, int]] = field(default_factory=list)
    _played: pd.DataFrame | None = None

    def copy(self) -> Model:
        """Return what a copy of the file holds; frames are never changed, only replaced."""
        return type(self)(dict(self.rows), list(self.loads), self._played)

    def load(self, sheet: Sheet, *, replace: bool = False) -> Loaded:
        """Load a file whole, or raise ``RefusedError``.

        The very same file again does nothing as long as all of it is in place. What is there with
        equal values is passed over, whichever file brought it; with other values it is refused, or
        replaced whole. A file that adds nothing leaves no trace.
        """
        if sheet.faulty:
            raise RefusedError
        own = self._of(sheet.kind)
        if own is not None and (own["sha256"] == sheet.sha256).sum() == len(sheet.rows):
            return Loaded(0, len(sheet.rows))
        copies = [*self._copies(sheet)]
        if own is not None and replace and not copies:
            by = REPLACED[sheet.kind]
            own = own[~among(own, by, unlike(own, sheet.rows, sheet.kind, by))]
        key = KEYS[sheet.kind]
        clashes = set() if own is None else unlike(own, sheet.rows, sheet.kind, key)
        if clashes or copies:
            rows = dict(
                zip(keys_of(sheet.rows[::-1], key), sheet.rows["source_row"][::-1], strict=True)
            )
            raise RefusedError(there=sorted(rows[at] for at in clashes), copies=sorted(copies))
        there = set() if own is None else set(keys_of(own, key))
        fresh = sheet.rows[~among(sheet.rows, key, there)]
        if len(fresh):
            fresh = fresh.assign(sha256=sheet.sha256, file_name=sheet.name)
            self._put(sheet.kind, fresh if own is None else pd.concat([own, fresh]))
            self.loads.append((sheet.kind, sheet.name, sheet.sha256, len(fresh)))
        return Loaded(len(fresh), len(sheet.rows) - len(fresh))

    def rename(self, old: str, new: str) -> int:
        """Rename a player everywhere; return how many rounds carry the new name."""
        if old not in self.everybody():
            raise RefusedError(call=True)
        for kind, frame in self.rows.items() if old != new else ():
            other = KEYS[kind][1:]
            theirs = [set(keys_of(frame[frame["player"] == name], other)) for name in (old, new)]
            if theirs[0] & theirs[1]:
                raise RefusedError
        if old == new:
            return 0
        for kind, frame in list(self.rows.items()):
            names = [new if name == old else name for name in frame["player"]]
            self._put(kind, frame.assign(player=pd.Series(names, frame.index, object)))
        return int((self.rounds()["player"] == new).sum())

    def delete(self, player: str, day: str, number: int) -> int:
        """Delete a round; return how many strokes were played in it."""
        frame = self._of("shot")
        gone = among(frame, KEYS["shot"], {(player, day, number)}) if frame is not None else []
        if frame is None or not gone.any():
            raise RefusedError(call=True)
        self._put("shot", frame[~gone])
        return int(frame[gone]["played"].sum())

    def everybody(self) -> set[str]:
        """Return whoever has a round, an entry, a block or a club in the file."""
        return {name for frame in self.rows.values() for name in frame["player"]}

    def players(self) -> list[str]:
        """Return who has a round in the file."""
        return sorted(set(self.rounds()["player"]))

    def rounds(self) -> pd.DataFrame:
        """Return one row per round, as the season file lists them."""
        found = [
            {
                **dict(zip(KEYS["shot"], at, strict=True)),
                "holes": of_round["hole"].nunique(),
                "strokes": int(of_round["played"].sum()),
                "course": _first(of_round["course"]),
                "event": _first(of_round["event"]),
                "file": of_round["file_name"].iloc[0],
            }
            for at, of_round in self._groups(KEYS["shot"])
        ]
        columns = [*KEYS["shot"], "holes", "strokes", "course", "event", "file"]
        return pd.DataFrame(found, columns=columns, dtype=object)

    def holes(self) -> pd.DataFrame:
        """Return one row per hole: how it ended, and where the ball lay where it was not holed."""
        found = []
        for at, of_hole in self._groups(HOLE):
            last = of_hole.iloc[-1]
            place = {} if last["played"] else last[["lie", "distance_ft"]].to_dict()
            found.append(
                {
                    **dict(zip(HOLE, at, strict=True)),
                    **{"par": _first(of_hole["par"]), "ending": last["result"]},
                    **{"last_lie": place.get("lie"), "last_distance_ft": place.get("distance_ft")},
                }
            )
        columns = [*HOLE, "par", "ending", "last_lie", "last_distance_ft"]
        return pd.DataFrame(found, columns=columns, dtype=object)

    def gained(self) -> pd.DataFrame:
        """Return the strokes gained, with where they start; missing where an end is not known."""
        frame = self.strokes()
        frame = frame[frame["played"].astype(bool)]
        inside = frame["distance_ft"].astype(float) <= ZONE_FT
        entered = inside.groupby([frame[name] for name in HOLE]).cummax() if len(frame) else inside
        frame = frame[entered.to_numpy(dtype=bool)]
        before = _expected(frame["lie"], frame["distance_ft"])
        after = _expected(frame["end_lie"], frame["end_distance_ft"])
        cost = 1 + frame["penalty"].to_numpy(dtype=float)
        return frame[[*STROKE, "distance_ft"]].assign(gained=before - after - cost)

    def strokes(self) -> pd.DataFrame:
        """Return the rows of all cards in the order of play."""
        if self._played is None:
            frame = self.rows.get("shot", NO_STROKES)
            self._played = frame.sort_values(STROKE, ignore_index=True)
        return self._played

    def _put(self, kind: str, frame: pd.DataFrame) -> None:
        self.rows[kind] = frame
        if kind == "shot":
            self._played = None

    def _of(self, kind: str) -> pd.DataFrame | None:
        return self.rows.get(kind)

    def _groups(self, columns: list[str]) -> Iterator[tuple[tuple[Any, ...], pd.DataFrame]]:
        return groups(self.strokes(), columns)

    def _copies(self, sheet: Sheet) -> Iterator[int]:
        """Yield the first row of each round that has the strokes of another player's round."""
        if sheet.kind != "shot":
            return
        here = _prints(sheet.rows)
        there = {at: held for at, held in _prints(self.strokes()).items() if at not in here}
        for at, (row, strokes, holes) in here.items():
            above = {who: held for who, held in here.items() if held[0] < row}
            if strokes >= LEAST_COPIED and any(
                other[1:] == at[1:] and other[0] != at[0] and held[2] == holes
                for other, held in (there | above).items()
            ):
                yield row


Prints = dict[tuple[Any, ...], tuple[int, int, dict[Any, Any]]]


def _prints(frame: pd.DataFrame) -> Prints:
    """Return round -> its first row, its number of strokes, and its holes stroke by stroke."""
    return {
        at: (
            min(of_round["source_row"]),
            len(of_round),
            {hole: keys_of(rows, PRINT) for hole, rows in groups(of_round, ["hole"])},
        )
        for at, of_round in groups(frame, KEYS["shot"])
    }


def _first(column: pd.Series[Any]) -> Any:
    return next((value for value in column if value is not None), None)


def _expected(lie: pd.Series[Any], distance: pd.Series[Any]) -> Any:
    """Return what the tour needs from there, missing where the place is not known."""
    known = lie.notna().to_numpy()
    values = np.full(len(lie), np.nan)
    feet = distance.to_numpy(dtype=float)[known]
    values[known] = benchmark("tour").expected(lie.to_numpy(dtype=str)[known], feet)
    return values
