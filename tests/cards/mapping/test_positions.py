"""Positions of ball and pin in a table: which stroke ends where, and what is no position."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.cards.reader import TextTable
from sgzone.units import M_PER_FT
from tests.cards.mapping.faults import cells, read

# on the equator: a thousandth of a degree is 111.32 m east and 110.57 m north
PIN = "0,10.001"
METRES_EAST, METRES_NORTH = 111_319.49, 110_574.28  # of one degree
HEADER = "player,date,hole,shot,lie,penalty,result,blat,blon,plat,plon\n"
MAPPING = '[positions]\nball = ["blat", "blon"]\npin = ["plat", "plon"]\n'


def stroke(shot: int, lat: float | str, lon: float | str, *, hole: int = 1, **more: str) -> str:
    """Return one row; a number for ``lon`` counts from 10 degrees."""
    lie, penalty, result = (more.get(name, "") for name in ("lie", "penalty", "result"))
    lie, lon = lie or "rough", lon if isinstance(lon, str) else 10 + lon
    return f"Ned,2026-05-14,{hole},{shot},{lie},{penalty},{result},{lat},{lon},{PIN}\n"


def feet(text: TextTable, name: str) -> list[float | None]:
    return [float(cell.removesuffix(" ft")) if cell else None for cell in cells(text, name)]


def close(*metres: float | None) -> list[object]:
    return [m if m is None else pytest.approx(m / M_PER_FT, abs=0.01) for m in metres]


def errors(text: TextTable) -> list[tuple[int | None, str]]:
    return [(p.row, p.wrong) for p in text.problems if p.severity == "error"]


def test_a_stroke_ends_where_the_next_one_of_the_hole_is_played(tmp_path: Path) -> None:
    table = HEADER + stroke(1, 0, 0) + stroke(2, 0.0001, 0.0011) + stroke(3, 0, 0.00101)
    text = read(tmp_path, MAPPING, table + stroke(1, 0, 0.0005, hole=2))
    assert feet(text, "distance")[0] == close(0.001 * METRES_EAST)[0]
    # past the pin, and to the left of a player who looks east
    assert feet(text, "depth_ft")[0] == close(0.0001 * METRES_EAST)[0]
    assert feet(text, "side_ft")[0] == close(-0.0001 * METRES_NORTH)[0]
    assert feet(text, "depth_ft")[2:] == [None, None]  # the last of each hole
    assert cells(text, "distance")[0] == "365.221 ft"


def test_strokes_are_paired_by_their_numbers_not_by_their_rows(tmp_path: Path) -> None:
    rows = [stroke(1, 0, 0), stroke(2, 0, 0.0008), stroke(3, 0, 0.0011)]
    straight = read(tmp_path, MAPPING, HEADER + "".join(rows))
    turned = read(tmp_path, MAPPING, HEADER + "".join(reversed(rows)))
    assert feet(straight, "depth_ft") == close(-0.0002 * METRES_EAST, 0.0001 * METRES_EAST, None)
    assert feet(turned, "depth_ft") == feet(straight, "depth_ft")[::-1]


def test_the_hole_of_a_row_may_stand_above_it(tmp_path: Path) -> None:
    table = HEADER + stroke(1, 0, 0) + stroke(2, 0, 0.0009).replace("Ned,2026-05-14,1", ",,")
    text = read(tmp_path, MAPPING, table)
    assert feet(text, "depth_ft") == close(-0.0001 * METRES_EAST, None)


def test_holed_is_in_the_hole_and_after_a_penalty_nothing_is_known(tmp_path: Path) -> None:
    table = (
        HEADER
        + stroke(1, 0, 0, penalty="1")
        + stroke(2, 0, 0)
        + stroke(3, 0, 0.0009, result="holed")
    )
    text = read(tmp_path, MAPPING, table)
    assert feet(text, "depth_ft") == close(None, -0.0001 * METRES_EAST, 0)
    assert feet(text, "side_ft") == close(None, 0, 0)


def test_a_column_of_finishes_says_it_itself(tmp_path: Path) -> None:
    header = HEADER.replace("\n", ",flat,flon\n")
    row = stroke(1, 0, 0, penalty="1").replace("\n", ",0.0001,10.001\n")
    text = read(tmp_path, MAPPING + 'finish = ["flat", "flon"]\n', header + row)
    assert feet(text, "side_ft") == close(-0.0001 * METRES_NORTH)


def test_finish_and_its_lie_say_where_the_next_stroke_would_be(tmp_path: Path) -> None:
    header = HEADER.replace("\n", ",flat,flon,to_lie\n")
    rows = stroke(1, 0, 0).replace("\n", ",0.0001,10.001,rough\n")
    rows += stroke(1, 0, 0, hole=2).replace("\n", ",0.0001,10.0009,green\n")
    rows += stroke(2, 0, 0.0009, hole=2, lie="green").replace("\n", ",,,holed\n")
    text = read(tmp_path, MAPPING + 'finish = ["flat", "flon"]\n', header + rows)
    assert feet(text, "to_distance") == close(0.0001 * METRES_NORTH, None, 0)
    assert errors(text) == []


def test_what_a_column_says_stands_before_positions(tmp_path: Path) -> None:
    header = HEADER.replace("\n", ",distance\n")
    table = (
        header
        + stroke(1, 0, 0).replace("\n", ",120 yd\n")
        + stroke(2, 0, 0.0011).replace("\n", ",30 ft\n")
    )
    text = read(tmp_path, MAPPING, table)
    assert cells(text, "distance") == ["120 yd", "30 ft"]
    assert feet(text, "depth_ft") == close(0.0001 * METRES_EAST, None)


@pytest.mark.parametrize(
    ("lat", "lon", "wrong"),
    [
        ("91", "0", "a latitude is from -90 to 90 degrees"),
        ("0", "-180.5", "a longitude is from -180 to 180 degrees"),
        ("0", "0.0", "0, 0 is far out at sea: no position of the ball was taken"),
        ("north", "0.1", "no latitude of the ball"),
        ("48°08'12\"", "0.1", "no latitude of the ball"),
        ("", "10.0005", "half a position of the ball: one of two cells is blank"),
        ("48.1", "11.5", "ball and pin are farther apart than any shot"),
        ("10.0005", "0", "ball and pin are farther apart than any shot"),
        ("1e999", "0", "no latitude of the ball"),
        ("nan", "0", "no latitude of the ball"),
    ],
)
def test_what_is_no_position(tmp_path: Path, lat: str, lon: str, wrong: str) -> None:
    lat = f'"{lat}"' if '"' not in lat else '"' + lat.replace('"', '""') + '"'
    table = HEADER + stroke(1, lat, lon) + stroke(2, 0, 0.0009)
    text = read(tmp_path, MAPPING, table)
    assert errors(text) == [(2, wrong)]
    assert cells(text, "distance")[0] == ""
    assert cells(text, "distance")[1] != ""


def test_no_position_at_all_is_a_blank_cell(tmp_path: Path) -> None:
    text = read(tmp_path, MAPPING, HEADER + stroke(1, "", "") + stroke(2, 0, 0.0009))
    assert errors(text) == []
    assert cells(text, "distance")[0] == ""


def test_positions_with_a_decimal_comma(tmp_path: Path) -> None:
    table = (HEADER + stroke(1, 0, 0.0005) + stroke(2, 0, 0.001)).replace(",", ";")
    text = read(tmp_path, 'decimal = ","\n' + MAPPING, table.replace(".", ","))
    assert errors(text) == []
    assert feet(text, "distance") == close(0.0005 * METRES_EAST, 0)


def test_a_thousand_faults_are_told_and_the_rest_counted(tmp_path: Path) -> None:
    table = HEADER + "".join(stroke(n, 95, 0.1) for n in range(1, 1502))
    text = read(tmp_path, MAPPING, table)
    assert len(errors(text)) == 1001
    assert [p.times for p in text.problems if p.severity == "error"][-1] == 501
