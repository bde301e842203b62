"""A season file with bytes changed: one clear sentence, or the answer of the sound file.

Each batch runs in a process of its own: a crash of the database itself must show as one.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

from tests.hard.calls import call, call_apart, inside

FILES = int(os.environ.get("SGZONE_FUZZ", "40"))
VERBS = (("gained", "--format", "csv"), ("rounds", "--format", "csv"), ("load", "more.csv"))


def batch(seed: int, count: int) -> None:
    """Damage ``sound.duckdb`` in the present folder and ask, ``count`` times."""
    draw = random.Random(seed)
    sound = Path("sound.duckdb").read_bytes()
    answers = {words: call(*words, "--db", "sound.duckdb").out for words in VERBS[:2]}
    for _ in range(count):
        data = bytearray(sound)
        for _ in range(draw.choice((1, 3, 30))):
            place = draw.choice((draw.randrange(12_288), draw.randrange(len(data))))
            data[place] ^= 1 << draw.randrange(8)
        if draw.random() < 0.2:
            del data[draw.randrange(len(data)) :]
        Path("damaged.duckdb").write_bytes(data)
        words = draw.choice(VERBS)
        done = call(*words, "--db", "damaged.duckdb")
        assert done.code in (0, 1)
        if done.code == 0 and words in answers:
            assert done.out == answers[words]
        Path("damaged.duckdb.wal").unlink(missing_ok=True)


def test_damaged_bytes(tmp_path: Path) -> None:
    with inside(tmp_path):
        assert call("template", "card.csv").code == 0
        assert call("load", "card.csv", "--db", "sound.duckdb").code == 0
        more = Path("card.csv").read_text().replace("Example Player", "Another")
        Path("more.csv").write_text(more.replace("2026-05-14", "2026-05-15"))
        assert call_apart("check", "more.csv", cwd=tmp_path).code == 0
    seed = random.randrange(10**9) if "SGZONE_FUZZ" in os.environ else 1
    script = f"from tests.hard.test_damaged_season import batch; batch({seed}, {FILES})"
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert done.returncode == 0, f"seed {seed}: {done.stderr[-3000:]}"
