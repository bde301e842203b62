"""Numbers as people write them: decimal commas, thousands, units behind them, 12 short, 4 right."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.units import unit_of
from sgzone.units import FT_PER

PLAIN = r"^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$"
_COMMA = re.compile(r"[+-]?\d*,\d+")
_POINT = re.compile(r"[+-]?\d*\.\d+")
_BLANK_THOUSANDS = re.compile(r"\d{1,3}([ \u00a0\u202f'’]\d{3})+")
_THOUSANDS = re.compile(r"\d{1,3}([.,]\d{3})+")
_WITH_UNIT = re.compile(r"([+\-−]?[\d.,]+)\s*([^\d\s.,+-][^\d]{0,11})")
_SIDED = re.compile(r"([\d.,]+)\s*(yds?|ft|feet|m|')?\s*([a-z]+)")
_SIDED_FIRST = re.compile(r"([lr])\s*([\d.,]+)")
_SIGN_OF = {
    "depth_ft": {"long": "", "past": "", "over": "", "short": "-"},
    "side_ft": {"right": "", "r": "", "left": "-", "l": "-"},
}
_LARGE = 10_000  # a column whose numbers go so far has thousands
_DECIMALS = 6  # of a number turned into another unit
_LENGTHS = ("yd", "ft", "m")


def numeric(draft: Draft) -> Iterator[ColumnSpec]:
    """Yield the columns there are that hold numbers and no lengths to the hole."""
    for column in columns_of(draft.kind):
        if column.kind in ("number", "integer") and column.name in draft.columns:
            yield column


def unlike(texts: pa.Array, pattern: str) -> list[str]:
    """Return the texts that are not of a form."""
    return list(texts.filter(pc.invert(pc.match_substring_regex(texts, pattern))).to_pylist())


def read_numbers(draft: Draft) -> None:
    """Read the numbers of every column; decimal commas are known by then."""
    for column in numeric(draft):
        odd = unlike(draft.columns[column.name].dictionary, PLAIN)
        plain = {text: _plain(text, draft.commas) for text in odd}
        thousands = _thousands(draft, column)
        plain |= thousands
        draft.say_read(column.name, thousands)
        commas = [text for text in odd if _COMMA.fullmatch(text) and "." in plain[text]]
        draft.decimals += [(text, plain[text]) for text in commas]
        said = {text: _signed(column, new) for text, new in plain.items()}
        clear = {t: new for t, new in said.items() if new is not None}
        draft.replace(column.name, plain | clear)
        noted = {t: new for t, new in clear.items() if new != plain[t]}
        draft.say_read(column.name, noted)
        _turn_units(draft, column)


def _plain(text: str, commas: bool) -> str:
    """Return a number with a decimal point and without the blanks between its thousands."""
    text = text.replace("−", "-")
    if _BLANK_THOUSANDS.fullmatch(text):
        return re.sub(r"\D", "", text)
    if commas and text.count(",") == 1 and "." not in text and re.search(r"\d,\d|^[+-]?,\d", text):
        return text.replace(",", ".")
    return text


def _thousands(draft: Draft, column: ColumnSpec) -> dict[str, str]:
    """Return the numbers that are thousands with a sign between, in a column that has such."""
    if column.high is None or column.high < _LARGE:
        return {}
    bare = {text: _without_unit(text, column.unit) for text in draft.texts(column.name)}
    texts = list(bare.values())
    grouped = [text for text, number in bare.items() if _THOUSANDS.fullmatch(number)]
    signs = {sign for text in grouped for sign in text if sign in ".,"}
    if not grouped or (signs == {"."} and not draft.typed):
        return {}
    if len(signs) == 1 and len(grouped) == sum("." in t or "," in t for t in texts):
        return {text: re.sub(r"\D", "", bare[text]) for text in grouped}
    draft.ask(
        draft.first_row(column.name, grouped[:1]),
        column.name,
        grouped[0],
        f"{re.sub(r'[.,]', '', grouped[0])}, or a decimal?",
        "Write thousands without any sign between, decimals with a point.",
    )
    return {}


def _without_unit(text: str, unit: str) -> str:
    match = _WITH_UNIT.fullmatch(text.lower())
    return match[1] if match and unit_of(match[2]) == unit else text


def _signed(column: ColumnSpec, text: str) -> str | None:
    """Return a number that stands with its unit, or with short, long, left or right; else None."""
    signs = _SIGN_OF.get(column.name, {})
    plain = text.lower()
    if match := _SIDED_FIRST.fullmatch(plain):
        return _with_sign(signs, match[2], match[1], None, column)
    if (match := _SIDED.fullmatch(plain)) and match[3] in signs:
        return _with_sign(signs, match[1], match[3], match[2], column)
    if match := _WITH_UNIT.fullmatch(plain):
        return _in_unit(match[1].replace("−", "-"), unit_of(match[2]), column)
    return None


def _with_sign(
    signs: dict[str, str], number: str, side: str, unit: str | None, column: ColumnSpec
) -> str | None:
    value = _in_unit(number, unit_of(unit) if unit else column.unit, column)
    return None if value is None or side not in signs else signs[side] + value


def _in_unit(number: str, unit: str | None, column: ColumnSpec) -> str | None:
    if re.fullmatch(PLAIN, number) is None or unit is None:
        return None
    if unit == column.unit:
        return number
    if unit in _LENGTHS and column.unit in _LENGTHS:
        return turned(number, unit, column.unit)
    return None


def turned(number: str, unit: str, wanted: str) -> str:
    """Return a length written in one unit as it is written in another.

    >>> turned("91.44", "m", "yd")
    '100'
    """
    return f"{float(number) * FT_PER[unit] / FT_PER[wanted]:.{_DECIMALS}f}".rstrip("0").rstrip(".")


def _turn_units(draft: Draft, column: ColumnSpec) -> None:
    """Turn the numbers of a column whose header names another unit than the card's."""
    units = draft.lengths_in.get(column.name, frozenset())
    if not units or column.unit in units or (len(units) > 1 and column.unit not in _LENGTHS):
        return
    unit = min(units)
    written = draft.written[column.name]
    texts = draft.texts(column.name)
    if unit not in _LENGTHS or column.unit not in _LENGTHS:
        if not column.unit or not texts:
            return
        draft.ask(
            draft.header_row,
            column.name,
            written,
            f"in {unit}; {column.name} is in {column.unit}",
            f"Write it in {column.unit}, or call the column something else.",
        )
        return
    new = {text: turned(text, unit, column.unit) for text in texts if re.fullmatch(PLAIN, text)}
    if draft.replace(column.name, dict(new)):
        draft.note(f'"{written}" turned from {unit} into {column.unit}')


