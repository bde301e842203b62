"""Distances to the hole as people write them, and the unit of the bare ones."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from sgzone.cards.tolerant.coded import coded, codes_of, from_codes, rows_with
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.numbers import unlike
from sgzone.cards.tolerant.units import PACES, unit_of
from sgzone.cards.tolerant.wording import folded, lie_read
from sgzone.terms import GREEN, LIE
from sgzone.units import split_distance

_CLEAR = r"^(\d+\.?\d*|\.\d+)( ?(yd|m|ft))?$"
_QUOTES = str.maketrans({"’": "'", "‘": "'", "′": "'", "´": "'", "`": "'", "”": '"', "“": '"'})
_MORE_QUOTES = str.maketrans({"″": '"', "„": '"', "\u00a0": " ", "\u202f": " "})
_FEET_INCHES = re.compile(
    r"(\d+)\s*(?:'|ft|foot|feet)\.?\s*(\d+(?:\.\d+)?)\s*(?:\"|''|in|ins|inch|inches)?\.?"
)
_INCHES = re.compile(r"(\d+)(\.\d+)?\s*(?:\"|''|in|ins|inch|inches)\.?")
_COMMA = re.compile(r"(\d*),(\d+)(\D*)")
_WITH_UNIT = re.compile(r"([\d.]+)\s*(\D{1,12})")
_TAP_IN = "1 ft"
_INCHES_PER_FT = 12
LENGTHS = ("distance", "to_distance")


def read_distances(draft: Draft) -> None:
    """Read the cells of a shot card that hold a distance to the hole."""
    for name in LENGTHS:
        if name in draft.columns:
            _read(draft, name)
    if "distance" in draft.columns and "lie" in draft.columns:
        _bare_units(draft)
    if "to_distance" in draft.columns:
        _unit_of_finish(draft)


def _read(draft: Draft, name: str) -> None:
    odd = unlike(draft.columns[name].dictionary, _CLEAR)
    new: dict[str, str | None] = {}
    taps: list[str] = []
    paces: list[str] = []
    for text in odd:
        plain = _plain(text, draft.commas)
        number, _, unit = plain.partition(" ")
        if folded(plain) in ("tap in", "tapin", "tap"):
            taps.append(text)
            plain = _TAP_IN
        elif unit in PACES:
            paces.append(text)
            plain = f"{number} yd"
        if plain != text and _is_read(plain):
            new[text] = plain
    measured = rows_with(draft.columns[name], paces) if paces else None
    commas = [text for text in new if "," in text]
    draft.replace(name, new)
    draft.decimals += [(text, new[text] or "") for text in commas]
    if taps:
        draft.note(f"{name}: tap-in read as {_TAP_IN}", column=name)
    if measured is not None:
        _note_paces(draft, name, measured)


def _is_read(text: str) -> bool:
    with suppress(ValueError):
        split_distance(text)
        return True
    return False


def _plain(text: str, commas: bool) -> str:
    """Return a distance as the card writes it; what is none comes back much as it was."""
    plain = text.lower().translate(_QUOTES).translate(_MORE_QUOTES).strip()
    if commas and (match := _COMMA.fullmatch(plain)):
        plain = f"{match[1] or '0'}.{match[2]}{match[3]}"
    if match := _FEET_INCHES.fullmatch(plain):
        return f"{match[1]}'{match[2]}\""
    if match := _INCHES.fullmatch(plain):
        feet, inches = divmod(int(match[1][:6]), _INCHES_PER_FT)
        return f"{feet}'{inches}{match[2] or ''}\""
    if match := _WITH_UNIT.fullmatch(plain):
        word = match[2].strip().strip(".")
        if word in PACES:
            return f"{match[1]} {word}"
        if (unit := unit_of(word)) in ("yd", "m", "ft"):
            return f"{match[1]} {unit}"
    return plain if _is_read(plain) else text


def _note_paces(draft: Draft, name: str, rows: NDArray[np.bool_]) -> None:
    draft.note(f"{name}: paces read as yards, paced", column=name)
    if name != "distance":
        return
    column = draft.columns.get("measured")
    if column is None:
        column = coded(pa.nulls(len(rows), pa.string()))
    codes = codes_of(column)
    texts = [*column.dictionary.to_pylist(), "paced"]
    codes = np.where(rows & (codes < 0), len(texts) - 1, codes)
    draft.columns["measured"] = from_codes(codes, pa.array(texts, pa.string()))


def _bare_units(draft: Draft) -> None:
    """Give the bare distances their unit where the header names one; ask where it is not clear."""
    units = draft.lengths_in.get("distance", frozenset()) & {"yd", "ft", "m"}
    unit = draft.columns.get("unit")
    some_metres = unit is not None and "m" in draft.texts("unit") and unit.indices.null_count
    if not (units and units != {"yd", "ft"}) and not some_metres:
        return
    rows = _Bare(draft)
    if some_metres and rows.any():
        draft.ask(
            rows.first(),
            "unit",
            "",
            "metres in some rows, and no unit here",
            "Write m in every row that is in metres, and yd or ft in the others.",
        )
    elif units == {"m"}:
        rows.give("m", rows.all)
        draft.note("distances in metres, as their header says")
    elif units == {"m", "ft"}:
        rows.give("m", rows.off_green)
        rows.give("ft", rows.on_green)
        draft.note("distances in metres, on the green in feet, as their header says")
    elif units in ({"yd"}, {"ft"}):
        _one_of_ours(draft, rows, min(units))


def _unit_of_finish(draft: Draft) -> None:
    """Give bare finishes the unit of their header; ask where only the start has one."""
    units = draft.lengths_in.get("to_distance", frozenset()) & {"yd", "ft", "m"}
    of_start = draft.lengths_in.get("distance", frozenset()) & {"yd", "ft", "m"}
    bare = [text for text in _bare_texts(draft.texts("to_distance")) if float(text) > 0]
    written = draft.written.get("to_distance", "")
    putts = any(lie_read(text) == GREEN for text in draft.texts("to_lie"))
    if not bare or units == {"yd", "ft"} or not (units or "m" in of_start):
        return
    unit = min(units or {"m"})
    if units in ({"ft"}, {"m"}) or (units == {"yd"} and not putts):
        draft.note(f'"{written}" read in {unit}, as its header says')
    else:
        draft.ask(
            draft.first_row("to_distance", bare[:1]),
            "to_distance",
            bare[0],
            f'in which unit is "{written}"?',
            'Write it into the header, such as "Left (ft)" or "Left (m)".',
        )
    draft.replace("to_distance", {text: f"{text} {unit}" for text in bare})


def _one_of_ours(draft: Draft, rows: _Bare, unit: str) -> None:
    """Read a header of yards or of feet alone; ask where it stands above putts and approaches."""
    green, off = rows.on_green.any(), rows.off_green.any()
    if (unit == "yd" and green) or (unit == "ft" and off and green):
        written = draft.written.get("distance", "distance")
        wanted = rows.on_green if unit == "yd" else rows.off_green
        draft.ask(
            int(draft.rows[wanted.argmax()]),
            "distance",
            "",
            f'"{written}" is above putts and longer shots: are putts in feet, the rest in yards?',
            f'If so, call the column "distance"; if all are in {unit}, write {unit} in a column '
            '"unit".',
        )
        return
    rows.give(unit, rows.all)
    if unit == "ft" and off:
        draft.note("distances in feet, as their header says")


class _Bare:
    """The rows whose distance is a bare number without a unit beside it."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft
        distance, lie = draft.columns["distance"], draft.columns["lie"]
        bare = rows_with(distance, list(_bare_texts(draft.texts("distance"))))
        if "unit" in draft.columns:
            bare &= codes_of(draft.columns["unit"]) < 0
        lies = {text: lie_read(text) for text in draft.texts("lie")}
        green = [text for text, name in lies.items() if name and LIE[name].bare_unit == "ft"]
        away = [text for text, name in lies.items() if name and LIE[name].bare_unit == "yd"]
        self.all = bare
        self.on_green, self.off_green = bare & rows_with(lie, green), bare & rows_with(lie, away)

    def any(self) -> bool:
        return bool(self.all.any())

    def first(self) -> int:
        return int(self.draft.rows[self.all.argmax()])

    def give(self, unit: str, rows: NDArray[np.bool_]) -> None:
        column = self.draft.columns.get("unit")
        if column is None:
            column = coded(pa.nulls(len(rows), pa.string()))
        texts = [*column.dictionary.to_pylist(), unit]
        codes = np.where(rows, len(texts) - 1, codes_of(column))
        self.draft.columns["unit"] = coded(from_codes(codes, pa.array(texts, pa.string())))


def _bare_texts(texts: list[str]) -> Iterator[str]:
    for text in texts:
        with suppress(ValueError):
            if split_distance(text)[1] is None:
                yield text
