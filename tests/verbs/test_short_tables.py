"""Short tables: what --wide and --rows add, their order, their signs against the data."""

from __future__ import annotations

import io
import shlex
from collections.abc import Sequence

import click
import pandas as pd
import pytest

from sgzone import cli
from sgzone.terms import CAUSE_WORDS, PART_WORDS
from sgzone.verbs import show
from sgzone.words.digits import DAGGER
from tests.demo_season import demo_file
from tests.hard.calls import CALL_AT_FAULT, FINE, Outcome, call

HELP_WIDTH = 60
PARTS = {words: code for code, words in PART_WORDS.items()}
WIDER = (
    *("summary --no-measuring", "counts", "gained --rows all", "compare --by swing", "trend"),
    *("clubs", "number 88", "practice --hours 4", "field"),
)
"""Answers whose wide table has the rows of the short one; that of why has a row a cause."""


def ask(words: str, *more: str) -> Outcome:
    done = call(*words.split(), *more, "--db", str(demo_file()))
    assert done.code == FINE, done.err
    return done


def data(words: str) -> pd.DataFrame:
    return pd.read_csv(io.StringIO(ask(words, "--format", "csv").out))


def table(words: str, monkeypatch: pytest.MonkeyPatch) -> pd.DataFrame:
    """Return the first table that an answer prints, as text under its headings."""
    found: list[pd.DataFrame] = []

    def kept(headings: Sequence[str], rows: Sequence[Sequence[str]], *_: object) -> None:
        names = [" ".join(heading.split()) for heading in headings]
        found.append(pd.DataFrame(rows, columns=names))

    monkeypatch.setattr(show, "_rich_table", kept)
    ask(words)
    return found[0]


def numbers(cells: pd.Series[str]) -> list[float]:
    return [float(cell) for cell in cells]


@pytest.mark.repeats
@pytest.mark.parametrize("words", WIDER)
def test_wide_has_every_column_of_the_short_table(
    words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    short, wide = (table(f"{words}{more}", monkeypatch) for more in ("", " --wide"))
    assert len(wide.columns) > len(short.columns)
    there = list(wide.columns)
    for name in short.columns:
        places = [place for place, other in enumerate(there) if other == name]
        told = [list(wide.iloc[:, place]) for place in places]
        same = [place for place, other in enumerate(short.columns) if other == name]
        # a mark says in short what a column of the wide table says
        plain = [[cell.rstrip(DAGGER) for cell in short.iloc[:, place]] for place in same]
        assert all(cells in told for cells in plain), name


@pytest.mark.long
def test_rows_are_counted_where_they_are_not_printed() -> None:
    assert "\n37 more rows: add --rows all.\n" in ask("rounds --rows 3").out
    assert "more row" not in ask("rounds --rows all").out
    assert "more row" not in ask("rounds --rows 40").out
    assert "\n39 more rows: add --rows all.\n" in ask("rounds --rows 1").out
    for wrong in ("0", "-1", "some"):
        done = call("rounds", "--rows", wrong, "--db", str(demo_file()))
        assert done.code == CALL_AT_FAULT
        assert "--rows" in done.err


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("summary --format csv --wide", "--wide does nothing with --format csv"),
        ("gained --format json --rows 3", "--rows does nothing with --format json"),
        ("number --from 90 --to 95 --out x.csv --wide", "--wide does nothing with --out"),
        ("gained --in x --out y --rows 3", "--rows does nothing with --out"),
        ("practice --blocks --format csv --wide", "--wide does nothing with --format csv"),
        ("summary --plays-like --wide", "--wide does nothing with a table that has no more"),
    ],
)
def test_where_they_do_nothing_they_are_refused(words: str, said: str) -> None:
    done = call(*shlex.split(words), "--db", str(demo_file()))
    assert done.code == CALL_AT_FAULT
    assert said in done.err
    assert not done.out


@pytest.mark.long
def test_the_worst_best_estimate_comes_first_and_months_in_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    parts = table("summary --no-measuring", monkeypatch)
    best = numbers(parts["best estimate"])[:-1]
    assert best == sorted(best)
    played = numbers(parts["as played"])[:-1]
    assert played != sorted(played)  # the control: another order
    assert parts["part"].iloc[-1] == "total"
    told = data("summary --no-measuring")
    assert [PART_WORDS.get(name, name) for name in told["part"]] == list(parts["part"])
    months = table("summary --by month --no-measuring", monkeypatch)["month"].tolist()
    assert months == sorted(months)
    worst = data("summary --by month --no-measuring").set_index("month")["shrunk_per_round"]
    assert not worst.is_monotonic_increasing  # the control


