"""A few of the trials of `make fuzz`, and the fork server held to real processes."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests.hard import night
from tests.hard.calls import call_apart, inside, judged
from tests.hard.hostile import plain_tables, spoiled_tables
from tests.hard.server import HangError, Server
from tests.hard.trials import (
    TRIALS,
    Desk,
    Trial,
    a_damaged_season_file,
    any_call_ends_in_a_sentence,
    run,
)

SMALL = 30
MORE = {a_damaged_season_file: 20}  # cheap: most are refused at the door
BOTH_WAYS = 6  # a process each, of some 600 ms
FIXED = settings(
    derandomize=True,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),  # a shrunk case costs minutes
)


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    """The fork server, once for all trials."""
    with Server() as server:
        yield server


@pytest.fixture(scope="module")
def desk(server: Server) -> Iterator[Desk]:
    """A folder with an empty season file, one with a card in it, and a card of every kind."""
    with tempfile.TemporaryDirectory() as folder, inside(Path(folder)):
        yield Desk(server.call, one_in=2)


@pytest.mark.long
@pytest.mark.parametrize("trial", TRIALS, ids=lambda trial: trial.__name__)
def test_trial(desk: Desk, trial: Trial) -> None:
    @settings(FIXED, max_examples=MORE.get(trial, max(round(TRIALS[trial] * SMALL), 3)))
    @given(data=st.data())
    def cases(data: st.DataObject) -> None:
        run(trial, desk, data)

    before = desk.done.total()
    cases()
    assert desk.done.total() > before


@pytest.mark.long
@settings(FIXED, max_examples=BOTH_WAYS)
@given(data=st.data())
def test_a_fork_answers_as_a_process_of_its_own(desk: Desk, data: st.DataObject) -> None:
    text = data.draw(st.one_of(spoiled_tables(), plain_tables())).csv()
    Path("fuzz.csv").write_text(text, encoding="utf-8", newline="")
    words = data.draw(
        st.sampled_from(
            (
                ("load", "fuzz.csv", "--db", "forked.duckdb"),
                ("check", "fuzz.csv", "--format", "json"),
                ("check", "fuzz.csv"),
            )
        )
    )
    forked = desk.call(*words)
    Path("forked.duckdb").unlink(missing_ok=True)
    assert call_apart(*words, cwd=Path.cwd()) == forked
    Path("forked.duckdb").unlink(missing_ok=True)


@pytest.mark.parametrize(
    ("code", "out", "err"),
    [
        (-11, "", "sgzone: no"),  # killed by a signal
        (3, "", "sgzone: no"),
        (1, "", "Traceback (most recent call last):"),
        (1, "lines", " \n"),
        (0, "\x1b[31mred", ""),
    ],
)
def test_what_is_a_fault_of_any_call(code: int, out: str, err: str) -> None:
    with pytest.raises(AssertionError):
        judged(code, out, err)
    assert judged(1, "lines", "sgzone: no").code == 1


def test_a_call_that_hangs_is_a_fault(server: Server) -> None:
    with pytest.raises(HangError):
        server.call("--help", still=0)
    assert server.call("--version").code == 0  # and the next call is served


@pytest.mark.long
def test_the_large_run_goes_on_after_a_fault_and_says_what_it_did(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def faulty(desk: Desk, data: st.DataObject) -> None:
        Path("fuzz.csv").write_text("the case")
        assert data.draw(st.booleans()) is None

    monkeypatch.setattr(night, "TRIALS", {faulty: 0.5, any_call_ends_in_a_sentence: 0.5})
    monkeypatch.setattr(night, "BATCH", 4)
    assert night.main(["--cards", "5", "--seed", "1", "--faults", str(tmp_path)]) == 1
    said = capsys.readouterr().out
    kept = sorted(tmp_path.iterdir())
    assert [said.count("FAULT"), len(kept)] == [2, 2]
    assert (kept[0] / "fuzz.csv").read_text() == "the case"
    assert "assert" in (kept[0] / "traceback.txt").read_text()
    *_, batch, end = said.splitlines()
    cases = int(end.removeprefix("end: ").removesuffix(" cases, 2 faults"))
    assert 5 <= cases <= 9
    assert batch.startswith(f"{cases} cases (2 faults)")
