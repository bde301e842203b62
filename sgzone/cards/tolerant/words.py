"""Cells that hold one of a few words: lies, results, penalties, parts, swings and the like."""

from __future__ import annotations

import re

import pyarrow.compute as pc

from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.rules import SHEET_ERRORS
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.wording import LONGEST, folded, header_names, lie_read, words_read
from sgzone.terms import HOLED, LIE_ALIASES, LIES

REPEATED = frozenset({"player", "date", "round", "course", "event", "hole", "par", "block"})
"""Columns where a blank cell means that of the row above; a dash there is no blank."""
TYPED_FREELY = frozenset({"player", "course", "note", "block", "device"})

_DASHES = frozenset({"-", "--", "–", "—", "−", "n/a", "N/A", "/"})
_DITTO = frozenset({'"', "''", "″", "”", "〃", "do.", "ditto", "dito"})
_WHOLE = r"[+-]?\d+(\.0*)?"
_WITH_POINT = re.compile(r"\d{1,3}\.0*")
_COUNT = re.compile(r"\+?([0-3])\s*(pens?|penalty|penalties|strokes?|shots?|pts?|schläge|slag)?\.?")
_ORDINAL = re.compile(r"([^\d]*?)[\s#.]*(\d{1,2})(?:st|nd|rd|th|\.|º|°)?")
_YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔", "ja", "j", "oui", "o", "si", "s"})
_NO = frozenset({"no", "n", "false", "0", "nein", "non", "nej", "miss", "missed"})
_NO_RESULT = frozenset({*_NO, "-"})
_RESULT_HEADERS = frozenset(
    {"holed", "made", "holed out", "eingelocht", "rentre", "embocado", "i hal"}
)


def read_words(draft: Draft) -> None:
    """Read the cells of every column that holds words or whole numbers."""
    for column in columns_of(draft.kind):
        if column.name not in draft.columns:
            continue
        _read_blanks(draft, column)
        if column.name in ("lie", "to_lie"):
            _read_lies(draft, column.name)
        elif column.name == "result":
            _read_results(draft)
        elif column.name == "penalty":
            _read_penalties(draft)
        elif column.kind in ("word", "words"):
            _read_known(draft, column)
        elif column.name in ("hole", "shot", "round", "par"):
            _read_counts(draft, column.name)


def _read_blanks(draft: Draft, column: ColumnSpec) -> None:
    """Read a dash as a blank cell, and the sign for the same again where cells are repeated."""
    if column.name in REPEATED:
        draft.replace(column.name, dict.fromkeys(_DITTO & _some(draft, column.name)))
    elif column.name not in TYPED_FREELY:
        draft.read_as(column.name, dict.fromkeys(sorted(_DASHES & _some(draft, column.name))))


def _some(draft: Draft, name: str) -> set[str]:
    """Return the texts of a column; of many, the short ones."""
    texts = draft.columns[name].dictionary
    if len(texts) > 1000:
        texts = texts.filter(pc.less_equal(pc.utf8_length(texts), len("ditto")))
    return set(texts.to_pylist())


def _read_lies(draft: Draft, name: str) -> None:
    new: dict[str, str | None] = {}
    noted: dict[str, str | None] = {}  # words of our own need no word
    known = LIE_ALIASES.keys() | set(LIES)
    ended = words_read("shot", "result")
    for text in draft.texts(name):
        plain = re.sub(r"[\s_]+", " ", text.lower())
        if name == "to_lie" and ended.get(folded(text)) == HOLED:
            new[text] = HOLED
        elif plain not in known and len(text) <= LONGEST and (lie := lie_read(text)):
            new[text] = lie
            if folded(text) not in known:
                noted[text] = lie
    draft.replace(name, new)
    draft.say_read(name, noted)


def _read_results(draft: Draft) -> None:
    ticked = folded(draft.written.get("result", "")) in _RESULT_HEADERS
    known = words_read(draft.kind, "result")
    new: dict[str, str | None] = {}
    for text in draft.texts("result"):
        plain = folded(text)
        if ticked and plain in _YES | {""} and text not in ("-",):
            new[text] = "holed"
        elif plain in _NO_RESULT and text not in SHEET_ERRORS:
            new[text] = None
        elif plain in known and plain.replace(" ", "_") != known[plain]:
            new[text] = known[plain]
    draft.read_as("result", new)


def _read_penalties(draft: Draft) -> None:
    known = words_read(draft.kind, "penalty")
    new: dict[str, str | None] = {}
    for text in draft.texts("penalty"):
        if re.fullmatch(_WHOLE, text):
            continue
        if match := _COUNT.fullmatch(text.lower()):
            new[text] = match[1]
        elif (word := known.get(folded(text))) is not None:
            new[text] = word
    draft.read_as("penalty", new)


def _read_known(draft: Draft, column: ColumnSpec) -> None:
    known = words_read(draft.kind, column.name)
    own = {word.lower() for word in column.words}
    new: dict[str, str | None] = {}
    for text in draft.texts(column.name):
        plain = text.lower()
        if plain in own or (column.kind == "word" and re.sub(r"[\s_-]+", "_", plain) in own):
            continue
        word = known.get(folded(text)) or known.get(plain)
        if word is not None:
            new[text] = word
    if column.name == "unit":
        draft.replace("unit", new)
    else:
        draft.read_as(column.name, new)


def _read_counts(draft: Draft, name: str) -> None:
    """Read the number of a hole, a shot, a round or the par: Hole 3, 2nd, par 4."""
    known = header_names(draft.kind)
    whole = [text for text in draft.texts(name) if _WITH_POINT.fullmatch(text)]
    draft.replace(name, {text: text.partition(".")[0] for text in whole})
    new: dict[str, str | None] = {}
    for text in draft.texts(name):
        if re.fullmatch(_WHOLE, text) or not (match := _ORDINAL.fullmatch(text.lower())):
            continue
        words = folded(match[1])
        if not words or name in known.get(words, ()) or words == name[0]:
            new[text] = match[2]
    draft.read_as(name, new)
