"""Random sequences of all that is done to season files, each step held to the model.

Hypothesis draws the sequences and shortens one that fails. `tests/hard/test_model.py` runs a few
hundred, `tests/hard/night.py --sequences N` as many as there is time for.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import ClassVar

import pandas as pd
from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from sgzone.errors import CallError, DataError, Problem
from sgzone.season.opening import FIRST_VERSION, SCHEMA_VERSION
from sgzone.season.store import Store, open_store
from tests.hard.calls import DATA_AT_FAULT, FINE, Outcome
from tests.hard.seasons_calls import age, flag, reported, started, told_that_it_is_open, ways
from tests.hard.seasons_compare import differences, scored_apart, summed_apart
from tests.hard.seasons_files import DAYS, PLAYERS, Plan, Sheet, plans, sheet_of
from tests.hard.seasons_model import Loaded, Model, RefusedError
from tests.hard.server import Server

STEPS = 10
CALLS_ELSEWHERE = 2  # in a sequence: each costs as much as three steps here
OLD = range(FIRST_VERSION, SCHEMA_VERSION)
THERE = "is in the season file already, with other values"
COPIED = "strokes of this round are those of"

CARDS = plans(("shot",))
OTHERS = plans(("log", "test", "bag"))
REPLACE = st.booleans()
PLACE = st.integers(0, 11)
NOT_THERE = 11


class Seasons(RuleBasedStateMachine):
    """A folder of season files, each with its model; one of them is in hand.

    ``servers``: two other processes, none where everything is to happen in this one. ``scoring``:
    whether the strokes gained are compared as well, half of the time that a sequence takes.
    """

    servers: ClassVar[tuple[Server, ...]] = ()
    scoring: ClassVar[bool] = True
    sequences: ClassVar[int] = 0
    steps: ClassVar[int] = 0

    def __init__(self) -> None:
        super().__init__()
        type(self).sequences += 1
        self._folder = tempfile.TemporaryDirectory(prefix="seasons-")
        self.folder = Path(self._folder.name)
        self.files: dict[Path, Model] = {}
        self.store: Store | None = None
        self.reading = False
        self.written: list[Sheet] = []
        self.scored: tuple[Path | None, pd.DataFrame | None] = (None, None)
        self.copies = 0
        self.calls_elsewhere = 0
        self.raced = False

    def teardown(self) -> None:
        try:
            if self.files and self.scoring and sys.exc_info()[0] is None:
                assert not (apart := summed_apart(self._open(), self.model)), apart
        finally:
            self._close()
            self._folder.cleanup()

    @property
    def model(self) -> Model:
        return self.files[self.path]

    @initialize(how=st.sampled_from(("new", "empty", *("stocked",) * 4, *OLD)))
    def begin(self, how: str | int) -> None:
        """Start with a new season file, a copy of an empty one or a full one, or an older one."""
        self.path = self.folder / "season.duckdb"
        if how == "new":
            open_store(self.path).close()
            self.files[self.path] = Model()
            return
        whole, model, sheets = started(stocked=how != "empty")
        self.path.write_bytes(whole)
        self.files[self.path] = model.copy()
        self.written = [*sheets]
        if isinstance(how, int):
            age(self.path, how)

    # What is done to the season file in hand

    @rule(plan=CARDS, replace=REPLACE)
    def load_card(self, plan: Plan, replace: bool) -> None:
        self._load(sheet_of(plan), replace)

    @rule(plan=CARDS)
    def load_one_more(self, plan: Plan) -> None:
        self._load(sheet_of(plan), False)

    @rule(plan=OTHERS, replace=REPLACE)
    def load_other(self, plan: Plan, replace: bool) -> None:
        self._load(sheet_of(plan), replace)

    @precondition(lambda self: self.written)
    @rule(place=PLACE, replace=REPLACE)
    def load_again(self, place: int, replace: bool) -> None:
        self._load(self.written[place % len(self.written)], replace)

    @rule(place=PLACE, new=st.sampled_from((*PLAYERS, "Dora Fink", " Cy ")))
    def rename(self, place: int, new: str) -> None:
        """Rename a player who is there; now and then one who is not."""
        there = sorted(self.model.everybody())
        old = there[place % len(there)] if there and place < NOT_THERE else "Nobody"
        store = self._open()
        before, wanted = self._tried(lambda model: model.rename(old, new.strip()))
        if isinstance(wanted, RefusedError):
            self._refused(lambda: store.rename(old, new), wanted)
        else:
            assert store.rename(old, new) == wanted, before

    @rule(place=PLACE)
    def delete(self, place: int) -> None:
        """Delete a round; now and then one that is not there."""
        rounds = self.model.rounds()
        at = (PLAYERS[0], DAYS[0], 9)
        if len(rounds) and place < NOT_THERE:
            at = tuple(rounds.iloc[place % len(rounds)][["player", "date", "round"]])
        store = self._open()
        _, wanted = self._tried(lambda model: model.delete(*at))
        if isinstance(wanted, RefusedError):
            self._refused(lambda: store.delete(*at), wanted)
        else:
            assert store.delete(*at) == wanted

    @rule(reading=st.booleans())
    def backup(self, reading: bool) -> None:
        """Copy the file, which may be a copy itself, and look at the copy."""
        target, store = self._copied(reading=reading), self._open(reading=reading)
        with open_store(target, read_only=True) as copy:
            assert not (apart := differences(copy, self.model)), apart
        self._refused(lambda: store.backup(target), RefusedError())

    @rule(times=st.integers(1, 3), reading=st.booleans())
    def go_on_with_a_copy(self, times: int, reading: bool) -> None:
        """Copy the file and go on with the copy, or with a copy of that one, and so on."""
        for _ in range(times):
            self._take(self._copied(reading=reading))

    @precondition(lambda self: len(self.files) > 1)
    @rule(place=PLACE)
    def restore(self, place: int) -> None:
        """Copy another file over the one in hand."""
        others = [path for path in self.files if path != self.path]
        source = others[place % len(others)]
        self._close()
        shutil.copyfile(source, self.path)
        self.files[self.path] = self.files[source].copy()

    @precondition(lambda self: len(self.files) > 1)
    @rule(place=PLACE)
    def take_another(self, place: int) -> None:
        self._take([*self.files][place % len(self.files)])

    @rule(reading=st.booleans())
    def open_again(self, reading: bool) -> None:
        self._close()
        self._open(reading=reading)

    @rule(version=st.sampled_from([*OLD]), reading=st.booleans())
    def upgrade(self, version: int, reading: bool) -> None:
        """Make the file one of an older schema; it is taken on when it is opened next."""
        self._close()
        age(self.path, version)
        self.scored = (None, None)
        self._open(reading=reading)

    # What other processes do

    @precondition(lambda self: self.servers and self.calls_elsewhere < CALLS_ELSEWHERE)
    @rule(plan=st.one_of(CARDS, OTHERS), replace=REPLACE, meanwhile=st.sampled_from("-rw"))
    def load_elsewhere(self, plan: Plan, replace: bool, meanwhile: str) -> None:
        """Another process loads, while the file is open here to read, to write, or not at all."""
        sheet = sheet_of(plan)
        done = self._elsewhere(meanwhile, "load", self._write(sheet), *flag(replace))
        if meanwhile != "-":
            told_that_it_is_open(done)
        else:
            _, wanted = self._tried(lambda model: model.load(sheet, replace=replace))
            assert reported(done) == wanted or isinstance(wanted, RefusedError), done
            assert done.code == (FINE if isinstance(wanted, Loaded) else DATA_AT_FAULT), done

    @precondition(lambda self: self.servers and self.calls_elsewhere < CALLS_ELSEWHERE)
    @rule(meanwhile=st.sampled_from("-rw"))
    def look_elsewhere(self, meanwhile: str) -> None:
        """Another process reads: two may, beside one that writes none."""
        done = self._elsewhere(meanwhile, "rounds", "--format", "json")
        if meanwhile == "w":
            told_that_it_is_open(done)
        else:
            rounds = self.model.rounds().sort_values(["player", "date", "round"])
            assert done.json() == rounds.to_dict("records"), done

    @precondition(lambda self: self.servers and not self.raced)
    @rule(one=CARDS, other=st.one_of(CARDS, OTHERS), new=st.sampled_from((True, True, False)))
    def load_at_once(self, one: Plan, other: Plan, new: bool) -> None:
        """Two processes load at once: each load is in the file, or was said to have failed.

        ``new``: into a file that does not exist, which both would make.
        """
        self.raced = True
        self._close()
        if new:
            self.path = self.folder / "raced.duckdb"
            self.files[self.path] = Model()
        sheets = [sheet_of(one), sheet_of(other)]
        done = self._both([self._write(sheet, f"{n}") for n, sheet in enumerate(sheets)])
        left = [*ways(self.model, sheets, done)]
        if not self.path.exists():
            assert new, "the season file is gone"
            assert all(outcome.code == DATA_AT_FAULT for outcome in done), done
            open_store(self.path).close()
        store = self._open()
        apart = [differences(store, way) for way in left]
        assert [] in apart, (done, apart)
        self.files[self.path] = left[apart.index([])]

    @invariant()
    def agrees(self) -> None:
        """Compare all that can be seen; what is scored, where something changed."""
        type(self).steps += 1
        store = self._open(reading=self.reading)
        apart = differences(store, self.model)
        path, strokes = self.path, self.model.rows.get("shot")
        new = self.scored[0] != path or self.scored[1] is not strokes
        if self.scoring and new and not apart:
            apart = scored_apart(store, self.model)
            self.scored = (path, strokes)
        assert not apart, apart

    def _load(self, sheet: Sheet, replace: bool) -> None:
        store, path = self._open(), self._write(sheet)
        _, wanted = self._tried(lambda model: model.load(sheet, replace=replace))
        if isinstance(wanted, RefusedError):
            self._refused(lambda: store.load(path, replace=replace), wanted)
            return
        report = store.load(path, replace=replace)
        assert (report.file, report.kind) == (sheet.name, sheet.kind)
        assert Loaded(report.rows, report.in_place) == wanted

    def _tried(
        self, change: Callable[[Model], int | Loaded]
    ) -> tuple[Model, int | Loaded | RefusedError]:
        """Change the model, or leave it as it is where the change must be refused."""
        before, after = self.model, self.model.copy()
        try:
            result: int | Loaded | RefusedError = change(after)
        except RefusedError as refusal:
            return before, refusal
        self.files[self.path] = after
        return before, result

    def _refused(self, call: Callable[[], object], wanted: RefusedError) -> None:
        problems: Sequence[Problem] | None = None
        refused = CallError if wanted.call else DataError
        try:
            call()
        except refused as wrong:
            problems = getattr(wrong, "problems", ())
        assert problems is not None, "not refused"
        if wanted.there or wanted.copies:
            found = [[p.row for p in problems if sign in p.wrong] for sign in (THERE, COPIED)]
            assert found == [[*wanted.there], [*wanted.copies]], problems

    def _write(self, sheet: Sheet, folder: str = "") -> Path:
        """Write a file; two that are loaded at once lie in folders of their own."""
        self.written.append(sheet)
        path = self.folder / folder / sheet.name
        path.parent.mkdir(exist_ok=True)
        path.write_text(sheet.text, encoding="utf-8")
        return path

    def _copied(self, *, reading: bool) -> Path:
        self.copies += 1
        target = self.folder / f"copy{self.copies}.duckdb"
        assert self._open(reading=reading).backup(target) == target
        self.files[target] = self.model.copy()
        return target

    def _take(self, path: Path) -> None:
        self._close()
        self.path = path

    def _open(self, *, reading: bool = False) -> Store:
        """Return the store of the file in hand; one that is open to write will do for both."""
        if self.store is not None and self.reading and not reading:
            self._close()
        if self.store is None:
            self.store, self.reading = (
                open_store(self.path, read_only=reading, create=False),
                reading,
            )
        return self.store

    def _close(self) -> None:
        store, self.store, self.reading = self.store, None, False
        if store is not None:
            store.close()
            log = self.path.with_name(self.path.name + ".wal")
            assert not log.exists() or not log.stat().st_size, "what was stored is not in the file"

    def _elsewhere(self, meanwhile: str, verb: str, *words: str | Path) -> Outcome:
        self.calls_elsewhere += 1
        self._close()
        if meanwhile != "-":
            self._open(reading=meanwhile == "r")
        return self.servers[0].call(verb, *words, "--db", self.path)

    def _both(self, paths: list[Path]) -> list[Outcome]:
        with ThreadPoolExecutor(2) as pool:
            calls = [
                pool.submit(server.call, "load", path, "--db", self.path)
                for server, path in zip(self.servers, paths, strict=True)
            ]
            return [call.result() for call in calls]


def run(
    machine: type[Seasons], sequences: int, number: int, *, steps: int = STEPS, shrink: bool = False
) -> None:
    """Run so many sequences from a seed, and raise what the first that fails raises.

    ``shrink``: shorten that one first, which may take five minutes.
    """
    phases = (Phase.generate, Phase.shrink) if shrink else (Phase.generate,)
    run_state_machine_as_test(
        seed(number)(machine),
        settings=settings(
            max_examples=sequences,
            stateful_step_count=steps,
            database=None,
            deadline=None,
            phases=phases,
            report_multiple_bugs=False,
            suppress_health_check=list(HealthCheck),
            derandomize=False,
            print_blob=False,
        ),
    )
