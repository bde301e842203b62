"""Who runs against whom. The first of a race is what the others' ratios are to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module

from tests.bench import loading, reviewing, scoring
from tests.bench.material import SIMULATED, Answer, Material

REPORTING = "tests.bench.reporting"
"""Imported only for its contenders: a report's libraries add some 100 MB to a peak."""


def _reporting(name: str) -> Callable[[Material], Answer]:
    """Return a contender of ``REPORTING``."""

    def run(material: Material) -> Answer:
        contender: Callable[[Material], Answer] = getattr(import_module(REPORTING), name)
        return contender(material)

    return run


CONTENDERS: dict[str, Callable[[Material], Answer]] = {
    "score": scoring.sgzone,
    "score, only read and sum": scoring.floor,
    "score, in polars": scoring.polars_lazy,
    "score, in pandas": scoring.pandas_shift,
    "score, numpy by hand": scoring.numpy_by_hand,
    "score, 4 benchmarks": scoring.sgzone_four,
    "parts": scoring.sgzone_parts,
    "parts, only read and sum": scoring.floor,
    "parts, in polars": scoring.polars_parts,
    "parts, in pandas": scoring.pandas_parts,
    "parts, numpy by hand": scoring.numpy_parts,
    "parts, every stroke kept": scoring.sgzone_table,
    "summary": reviewing.summary,
    "summary of one player": reviewing.summary_of_one,
    "load": loading.load_clean,
    "load, as people type": loading.load_typed,
    "load, only read_csv": loading.plain_clean,
    "load, polars.read_csv": loading.polars_clean,
    "load, pandas.read_csv": loading.pandas_clean,
    "refuse": loading.load_dirty,
    "refuse, only read_csv": loading.plain_dirty,
    "bootstrap": reviewing.bootstrap,
    "bootstrap, numpy by hand": reviewing.bootstrap_numpy,
    "bootstrap, in pandas": reviewing.bootstrap_pandas,
    "report": _reporting("season_page"),
    "report, its script made too": _reporting("season_page_first"),
    "report, printed": _reporting("season_print"),
    "report, only read and sum": _reporting("season_floor"),
    "team report": _reporting("team_page"),
    "team report, printed": _reporting("team_print"),
    "team report, only read and sum": _reporting("team_floor"),
}


@dataclass(frozen=True, slots=True)
class Race:
    """Contenders whose runs are interleaved; ``agree``: they must give the same answer."""

    names: tuple[str, ...]
    agree: tuple[str, ...] = ()
    largest: int | None = None  # strokes; more are not tried


def _with(*starts: str) -> tuple[str, ...]:
    return tuple(name for name in CONTENDERS if name.split(",")[0] in starts)


COLD = frozenset({*_with("load"), *_with("refuse"), *_with("report"), *_with("team report")})
"""Timed at their first run: each makes a file of its own, as its user does once."""


def _agreeing(start: str) -> tuple[str, ...]:
    return tuple(name for name in _with(start) if "only read" not in name)


RACES = (
    # each shape against the same shape: sums per part and round, and one sum per part
    Race(_with("score", "summary", "summary of one player"), agree=_agreeing("score")),
    Race(_with("parts"), agree=_agreeing("parts")),
    Race(_with("load"), largest=SIMULATED),
    Race(_with("refuse"), largest=SIMULATED),
    Race(_with("bootstrap"), largest=100_000),
    Race(_with("report"), largest=100_000),
    Race(_with("team report"), largest=100_000),
)
