"""Parts and bands in words, in yards and feet and in metres."""

from __future__ import annotations

import re
from itertools import pairwise
from math import inf

import pytest

from sgzone.terms import BANDS, PART_WORDS, PARTS
from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.words.say import Say

METRES = Say("metric")


def test_yards_are_the_words_of_the_vocabulary() -> None:
    assert Say().parts == PART_WORDS
    assert Say().bands["50-75 yd"] == "50-75 yd"
    assert Say().zone == "150 yards"


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
    assert METRES.parts[part] == words
    assert METRES.zone == "137 m"


def test_metric_edges_are_the_edges_and_every_name_stays_apart() -> None:
    said = [*METRES.parts.values(), *METRES.bands.values()]
    assert not [text for text in said if re.search(r"\b(yd|ft)\b", text)]
    for cells, words in ((PARTS, METRES.parts), (BANDS, METRES.bands)):
        for cell in cells:
            edges = [float(edge) for edge in re.findall(r"\d+(?:\.\d)?", words[cell.name])]
            if edges:
                assert edges[0] == pytest.approx(cell.low_ft * M_PER_FT, abs=0.5)
            if len(edges) > 1:
                assert edges[1] == pytest.approx(cell.high_ft * M_PER_FT, abs=0.5)
            assert (cell.high_ft == inf) == (len(edges) == 1)
    assert len(set(METRES.parts.values())) == len(PARTS)
    for green in (True, False):  # 30 ft are 10 yd: a putt and a chip may share their words
        bands = [band for band in BANDS if band.on_green == green]
        assert len({METRES.bands[band.name] for band in bands}) == len(bands)
    off = [band for band in BANDS if not band.on_green]
    edges = [(METRES.edge(band.low_ft, "ft"), METRES.edge(band.high_ft, "ft")) for band in off]
    assert all(one[1] == other[0] for one, other in pairwise(edges))


def test_a_number_that_was_asked_for_keeps_its_digits() -> None:
    assert (Say().typed(97.5), METRES.typed(97.5)) == ("97.5 yd", "89 m (97.5 yd)")
    of_metres = 88.5 / M_PER_YD
    assert METRES.typed(of_metres) == "88.5 m (97 yd)"
    assert Say().typed(of_metres) == "97 yd (88.5 m)"
