"""The large fuzz run: ``python -m tests.hard.night --cards 100000`` (`make fuzz`).

With ``--sequences N`` random sequences of all that is done to season files instead.

Runs batch after batch, each from a seed of its own, and goes on after a fault: the cases in hand
are kept in a folder with the traceback, and the run ends with exit code 1. One line per batch says
how many cases ran, so a run that is stopped early has said what it did.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import sys
import tempfile
import time
import traceback
from collections.abc import Sequence
from pathlib import Path

import click
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from sgzone.cards import clock
from tests.conftest import TODAY
from tests.hard.calls import inside
from tests.hard.seasons_machine import Seasons
from tests.hard.seasons_machine import run as run_sequences
from tests.hard.server import Server
from tests.hard.trials import TRIALS, Desk, Trial, run

BATCH = 100  # cases; a batch ends at its first fault, so the rest of it is lost
SEQUENCES, LONG = 50, 25  # of a batch; steps of each
ONE_IN = 5
MOST_FAULTS = 50  # then something is wrong everywhere, and more of the same teaches nothing
CASES = ("fuzz.*", "damaged.*", "own.*")


def main(words: Sequence[str] | None = None) -> int:
    """Run the trials in their shares; return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cards", type=int, default=100_000, help="cases in all, at least")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="stop after so long")
    parser.add_argument("--seed", type=int, default=None, help="of the first batch")
    parser.add_argument("--faults", type=Path, default=Path("fuzz-faults"), help="where they go")
    parser.add_argument("--sequences", type=int, default=0, help="sequences instead of cards")
    asked = parser.parse_args(words)
    first = random.randrange(10**9) if asked.seed is None else asked.seed
    if asked.sequences:
        return _sequences(asked.sequences, asked.seconds, first, asked.faults.resolve())
    begin = time.monotonic()
    faults = 0
    os.environ.setdefault(clock.VARIABLE, TODAY)
    with tempfile.TemporaryDirectory() as folder, Server() as server:
        keep = asked.faults.resolve()
        with inside(Path(folder)):
            desk = Desk(server.call, ONE_IN)
            while (done := desk.done.total()) < asked.cards:
                if time.monotonic() - begin > asked.seconds or faults >= MOST_FAULTS:
                    break
                number = first + done
                size = min(BATCH, asked.cards - done)
                faults += _batch(desk, number, size, keep)
                _say(desk, faults, time.monotonic() - begin, number)
    click.echo(f"end: {desk.done.total()} cases, {faults} faults")
    return int(faults > 0)


def _batch(desk: Desk, number: int, size: int, keep: Path) -> int:
    """Run each trial its share of a batch; return how many found a fault."""
    return sum(
        not _passes(desk, trial, number, max(1, round(share * size)), keep)
        for trial, share in TRIALS.items()
    )


def _sequences(wanted: int, most: float, first: int, keep: Path) -> int:
    """Run sequences batch by batch; a fault is kept with the steps that led to it."""
    begin, faults, done, steps = time.monotonic(), 0, 0, 0
    with Server() as one, Server() as other:
        while done < wanted and faults < MOST_FAULTS and time.monotonic() - begin < most:

            class Machine(Seasons):
                servers = (one, other)

            try:
                run_sequences(Machine, min(SEQUENCES, wanted - done), first + done, steps=LONG)
            except Exception:
                faults += 1
                _keep(keep / f"sequences-{first + done}")
            click.echo(
                f"{done + Machine.sequences} sequences, {steps + Machine.steps} steps "
                f"({faults} faults) in {time.monotonic() - begin:.0f} s; seed {first + done}"
            )
            done, steps = done + Machine.sequences, steps + Machine.steps
    click.echo(f"end: {done} sequences, {faults} faults")
    return int(faults > 0)


def _passes(desk: Desk, trial: Trial, number: int, size: int, keep: Path) -> bool:
    @seed(number)
    @settings(
        max_examples=size,
        database=None,
        deadline=None,
        derandomize=False,
        phases=(Phase.generate,),  # a shrunk case costs minutes
        suppress_health_check=list(HealthCheck),
    )
    @given(data=st.data())
    def cases(data: st.DataObject) -> None:
        run(trial, desk, data)

    try:
        cases()
    except Exception:
        _keep(keep / f"{trial.__name__}-{number}")
        return False
    return True


def _keep(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "traceback.txt").write_text(traceback.format_exc(), encoding="utf-8")
    for pattern in CASES:
        for case in Path().glob(pattern):
            shutil.copyfile(case, folder / case.name)
    click.echo(f"FAULT: see {folder}")


def _say(desk: Desk, faults: int, seconds: float, number: int) -> None:
    done = desk.done.total()
    ends = ", ".join(f"{code}: {n}" for code, n in sorted(desk.ends.items()))
    click.echo(
        f"{done} cases ({faults} faults) in {seconds:.0f} s, {1000 * seconds / done:.0f} ms each; "
        f"seed {number}; exit codes {ends}"
    )


if __name__ == "__main__":
    sys.exit(main())
