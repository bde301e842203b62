"""The types of what comes back: the same for every answer, whatever the data, no rows too."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.answers import columns_of
from sgzone.stats import verdict as said
from sgzone.terms import BAND_NAMES, HOLED, LIES, MEASURED, NOT_ENOUGH, OUTSIDE, PART_NAMES

TOTAL = "total"
STANDS_FOR_MORE = ("off_green", "putting")
"""Rows of ``plays_like`` that take several parts together."""
WORDS = {
    "part": (*PART_NAMES, OUTSIDE, *STANDS_FOR_MORE, TOTAL),
    "band": (*BAND_NAMES, TOTAL),
    "lie": (*LIES, TOTAL),
    "end_lie": (*LIES, HOLED),
    "measured": (*MEASURED, TOTAL),
}
"""Column -> its words in their order: from far to near, from the tee to the green."""
VERDICTS = {
    **dict.fromkeys(
        ("summary", "parts"),
        (
            *(said.CLEAR_LOSS, said.PROBABLE_LOSS, NOT_ENOUGH, said.NOT_SETTLED),
            *(said.LEVEL, said.PROBABLE_GAIN, said.CLEAR_GAIN),
        ),
    ),
    "compare": (
        *(said.TOO_FEW, said.NOT_WRITTEN, said.NO_DIFFERENCE),
        *(said.LEANING, said.PROBABLE_LOSS, said.PROBABLE_GAIN, said.BETTER_HERE),
    ),
    **dict.fromkeys(
        ("trend", "before_after"),
        (said.NOT_ENOUGH_ROUNDS, said.WITHIN_NOISE, said.MORE_THAN_NOISE),
    ),
    "agreements": ("", said.WORSE_SINCE, said.TOO_FEW, said.NOT_SETTLED, said.BETTER_SINCE),
    **dict.fromkeys(
        ("number", "number_sheet"), (said.BEST, said.EQUAL, said.TOO_CLOSE, said.COSTS)
    ),
}
"""Answer -> its verdicts: of a mean from clear loss to clear gain, of others from least to most."""
WHOLE = frozenset(
    {
        *("round", "hole", "shot", "par", "penalty", "holes", "shots", "rounds", "n", "pool"),
        *("shared_rounds", "unscored", "shots_first", "shots_second", "rounds_first"),
        *("rounds_second", "shots_to_settle", "known_first", "known_second", "spread_shots"),
        *("release_shots", "round_key", "row", "times", "agreement", "shots_before"),
        *("shots_since", "rounds_before", "rounds_since", "shots_other", "rounds_other"),
        *("chances", "putts", "balls", "rank", "stroke"),
    }
)
"""Columns of whole numbers, which may be missing."""
DAYS = frozenset({"date", "day", "due", "closed", "in_play_from"})
TRUTHS = frozenset({"tied"})
_SUMS = {"strokes": "Int64", "penalties": "Int64"}
_BESIDE = dict.fromkeys(("compared", "better", "equal", "worse"), "Int64")
OWN: dict[str, dict[str, Any]] = {
    "rounds": _SUMS,
    "check_totals": _SUMS,
    "block_days": {"inside": "Int64"},
    "round_counts": {"value": "Int64", **_BESIDE},
    "round_parts": _BESIDE,
    "table": {"step": "Int64"},
    "halves": dict.fromkeys(("start", "end", "split"), "datetime64[us]"),
    "practice_curves": {"observed": "boolean"},
}
"""Answer -> the types of columns whose names mean another thing in other answers."""
_TABLE = ("gained", frozenset({"group", "end", "status", "club", "swing", "who", "source"}))
MORE = {
    "strokes_gained": ("gained", frozenset({"club", "swing", "course", "event", "note"})),
    "check_totals": ("gained", frozenset[str]()),
    "outcomes": ("gained", frozenset[str]()),
    "table": _TABLE,
    "before_after": _TABLE,
    "block_days": ("gained", frozenset({"ball", "surface"})),
    "halves": ("gained", frozenset({"half"})),
    "number_sheet": ("number", frozenset({"played", "prepare"})),
    "practice_curves": ("practice", frozenset({"point"})),
    "round_strokes": ("gained", frozenset({"ending", "club", "swing"})),
}
"""Answers that the dictionary of columns does not name: like which one, and with which words."""

_TEXT: Any = "str" if pd.__version__ >= "3" else pd.StringDtype("pyarrow")


def out(frame: pd.DataFrame, answer: str) -> pd.DataFrame:
    """Return an answer with the types that callers get.

    ``answer``: its name in the dictionary of answers, or one of ``MORE``. Words that no vocabulary
    has are added behind it, so that none is lost.
    """
    like, words = MORE.get(answer, (answer, frozenset[str]()))
    texts = {
        c.name for c in (*columns_of(like), *columns_of("by")) if not (c.numeric or c.unit)
    } | words
    texts |= {"note", "benchmark", "player"}
    return frame.assign(**{str(name): _typed(frame[name], answer, texts) for name in frame})


def _typed(column: pd.Series, answer: str, texts: set[str]) -> pd.Series:
    name = str(column.name)
    words = VERDICTS.get(answer) if name == "verdict" else WORDS.get(name)
    if words is not None:
        return _ordered(column, words)
    kind: Any = OWN.get(answer, {}).get(name) or _kind(name, texts)
    return column.astype("Float64").astype(kind) if kind == "Int64" else column.astype(kind)


def _kind(name: str, texts: set[str]) -> Any:
    if name in WHOLE:
        return "Int64"
    if name in DAYS:
        return "datetime64[us]"
    if name in TRUTHS:
        return "boolean"
    return _TEXT if name in texts else "float64"


def _ordered(column: pd.Series, words: tuple[str, ...]) -> pd.Series:
    others = sorted(set(column.dropna()) - set(words))
    return column.astype(pd.CategoricalDtype([*words, *others], ordered=True))


def plain(frame: pd.DataFrame) -> pd.DataFrame:
    """Return a table with the types that the rooms inside work with: plain texts and numbers."""
    changed: dict[str, pd.Series] = {}
    for label, kind in frame.dtypes.items():
        name = str(label)
        if isinstance(kind, pd.CategoricalDtype):
            changed[name] = frame[name].astype(object).astype(_INSIDE)
        elif isinstance(kind, pd.Int64Dtype):
            whole = frame[name].notna().all()
            changed[name] = frame[name].astype("int64" if whole else "float64")
        elif isinstance(kind, pd.BooleanDtype) and frame[name].notna().all():
            changed[name] = frame[name].astype(bool)
    return frame.assign(**changed) if changed else frame


_INSIDE: Any = "str" if pd.__version__ >= "3" else "object"
