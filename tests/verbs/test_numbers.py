"""Every number, day and text that a verb takes: what is none ends in a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from sgzone.bounds import BOUNDS
from sgzone.cli import sgzone
from sgzone.resources import data_path
from sgzone.season.store import open_store
from sgzone.verbs.options import Number
from tests.hard.calls import CALL_AT_FAULT, FINE, call, inside

PARAMS = [
    (verb, param)
    for verb in sgzone.list_commands(click.Context(sgzone))
    if (command := sgzone.get_command(click.Context(sgzone), verb)) is not None
    for param in command.params
]
NUMBERS = [(verb, param) for verb, param in PARAMS if isinstance(param.type, Number)]
OUTSIDE = ("nan", "inf", "-inf", "1e308", "-1e308", "9" * 5000, "", "x", "0x1p3", "1,5")
ENOUGH = {
    "number": ("97",),
    "report": ("x.html",),
    "fit": ("--name", "squad"),
    "practice": ("--hours", "5"),
    "compare": ("--by", "club"),
    "rounds": (),
}
"""What a verb needs beside the option that is tried."""
PIN_SHEET = [
    *(f"--green-{name}" for name in ("on", "deep", "left", "wide")),
    *("--on", "--deep", "--left"),
]
INSTEAD = {
    ("number", "--from"): ("number", "--to", "180"),
    ("number", "--to"): ("number", "--from", "20", "--step", "10"),
    ("number", "--step"): ("number", "--from", "90", "--to", "100"),
    ("number", "--green-on"): ("number", "97", "--green-deep", "200"),
    ("number", "--green-left"): ("number", "97", "--green-wide", "200"),
    ("clubs", "--remind-shots"): ("clubs", "--detail", "bag"),
    ("clubs", "--remind-months"): ("clubs", "--detail", "bag"),
    ("practice", "--week"): ("practice", "--hours", "5", "--weeks", "104"),
    ("practice", "--largest-change"): ("practice", "--hours", "5", "--log"),
}
IN_TEXT = (
    *(("practice", *ENOUGH["practice"], "--ceiling", f"sand_0_50={value}") for value in OUTSIDE),
    *(("practice", *ENOUGH["practice"], "--split", f"sand_0_50={value}") for value in OUTSIDE),
    *(
        ("practice", "--what-if", f"wedge_50_100 long_short_spread {value}%")
        for value in (*OUTSIDE, "0", "101")
    ),
    *(("benchmarks", "tour", "--at", f"fairway {value}") for value in (*OUTSIDE, "0", "701")),
    *(("rounds", "--delete", "Ada", "2026-05-14", value) for value in (*OUTSIDE, "0", "10", "1.0")),
)
"""Numbers that are part of a text."""


OF_AGREEMENTS = ("--done", "--drop", "--number")
"""They name what this season file has none of."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder, the current one, with the demo's season file under its usual name."""
    folder = tmp_path_factory.mktemp("numbers")
    with inside(folder):
        with open_store(folder / "sgzone.duckdb") as store:
            for name in ("season", "practice_log", "bag"):
                store.load(data_path(f"demo/{name}.csv"))
        yield folder


def _words(verb: str, param: click.Parameter, value: str) -> tuple[str, ...]:
    if isinstance(param, click.Argument):
        return (verb, "--", value) if value.startswith("-") else (verb, value)
    start = INSTEAD.get((verb, param.opts[0]), (verb, *ENOUGH.get(verb, ())))
    return (*start, f"{param.opts[0]}={value}")


def _name(case: tuple[str, click.Parameter]) -> str:
    return f"{case[0]} {case[1].opts[0]}"


def test_the_numbers_of_the_verbs_are_all_found() -> None:
    assert len(NUMBERS) >= 30
    assert {param.type.bound for _, param in NUMBERS} <= set(BOUNDS.values())


@pytest.mark.parametrize("case", PARAMS, ids=_name)
def test_every_numeric_option_is_of_the_one_kind(case: tuple[str, click.Parameter]) -> None:
    kind = case[1].type
    if isinstance(kind, click.types.FloatParamType | click.types.IntParamType):
        assert isinstance(kind, Number), f"{_name(case)}: use verbs.options.number"
    parts = kind.types if isinstance(kind, click.Tuple) else ()
    assert not any(isinstance(part, click.types.FloatParamType) for part in parts)


@pytest.mark.parametrize("case", NUMBERS, ids=_name)
def test_what_is_no_such_number_is_said_with_its_range(
    case: tuple[str, click.Parameter], tmp_path: Path
) -> None:
    verb, param = case
    assert isinstance(param.type, Number)
    bound = param.type.bound
    beyond = [str(bound.high * 1.001 + 1), str(bound.low - 1), "-1" if bound.low >= 0 else "-101"]
    if bound.low > 0 or bound.above:
        beyond.append("0")
    if bound.whole:
        beyond.append("1.5")
    with inside(tmp_path):
        for value in (*OUTSIDE, *beyond):
            done = call(*_words(verb, param, value))
            assert (done.code, done.out) == (CALL_AT_FAULT, ""), value
            if param.opts[0] == "--week" and value.startswith("-"):
                continue  # what takes no value too reads the rest as an option of its own
            assert bound.range() in done.err, value
            assert f"such as {bound.example}" in done.err
            assert len(done.err) < 500
        assert not list(tmp_path.iterdir())


@pytest.mark.repeats
@pytest.mark.parametrize("words", IN_TEXT, ids=lambda words: " ".join(words)[:60])
def test_a_number_in_a_text_is_checked_too(words: tuple[str, ...], home: Path) -> None:
    done = call(*words)
    assert (done.code, done.out) == (CALL_AT_FAULT, "")
    assert len(done.err) < 6000


@pytest.mark.long
@pytest.mark.parametrize("case", [c for c in NUMBERS if c[0] != "report"], ids=_name)
def test_both_ends_of_a_range_have_a_sensible_answer(
    case: tuple[str, click.Parameter], home: Path
) -> None:
    verb, param = case
    assert isinstance(param.type, Number)
    bound = param.type.bound
    least = bound.low + 1e-9 if bound.above else bound.low
    for value in (least, bound.high):
        done = call(*_words(verb, param, f"{value:.10g}"), "--format", "json")
        if done.code == CALL_AT_FAULT:  # it does not go with the others: said, not computed
            assert param.opts[0] in ("--step", "--round", *PIN_SHEET, *OF_AGREEMENTS), done.err
        else:
            assert done.code == FINE
            assert "Infinity" not in done.out


@pytest.mark.long
@pytest.mark.parametrize("end", ["low", "high"])
def test_both_ends_of_all_ranges_of_a_report(end: str, home: Path) -> None:
    ends = [
        f"{param.opts[0]}={getattr(param.type.bound, end)}"
        for verb, param in NUMBERS
        if verb == "report" and isinstance(param.type, Number)
        if param.opts[0] != "--round"  # of a round's report, which has none of the others
    ]
    assert len(ends) == 3
    done = call("report", f"{end}.html", *ends)
    assert done.code == FINE
    page = Path(f"{end}.html").read_text(encoding="utf-8")
    assert not re.search(r"\b(nan|inf)\b", re.sub(r"<script.*?</script>", "", page, flags=re.S))
