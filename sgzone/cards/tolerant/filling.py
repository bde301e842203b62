"""Cells left blank below a filled one: what repeats the cell above, and what is asked instead."""

from __future__ import annotations

from collections.abc import Iterable

from sgzone.cards.tolerant.coded import codes_of, from_codes
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.holes import ask_second_round, carry_holes
from sgzone.cards.tolerant.runs import after_merges, carried, changes, has_blanks, unread

_PLAIN = {
    "log": (("player", ()), ("date", ("player",))),
    "test": (
        ("player", ()),
        ("date", ("player",)),
        ("block", ("player", "date")),
        ("target_yd", ("player", "date", "block")),
        ("club", ("player", "date", "block")),
    ),
    "bag": (("player", ()), ("in_play_from", ("player",))),
    "shot": (("player", ()), ("date", ())),
}
"""Kind -> columns that repeat the cell above, each within those that are named with it."""


def fill_down(draft: Draft) -> None:
    """Repeat what stands above blank cells of the columns where people leave it out."""
    filled: dict[str, int] = {}
    for name, within in _PLAIN[draft.kind]:
        _fill(draft, name, within, filled)
    if draft.kind == "shot":
        _ask_other_players_day(draft, filled)
        _fill_card(draft, filled)
    said = [f"{name} ({rows} row{'s' if rows > 1 else ''})" for name, rows in filled.items()]
    if said:
        draft.note(f"blank cells read as the one above: {', '.join(said)}")


def _fill_card(draft: Draft, filled: dict[str, int]) -> None:
    _fill(draft, "round", ("player", "date"), filled)
    if holes := carry_holes(draft):
        filled["hole"] = holes
    ask_second_round(draft)
    _fill(draft, "event", ("player", "date", "round"), filled)
    one_course = len(draft.texts("course")) == 1
    _fill(draft, "course", () if one_course else ("player", "date", "round"), filled)
    _fill(draft, "par", ("player", "date", "round", "hole"), filled)


def _fill(draft: Draft, name: str, within: Iterable[str], filled: dict[str, int]) -> None:
    if not has_blanks(draft, name):
        return
    column = draft.columns[name]
    codes = codes_of(column)
    stops = changes(draft, within) | after_merges(draft, name)
    new = carried(codes, stops | unread(draft, name))
    draft.was_blank[name] = codes < 0
    if count := int((new != codes).sum()):
        draft.columns[name] = from_codes(new, column.dictionary)
        filled[name] = filled.get(name, 0) + count


def _ask_other_players_day(draft: Draft, filled: dict[str, int]) -> None:
    """Ask where another player begins below and the date, left blank, was repeated."""
    if "date" not in filled or "player" not in draft.columns:
        return
    first = changes(draft, ("player",)) & draft.was_blank["date"]
    if first.any():
        row = int(draft.rows[first.argmax()])
        day = draft.columns["date"][int(first.argmax())].as_py()
        draft.ask(
            row,
            "date",
            "",
            f"another player begins here and the date is blank: {day} too?",
            "Write the date in the first row of each player.",
        )
