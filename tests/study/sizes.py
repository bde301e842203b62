"""The two sizes of a study: the whole one for its figures, a small one for every change."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import pytest


@dataclass(frozen=True)
class Size:
    """How much of a study is done, and what chance may then do to a rate it sees."""

    small: bool

    def of(self, whole: int, small: int) -> int:
        """Return how many seasons, shots or samples to draw."""
        return small if self.small else whole

    def room(self, rate: float, n: int) -> float:
        """Return three standard errors of a rate in n seasons, 0 in the whole study.

        The limits of the whole one have its own standard errors in them.
        """
        return 3 * float(np.sqrt(rate * (1 - rate) / n)) if self.small else 0.0

    def least(self, rate: float, n: int) -> float:
        """Return the least that n seasons may show where ``rate`` is the least that is true."""
        return rate - self.room(rate, n)

    def most(self, rate: float, n: int) -> float:
        """Return the most that n seasons may show where ``rate`` is the most that is true."""
        return rate + self.room(rate, n)


WHOLE, SMALL = Size(small=False), Size(small=True)


def by_size(whole: Iterable[object], small: Iterable[object]) -> list[object]:
    """Return parameters (size, value): the values of the whole study, and those of the small."""
    return [
        *(pytest.param(WHOLE, one, marks=pytest.mark.study, id=f"whole-{one}") for one in whole),
        *(
            pytest.param(SMALL, one, marks=pytest.mark.small_study, id=f"small-{one}")
            for one in small
        ),
    ]
