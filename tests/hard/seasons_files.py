"""Small files of the four kinds, each with what it means written beside it in plain values.

A card's strokes follow from who, which day, which round and which variant: the same four always
give the same strokes, so that files overlap, with equal values or with others. No SQL, and nothing
of the package but the names of the columns.
"""

from __future__ import annotations

import csv
import hashlib
import io
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pandas as pd
from hypothesis import strategies as st

from sgzone.cards.columns import names_of
from sgzone.cards.tables import READ_INTO_OTHERS

Row = dict[str, Any]

PLAYERS = ("Ada Lund", "Bea Quist-Roe", "Cleo O'Neil")
DAYS = ("2025-05-01", "2025-05-02", "2025-06-30")
PARTS = ("wedge_50_100", "putt_0_10", "chip_0_30")
CLUBS = ("52", "PW", None)
EXTRA = "Weather"
OTHER_PLACES = ("fairway", "rough", "sand", "recovery", "fringe")
FACTORS: dict[str, tuple[object, ...]] = {
    "club": ("52", "PW", "my, best"),
    "swing": ("full", "half", "own swing"),
    "measured": ("laser", "guess"),
    "intended_yd": (80.0, 71.5),
    "carry_yd": (79.25, 0.0),
    "effective_yd": (84.0,),
    "depth_ft": (-12.5, 3.0),
    "side_ft": (4.0, -0.75),
    "launch_deg": (31.0,),
    "spin_rpm": (9000.0,),
    "pin_on_yd": (11.0,),
    "green_deep_yd": (30.0,),
    "pin_left_yd": (6.0,),
    "green_wide_yd": (25.0,),
    "flight": ("low", "high"),
    "shape": ("draw",),
    "wind": ("into", "none"),
    "wind_mph": (12.0,),
    "turf": ("firm",),
    "green_firmness": ("soft",),
    "green_speed_ft": (9.5,),
    "lie_quality": ("clean", "buried"),
    "face": ("dirty",),
    "note": ('she said "in"', "=1+1", "ünder; the lip"),
}


@dataclass(frozen=True)
class Share:
    """A part of a file: one round, day, block or entry of the bag.

    ``variant`` 0 is how it was, another one differs in a value. ``of``: whose strokes a round has.
    """

    player: str
    day: str
    number: int = 1
    variant: int = 0
    of: str = ""


@dataclass(frozen=True)
class Plan:
    """What a file is to hold. ``dress`` is how it is written; ``fault`` names one of FAULTS."""

    kind: str
    shares: tuple[Share, ...]
    dress: int = 0
    fault: str = ""


@dataclass(frozen=True)
class Sheet:
    """A file and what it says: ``rows`` are what the season file should hold of it."""

    kind: str
    name: str
    text: str
    rows: pd.DataFrame
    faulty: bool

    @property
    def sha256(self) -> str:
        return hashlib.sha256(self.text.encode()).hexdigest()


def plain_frame(rows: list[Row], columns: tuple[str, ...]) -> pd.DataFrame:
    """Return rows as a frame of plain objects, ``None`` where there is nothing."""
    return pd.DataFrame(
        [[row.get(name) for name in columns] for row in rows], None, columns, object
    )


@cache
def sheet_of(plan: Plan) -> Sheet:
    """Write a plan out."""
    rows = [row for share in plan.shares for row in ROWS[plan.kind](share)]
    if plan.kind == "shot":
        rows = [*_with_ends(rows)]
    for number, row in enumerate(rows, start=2):
        row["source_row"] = number
        row["extra"] = f'{{"{EXTRA}":"calm"}}' if plan.dress == 1 else None
    columns = tuple(name for name in names_of(plan.kind) if name not in READ_INTO_OTHERS)
    made = ("played", "distance_ft", "end_lie", "end_distance_ft") if plan.kind == "shot" else ()
    table = _cells(plan, rows)
    if plan.fault:
        FAULTS[plan.kind][plan.fault](table)
    text = _text(table, ";" if plan.dress == 2 else ",")
    name = f"{plan.kind}{plan.dress}.csv"
    frame = plain_frame(rows, (*columns, *made, "source_row", "extra"))
    return Sheet(plan.kind, name, text, frame, bool(plan.fault))


