"""The contenders of the benchmarks answer the same question: their answers agree."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench import loading, reviewing
from tests.bench.contenders import CONTENDERS, RACES
from tests.bench.material import FAULTS, Material, make

STROKES = 3_000


@pytest.fixture(scope="module")
def material(tmp_path_factory: pytest.TempPathFactory) -> Material:
    return make(tmp_path_factory.mktemp("bench"), STROKES)


@pytest.mark.long
def test_every_way_to_score_gives_the_same_strokes_and_sum(material: Material) -> None:
    agreeing = [name for race in RACES for name in race.agree]
    assert len(agreeing) >= 10
    rows, total = CONTENDERS["score"](material)
    assert rows >= STROKES
    assert abs(total) > 1
    for name in agreeing:
        assert CONTENDERS[name](material) == (rows, pytest.approx(total, rel=1e-9)), name


def test_a_clean_card_loads_and_a_dirty_one_is_refused(material: Material) -> None:
    rows = loading.load_clean(material)[0]
    assert rows == loading.plain_clean(material)[0] >= STROKES
    assert loading.load_dirty(material)[0] >= len(FAULTS)
    assert reviewing.summary(material)[0] == rows


def test_a_larger_size_repeats_the_simulated_one(
    material: Material, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.bench.material.SIMULATED", STROKES)
    (tmp_path / f"{STROKES}.duckdb").write_bytes(material.season.read_bytes())
    rows, total = CONTENDERS["score"](material)
    thrice = make(tmp_path, 3 * STROKES)
    assert CONTENDERS["score"](thrice) == (3 * rows, pytest.approx(3 * total))
    assert CONTENDERS["score, numpy by hand"](thrice) == (3 * rows, pytest.approx(3 * total))