@pytest.mark.long
def test_what_loses_has_a_minus_in_why(monkeypatch: pytest.MonkeyPatch) -> None:
    told = data("why")
    told = told[told["column"] == "total"].set_index(["part", "factor"])["loss_per_round"]
    causes = {words: code for code, words in CAUSE_WORDS.items()}
    shown = table("why", monkeypatch)
    assert numbers(shown["as played"]) == sorted(numbers(shown["as played"]))
    for row in shown.to_dict("records"):
        part = PARTS[row["part"]]
        assert float(row["as played"]) == pytest.approx(-told[part, "total"], abs=0.006)
        if row["by it"]:
            cause = causes[row["main cause"].rstrip("?")]
            assert float(row["by it"]) == pytest.approx(-told[part, cause], abs=0.006)
            assert float(row["by it"]) < 0
    wide = table("why --wide --rows all", monkeypatch)
    wide = wide[wide["cause"] == "total"].set_index("part")["a round"].astype(float)
    assert wide.to_dict() == pytest.approx(
        {row["part"]: float(row["as played"]) for row in shown.to_dict("records")}
    )


def test_what_loses_has_a_minus_in_practice_and_is_said_to_lose(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told = data("practice --hours 4").set_index("part")["loss_per_round"]
    shown = table("practice --hours 4 --wide", monkeypatch)
    for row in shown.to_dict("records"):
        loss = told[PARTS[row["part"]]]
        assert float(row["best estimate, a round"]) == pytest.approx(-loss, abs=0.006)
        assert f"{'loses' if loss > 0 else 'gains'} {abs(loss):.2f} a round" in row["why"]


def test_the_better_of_two_has_the_plus_in_compare(monkeypatch: pytest.MonkeyPatch) -> None:
    told = data("compare --by swing")
    shown = table("compare --by swing", monkeypatch)
    for short, row in zip(shown.to_dict("records"), told.to_dict("records"), strict=True):
        value = float(short["second against first, a shot"])
        assert value == pytest.approx(row["difference"], abs=0.006)
        if "is better" in short["verdict"]:
            assert short["verdict"].startswith(row["second"] if value > 0 else row["first"])


def test_help_is_short_and_cut_nowhere() -> None:
    for name in cli.VERBS:
        verb = cli.sgzone.get_command(click.Context(cli.sgzone), name)
        assert verb is not None
        assert len(verb.get_short_help_str(limit=1000)) <= HELP_WIDTH, name
        assert max(map(len, call(name, "--help").out.splitlines())) <= 80
    listed = call("--help").out
    assert "..." not in listed.split("Commands:")[1]
    assert [line.split()[0] for line in listed.split("Commands:\n")[1].splitlines()] == [*cli.VERBS]


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("sumary", "Did you mean summary?"),
        ("practise", "Did you mean practice?"),
        ("summary --by clubs", "Did you mean club?"),
        ("compare --by swings", "Did you mean swing?"),
        ("compare --by club --part wedge-50-100x", "Did you mean wedge_50_100?"),
        ("compare --by club --lie faiway", "Did you mean fairway?"),
        ("practice --hours 4 --split putt_0_01=100", "Did you mean putt_0_10?"),
        ("summary --benchmark amateur90", "Did you mean amateur-90?"),
        ("why --player 'wrenna oddlethorp'", "Did you mean Wrenna Oddlethorpe?"),
    ],
)
def test_a_slip_is_answered_with_the_nearest(words: str, said: str) -> None:
    db = () if " " not in words else ("--db", str(demo_file()))
    done = call(*shlex.split(words), *db)
    assert done.code == CALL_AT_FAULT
    assert said in done.err


def test_what_is_near_to_nothing_is_not_guessed() -> None:
    done = call("xyzzy")
    assert done.code == CALL_AT_FAULT
    assert "Did you mean" not in done.err
    assert "sgzone --help lists the verbs." in done.err