def _cells(plan: Plan, rows: list[Row]) -> list[dict[str, str]]:
    names = [name for name in names_of(plan.kind) if name != "unit"]
    table = []
    for row in rows:
        written = {name: row.get("written_" + name, row.get(name)) for name in names}
        cells = {name: "" if value is None else str(value) for name, value in written.items()}
        table.append(cells | ({EXTRA: "calm"} if plan.dress == 1 else {}))
    return table


def _text(table: list[dict[str, str]], delimiter: str) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, list(table[0]), delimiter=delimiter, lineterminator="\n")
    writer.writeheader()
    writer.writerows(table)
    return out.getvalue()


def _round(share: Share) -> list[Row]:
    """Return the strokes of a round of one to three holes, in order of play."""
    draw = random.Random(f"{share.of or share.player} {share.day} {share.number}")
    about = {"player": share.player, "date": share.day, "round": share.number}
    of_round = {
        "course": draw.choice(("Home", "Away")),
        "event": draw.choice(("competition", "practice")),
        "format": draw.choice(("stroke", "match", None)),
    }
    rows: list[Row] = []
    for hole in sorted(draw.sample(range(1, 19), draw.randint(1, 3))):
        par = {"par": draw.choice((3, 4, None))}
        rows += [about | {"hole": hole} | of_round | par | row for row in _hole(draw)]
    for row in rows[:1] if draw.random() < 0.3 else []:
        row |= {"format": None, "par": None}  # said later in the round only
    if share.variant:
        _vary(rows, share.variant)
    return rows


def _hole(draw: random.Random) -> Iterator[Row]:
    count, shot = draw.choice((1, 2, 2, 3, 3, 4)), draw.choice((1, 1, 1, 3))
    counted, penalty = draw.random() < 0.5, 0
    for place in range(count):
        again = penalty > 0
        lie = _lie(draw, place, count, again)
        feet = draw.randint(1, 90) if lie == "green" else 3 * draw.randint(3, 200)
        last = place == count - 1
        shot += (1 + (penalty if counted else 0)) if place else 0
        penalty = draw.choice((0, 0, 0, 0, 1, 2)) if not last else 0
        yield {
            **{name: draw.choice(words) for name, words in FACTORS.items() if draw.random() < 0.3},
            **{"shot": shot, "lie": lie, "distance_ft": float(feet), "penalty": penalty},
            **(_ending(draw, lie, feet, count) if last else {}),
        }


def _lie(draw: random.Random, place: int, count: int, again: bool) -> str:
    if place == 0:
        return draw.choice(("tee", *OTHER_PLACES, "green"))
    if again and draw.random() < 0.3:
        return "tee"
    return "green" if place == count - 1 else draw.choice((*OTHER_PLACES, "green"))


def _ending(draw: random.Random, lie: str, feet: int, count: int) -> Row:
    sure = lie == "green" and feet <= 30
    result = draw.choice((*("holed",) * 3, "conceded", "picked_up", None if sure else "holed"))
    if result == "picked_up" and count > 1 and draw.random() < 0.5:
        return {"result": result, "lie": None, "distance_ft": None}  # the ball is lost
    return {"result": result}


def _vary(rows: list[Row], variant: int) -> None:
    known = [row for row in rows if row["lie"] is not None]
    row = known[variant % len(known)]
    row["distance_ft"] += 3.0 * variant if row["lie"] != "green" else float(variant)


def _with_ends(rows: list[Row]) -> Iterator[Row]:
    """Say of each stroke where it ended, from the next row of its hole; and how it is written."""
    places = [tuple(row[name] for name in ("player", "date", "round", "hole")) for row in rows]
    for place, row in enumerate(rows):
        row = dict(row)
        last = place == len(rows) - 1 or places[place + 1] != places[place]
        row["written_result"] = row.get("result")
        row["written_distance"] = _distance(row)
        row["result"] = (row.get("result") or "holed") if last else None
        row["played"] = row["result"] in (None, "holed")
        if not last:
            after = rows[place + 1]
            row |= {"end_lie": after["lie"], "end_distance_ft": after["distance_ft"]}
        elif row["result"] == "holed":
            row |= {"end_lie": "holed", "end_distance_ft": 0.0}
        yield row


