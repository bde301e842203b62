"""Holes worked by hand against the printed tour values (broadie2012 off the green, broadie2014 on).

A row reads: shot lie distance [pN for penalty strokes] [how the hole ended]. The wanted values are
expected before - expected after - 1 - penalty with the printed two decimals, ``None`` where the
ball's next place is unknown; rows that only mark where the ball lay have no value at all.

Values that are not knots: fairway, rough and sand at 5 yd are the 15-ft putt plus the lie's surplus
over putts at 10 yd (1.78 + 0.20, + 0.36, + 0.45); fringe is the mean of fairway and green.
"""

from __future__ import annotations

HOLES: dict[str, tuple[list[str], list[float | None]]] = {
    "two putts from 20 ft": (
        ["1 fairway 100", "2 green 20", "3 green 2"],
        [2.80 - 1.87 - 1, 1.87 - 1.01 - 1, 1.01 - 1],
    ),
    "chip-in": (["1 fairway 10 holed"], [1.18]),
    "tap-in": (["1 green 1"], [0.00]),
    "one putt from 10 ft": (["1 green 10"], [0.61]),
    "water, one penalty stroke": (
        ["1 fairway 120 p1", "2 rough 40", "3 green 5"],
        [-1.93, 0.55, 0.23],
    ),
    "out of bounds costs two": (
        ["1 fairway 140 p1", "2 fairway 140", "3 green 30", "4 green 3"],
        [-2.00, -0.07, -0.06, 0.04],
    ),
    "out of bounds, penalty counted in the shot number": (
        ["1 fairway 140 p1", "3 fairway 140", "4 green 30", "5 green 3"],
        [-2.00, -0.07, -0.06, 0.04],
    ),
    "unplayable, charged to the stroke before": (
        ["1 rough 100 p1", "2 rough 60", "3 green 15", "4 green 2"],
        [-1.89, 0.13, -0.23, 0.01],
    ),
    "two penalty strokes": (
        ["1 fairway 100 p2", "2 fairway 100", "3 green 8"],
        [-3.00, 0.30, 0.50],
    ),
    "picked up where the ball lay": (
        ["1 fairway 50", "2 rough 10", "3 rough 5 picked_up"],
        [-0.68, 2.34 - 2.14 - 1],
    ),
    "picked up, ball lost at once": (["1 fairway 80", "2 - - picked_up"], [None]),
    "picked up, ball lost later": (
        ["1 rough 100", "2 sand 20", "3 - - picked_up"],
        [-0.51, None],
    ),
    "putt conceded": (["1 fairway 60", "2 green 3 conceded"], [0.66]),
    "long putt conceded": (["1 rough 20", "2 green 40 conceded"], [-0.47]),
    "chip-in from rough": (["1 rough 20 holed"], [1.59]),
    "fringe": (["1 fringe 30ft", "2 green 3"], [2.08 - 1.04 - 1, 0.04]),
    "fringe holed": (["1 fringe 15ft holed"], [0.88]),
    "leaves the zone again": (
        ["1 sand 100", "2 rough 160", "3 green 20", "4 green 2"],
        [-1.00, 0.36, -0.14, 0.01],
    ),
    "card starts at shot 3": (
        ["3 fairway 90", "4 green 9", "5 green 1"],
        [0.21, -0.44, 0.00],
    ),
    "par-3 tee": (["1 tee 140", "2 green 20"], [0.10, 0.87]),
    "hole in one": (["1 tee 120 holed"], [1.99]),
    "strokes before the zone are not listed": (
        ["1 tee 400", "2 fairway 140", "3 green 10", "4 green 1"],
        [0.30, -0.39, 0.00],
    ),
    "putt off the green": (
        ["1 green 30", "2 fairway 10", "3 green 2"],
        [-1.20, 0.17, 0.01],
    ),
    "three putts": (["1 green 60", "2 green 10", "3 green 3"], [-0.40, -0.43, 0.04]),
    "sand save": (["1 sand 10", "2 green 4"], [0.30, 0.13]),
    "left in the sand": (["1 sand 10", "2 sand 10", "3 green 6"], [-1.00, 0.09, 0.34]),
    "recovery": (
        ["1 recovery 100", "2 fairway 60", "3 green 15"],
        [0.10, -0.08, 0.78],
    ),
    "rough inside 10 yd": (["1 rough 5", "2 green 3"], [0.10, 0.04]),
    "fairway inside 10 yd": (["1 fairway 5", "2 green 1"], [-0.02, 0.00]),
    "sand inside 10 yd": (["1 sand 5", "2 green 2"], [2.23 - 1.01 - 1, 0.01]),
    "metres": (["1 fairway 91.44m", "2 green 6.096m"], [-0.07, 0.87]),
    "feet and inches": (["1 green 7'0\""], [0.42]),
    "tee into water": (
        ["1 tee 140 p1", "2 fairway 80", "3 green 7", "4 green 1"],
        [-1.78, 0.33, -0.58, 0.00],
    ),
    "tee out of bounds, tee again": (
        ["1 tee 120 p1", "2 tee 120", "3 green 50", "4 green 4"],
        [-2.00, -0.15, 0.01, 0.13],
    ),
    "putt from 90 ft": (["1 green 90", "2 green 3"], [0.32, 0.04]),
}


def card_rows(hole: int, rows: list[str]) -> list[dict[str, str]]:
    """Return the hole's rows as a card's columns."""
    cards = []
    for row in rows:
        shot, lie, distance, *more = row.split()
        penalty = next((word[1:] for word in more if word[0] == "p" and word[1:].isdigit()), "")
        result = next((w for w in more if w in ("holed", "conceded", "picked_up")), "")
        cards.append(
            {
                "player": "Worked Example",
                "date": "2026-05-01",
                "hole": str(hole),
                "shot": shot,
                "lie": "" if lie == "-" else lie,
                "distance": "" if distance == "-" else distance,
                "penalty": penalty,
                "result": result,
            }
        )
    return cards
