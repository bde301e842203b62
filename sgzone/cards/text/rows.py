"""A hole that was read as rows of cells, one a stroke, as a table holds them."""

from __future__ import annotations

from collections.abc import Iterator

from sgzone.cards.text.card import Hole
from sgzone.cards.text.places import Place
from sgzone.cards.text.vocabulary import RESULT_OF

Row = dict[str, str]


def rows_of(hole: Hole) -> Iterator[Row]:
    """Yield one row of cells per place of a hole, as a table would hold them."""
    above, reading = hole.heading, hole.reading
    whole: Row = dict(above.cells) if above else {}
    if above and above.player and above.day:
        whole |= {"player": above.player, "date": above.day.isoformat(), "round": above.round}
    whole |= {"hole": str(hole.at.number), **({"par": reading.par} if reading.par else {})}
    whole |= reading.cells
    metres = above is not None and above.metres
    for number, place in enumerate(reading.places):
        row = {**whole, "shot": str(reading.first + number), **_cells(place, metres)}
        if number == 0 and reading.notes:
            row["note"] = "; ".join([*reading.notes, *filter(None, [row.get("note")])])
        yield row


def _cells(place: Place, metres: bool) -> Row:
    row = {
        "lie": place.lie,
        "distance": place.distance(metres) if place.number is not None else None,
        "penalty": str(place.penalty) if place.penalty else None,
        "result": RESULT_OF.get(place.mark),
        "club": place.club,
        "swing": place.swing,
    }
    return {**{name: cell for name, cell in row.items() if cell is not None}, **place.cells}
