"""How things are said to one reader: in yards or metres, with ranges of one level."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sgzone.terms import (
    CAUSE_WORDS,
    DEFAULT_LEVEL,
    band_words,
    part_words,
    zone_words,
)
from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.words.digits import number

YARDS, METRIC = "yards", "metric"
_METRES = {"yd": M_PER_YD, "ft": M_PER_FT}
_PLACES = {"yd": 0, "ft": 1}
"""Decimals of a length in metres that is whole in its own unit."""


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
        """Each part in words; the edges of bands in the reader's units."""
        return part_words(self.units)

    @cached_property
    def bands(self) -> dict[str, str]:
        """Each band in words."""
        return band_words(self.units)

    @property
    def zone(self) -> str:
        """How far the zone reaches: ``150 yards``."""
        return zone_words(self.units)

    @property
    def sure(self) -> str:
        """The level of the ranges: ``80%``."""
        return f"{self.level:.0%}"

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
        """Return a number of yards that was asked for: as it was typed, or in metres."""
        return self.length(yards, "yd") if self.metric else f"{yards:g} yd"

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
        return {"part": self.parts, "band": self.bands, "factor": CAUSE_WORDS}.get(column, {})