def note_decimals(draft: Draft) -> None:
    """Note once that decimal commas were read."""
    if draft.decimals:
        text, new = draft.decimals[0]
        draft.note(f"decimal commas: {text} read as {new}")


def ask_mixed_signs(draft: Draft, names: Iterable[str]) -> None:
    """Ask where numbers have a decimal comma in some cells and a decimal point in others."""
    if not (draft.commas and draft.typed):
        return
    found: dict[str, tuple[str, str]] = {}
    for name in names:
        texts = draft.columns[name].dictionary
        if _is_large(draft, name):
            continue
        for sign, form in ((",", _COMMA), (".", _POINT)):
            if sign not in found:
                some = texts.filter(pc.match_substring(texts, sign)).to_pylist()
                right = next((t for t in some if form.match(t)), None)
                if right is not None:
                    found[sign] = (name, right)
    if len(found) == len(",."):
        (name, comma), (_, point) = found[","], found["."]
        draft.ask(
            draft.first_row(name, [comma]),
            name,
            comma,
            f"a decimal comma here and a decimal point elsewhere ({point})",
            "Write all decimals the same way.",
        )


def _is_large(draft: Draft, name: str) -> bool:
    column = next(column for column in columns_of(draft.kind) if column.name == name)
    return column.kind == "number" and (column.high or 0) >= _LARGE