def _distance(row: Row) -> str | None:
    if row["distance_ft"] is None:
        return None
    feet = int(row["distance_ft"])
    if row["lie"] == "green":
        return str(feet)
    return f"{feet} ft" if row["lie"] == "fringe" else str(feet // 3)


def _log(share: Share) -> list[Row]:
    """Return the entries of a day: one or two, one of them perhaps without a club."""
    draw = random.Random(f"{share.player} {share.day}")
    parts = draw.sample(PARTS, draw.randint(1, 2))
    return [
        {
            **{"player": share.player, "date": share.day, "part": part},
            "minutes": 20.0 + 5 * place + share.variant,
            "club": CLUBS[(share.number + place) % len(CLUBS)],
            "balls": draw.choice((40, None)),
            "note": draw.choice(("rain", None)),
        }
        for place, part in enumerate(parts)
    ]


def _test(share: Share) -> list[Row]:
    """Return one to three balls of a block."""
    draw = random.Random(f"{share.player} {share.day} {share.number}")
    about = {"player": share.player, "date": share.day, "block": str(share.number)}
    return [
        {
            **about,
            **{"target_yd": 80.0, "club": "52", "swing": draw.choice(("full", None))},
            "carry_yd": 75.0 + draw.randint(0, 9) + share.variant,
            **{"face": draw.choice(("clean", None)), "ball": draw.choice(("own", None))},
        }
        for _ in range(draw.randint(1, 3))
    ]


def _bag(share: Share) -> list[Row]:
    """Return one club; the number says which."""
    return [
        {
            **{"player": share.player, "club": f"{48 + 4 * share.number}", "loft_deg": 52.0},
            **{"bounce_deg": 8.0 + share.variant, "in_play_from": share.day},
            "in_play_to": "2025-12-31" if share.number == 1 else None,
        }
    ]


ROWS: dict[str, Callable[[Share], list[Row]]] = {
    "shot": _round,
    "log": _log,
    "test": _test,
    "bag": _bag,
}

Table = list[dict[str, str]]


def _spoil(column: str, value: str) -> Callable[[Table], None]:
    def spoil(table: Table) -> None:
        table[-1][column] = value

    return spoil


def _nobody(table: Table) -> None:
    for row in table:  # a single blank cell would repeat the one above
        row["player"] = ""


def _repeat(table: Table) -> None:
    table.append(dict(table[0]))


FAULTS: dict[str, dict[str, Callable[[Table], None]]] = {
    "shot": {
        "lie": _spoil("lie", "trees"),
        "distance": _spoil("distance", "0"),
        "date": _spoil("date", "2025-02-30"),
        "shot": _spoil("shot", "29"),
        "player": _nobody,
        "repeated": _repeat,
    },
    "log": {"minutes": _spoil("minutes", "many"), "repeated": _repeat},
    "test": {"carry": _spoil("carry_yd", "far"), "club": _spoil("club", "")},
    "bag": {"to": _spoil("in_play_to", "2020-01-01"), "repeated": _repeat},
}


def _shares(kind: str) -> st.SearchStrategy[Share]:
    return st.builds(
        Share,
        st.sampled_from(PLAYERS),
        st.sampled_from(DAYS),
        st.integers(1, 1 if kind == "log" else 2),
        st.sampled_from((0, 0, 0, 1, 2)),
    )


@st.composite
def plans(draw: st.DrawFn, kinds: tuple[str, ...]) -> Plan:
    """Draw a file of one to three rounds, days, blocks or entries; one in eight is at fault.

    One in ten rounds has the strokes of another player.
    """
    kind = draw(st.sampled_from(kinds))
    unique = {"unique_by": lambda share: replace(share, variant=0)}
    shares = draw(st.lists(_shares(kind), min_size=1, max_size=3, **unique))
    if kind == "shot" and draw(st.integers(0, 9)) == 9:
        shares[-1] = replace(shares[-1], of=draw(st.sampled_from(PLAYERS)))
    fault = draw(st.sampled_from(("", *FAULTS[kind]))) if draw(st.integers(0, 7)) == 7 else ""
    return Plan(kind, tuple(shares), draw(st.integers(0, 2)), fault)
