"""Parts and bands in words, in yards and feet and in metres."""

from __future__ import annotations

import re
from itertools import pairwise
from math import inf

import pytest

from sgzone.terms import BANDS, PART_WORDS, PARTS, band_words, metres, part_words, zone_words
from sgzone.units import M_PER_FT


def test_yards_are_the_words_of_the_vocabulary() -> None:
    assert part_words() == PART_WORDS
    assert band_words()["50-75 yd"] == "50-75 yd"
    assert zone_words() == "150 yards"


@pytest.mark.parametrize(
    ("part", "words"),
    [
        ("approach_100_150", "approach 91-137 m"),  # 91.44 and 137.16 m
        ("sand_0_50", "sand 0-46 m"),  # 45.72 m
        ("recovery", "recovery"),
        ("putt_0_10", "putts 0-3 m"),
        ("putt_30_up", "putts 9 m and up"),  # 9.144 m
    ],
)
def test_a_part_in_metres(part: str, words: str) -> None:
    assert part_words("metric")[part] == words
    assert zone_words("metric") == "137 m"


def test_metric_edges_are_the_edges_and_every_name_stays_apart() -> None:
    said = [*part_words("metric").values(), *band_words("metric").values()]
    assert not [text for text in said if re.search(r"\b(yd|ft)\b", text)]
    for cells, words in ((PARTS, part_words("metric")), (BANDS, band_words("metric"))):
        for cell in cells:
            edges = [float(edge) for edge in re.findall(r"\d+(?:\.\d)?", words[cell.name])]
            if edges:
                assert edges[0] == pytest.approx(cell.low_ft * M_PER_FT, abs=0.5)
            if len(edges) > 1:
                assert edges[1] == pytest.approx(cell.high_ft * M_PER_FT, abs=0.5)
            assert (cell.high_ft == inf) == (len(edges) == 1)
    assert len(set(part_words("metric").values())) == len(PARTS)
    for green in (True, False):  # 30 ft are 10 yd: a putt and a chip may share their words
        bands = [band for band in BANDS if band.on_green == green]
        assert len({band_words("metric")[band.name] for band in bands}) == len(bands)
    off = [band for band in BANDS if not band.on_green]
    assert all(metres(one.high_ft) == metres(other.low_ft) for one, other in pairwise(off))
