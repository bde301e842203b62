"""How things are said to one reader: in yards or metres, with ranges of one level."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf

from sgzone.stats.verdict import EQUAL, NO_DIFFERENCE, TOO_CLOSE, TOO_FEW
from sgzone.terms import BANDS, CAUSE_WORDS, DEFAULT_LEVEL, PART_WORDS, PARTS, ZONE_FT, Band, Part
from sgzone.units import FT_PER_YD, M_PER_FT, M_PER_YD
from sgzone.words.digits import number

VERDICTS = {
    **{TOO_CLOSE: "can't separate", EQUAL: "just as good"},
    **{NO_DIFFERENCE: "can't separate", TOO_FEW: "too few shots"},
}
"""What a person reads where the code of a verdict is not said as it is."""

Words = tuple[str, ...]
"""Sentences, one after the other."""

YARDS, METRIC = "yards", "metric"
_METRES = {"yd": M_PER_YD, "ft": M_PER_FT}
_PLACES = {"yd": 0, "ft": 1}
"""Decimals of a length in metres that is whole in its own unit."""
_WHOLE_FROM_M = 2.0
_TYPED_WITHIN = 1e-6


@dataclass(frozen=True)
class Say:
    """The units and the level in which a reader is answered.

    The only place that knows metres: ``units`` is ``yards`` (feet near the hole) or ``metric``.
    """

    units: str = YARDS
    level: float = DEFAULT_LEVEL

    @property
    def metric(self) -> bool:
        """Whether lengths are said in metres."""
        return self.units == METRIC

    @cached_property
    def parts(self) -> dict[str, str]:
        """Each part in words, its edges in the reader's units.

        >>> Say("metric").parts["pitch_30_50"]
        'pitch 27-46 m'
        """
        return {part.name: self._part(part) for part in PARTS} if self.metric else PART_WORDS

    @cached_property
    def bands(self) -> dict[str, str]:
        """Each band in words.

        >>> Say("metric").bands["0-5 ft"]
        '0-1.5 m'
        """
        return {b.name: f"{self._range(b)} m" if self.metric else b.name for b in BANDS}

    def _part(self, part: Part) -> str:
        kind = part.words.split()[0]
        if kind == part.words:  # recovery is said without its range
            return kind
        if part.high_ft == inf:
            return f"{kind} {self.edge(part.low_ft, 'ft')} m and up"
        return f"{kind} {self._range(part)} m"

    def _range(self, of: Band | Part) -> str:
        low = self.edge(of.low_ft, "ft")
        return f"{low}+" if of.high_ft == inf else f"{low}-{self.edge(of.high_ft, 'ft')}"

    def edge(self, value: float, unit: str) -> str:
        """Return an edge of a band as it is said: whole, but under two metres to a tenth.

        The edge itself stays where it is, on a whole foot.
        """
        length = value * self.factor(unit)
        return f"{length:.{int(self.metric and 0 < length < _WHOLE_FROM_M)}f}"

    @property
    def zone(self) -> str:
        """How far the zone reaches: ``150 yards``."""
        return f"{self.edge(ZONE_FT / FT_PER_YD, 'yd')} {'m' if self.metric else 'yards'}"

    @property
    def sure(self) -> str:
        """The level of the ranges: ``80%``."""
        return f"{self.level:.0%}"

    @property
    def chances(self) -> str:
        """The level of the ranges as a coach says it: ``8 in 10``.

        >>> Say().chances, Say(level=0.95).chances
        ('8 in 10', '95 in 100')
        """
        tenths = round(10 * self.level, 6)
        if tenths == int(tenths):
            return f"{int(tenths)} in 10"
        return f"{100 * self.level:g} in 100"

    def part(self, name: str) -> str:
        """Return a part in words; another key (``total``) as it is."""
        return self.parts.get(name, name)

    def unit(self, unit: str) -> str:
        """Return what ``yd`` or ``ft`` is called for this reader."""
        return "m" if self.metric else unit

    def factor(self, unit: str) -> float:
        """Return what a length in ``yd`` or ``ft`` is multiplied by to be shown."""
        return _METRES[unit] if self.metric else 1.0

    def places(self, unit: str, places: int = 0) -> int:
        """Return the decimals of a length that has ``places`` in yards or feet."""
        return max(places, _PLACES[unit]) if self.metric else places

    def typed(self, yards: float) -> str:
        """Return a number that was asked for in yards, and in metres where either is in metres.

        >>> Say().typed(96), Say("metric").typed(88 / 0.9144), Say().typed(88 / 0.9144)
        ('96 yd', '88 m (96 yd)', '96 yd (88 m)')
        """
        metres = yards * M_PER_YD
        in_yards, in_metres = f"{_digits(yards)} yd", f"{_digits(metres)} m"
        if self.metric:
            return f"{in_metres} ({in_yards})"
        if _as_typed(metres) and not _as_typed(yards):
            return f"{in_yards} ({in_metres})"
        return f"{yards:g} yd"

    def length(self, value: float, unit: str, places: int = 0, *, signed: bool = False) -> str:
        """Return a length with its unit; ``places`` of yards or feet, a tenth more in metres.

        ``none`` where it is missing.

        >>> Say().length(10, "ft"), Say("metric").length(10, "ft"), Say("metric").length(97, "yd")
        ('10 ft', '3.0 m', '89 m')
        """
        if value != value:
            return "none"
        text = number(value * self.factor(unit), self.places(unit, places), signed=signed)
        return f"{text} {self.unit(unit)}"

    def words(self, column: str) -> dict[str, str]:
        """Return what to print for the values of a column that holds names; empty for others."""
        known = {"part": self.parts, "band": self.bands, "factor": CAUSE_WORDS, "verdict": VERDICTS}
        return known.get(column, {})


def _as_typed(length: float) -> bool:
    """Tell whether a length can have been typed: it has at most two decimals."""
    return abs(length - round(length, 2)) < _TYPED_WITHIN


def _digits(length: float) -> str:
    """Return a length as it was typed; one that was turned from another unit as a whole number."""
    return f"{round(length, 2) if _as_typed(length) else round(length):g}"
