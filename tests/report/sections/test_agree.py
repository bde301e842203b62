"""What to agree on: open agreements first, a line each, then at least one proposal."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from sgzone.report.asked import BLOCK
from sgzone.report.sections import agree, agreed
from sgzone.season.agreed.keeping import About, add, close
from sgzone.season.store import Store
from tests.report.seasons import ask, demo, season

ADA = "Wrenna Oddlethorpe"
DAY = date(2026, 6, 30)
FIRST = "From these strokes, to start with: approach 100-150 yd ("


@pytest.fixture
def store() -> Iterator[Store]:
    with season(demo()) as store:
        yield store


def test_without_agreements_the_strokes_propose_three(store: Store) -> None:
    made = agree.section(ask(store))
    assert (made.items, made.lines) == ((), 3)
    assert made.lead[0].startswith(FIRST)
    assert agreed.section(ask(store)) is None
    assert len(agreed.tables(ask(store))[""]) == 0


def test_open_agreements_open_it_and_one_proposal_is_left(store: Store) -> None:
    add(store, ADA, "oldest", day=date(2026, 5, 1))
    add(store, ADA, "hole out", About(measure="holed", from_ft=4, to_ft=5), DAY)
    add(store, ADA, "chip close", About(part="chip_0_30"), DAY)
    add(store, ADA, "done with", day=DAY)
    add(store, ADA, "sleep", day=DAY)
    close(store, 4)
    asked = ask(store)
    made = agree.section(asked)
    assert [item.split(":")[0] for item in made.items] == [
        *("hole out", "chip close", "sleep (since 30 June 2026"),
    ]
    assert made.items[0] == (
        "hole out: 79% before, 61% since 30 June 2026 (52 to 69%, 56 putts): not settled."
    )
    assert made.lines == 1
    assert made.lead[0].startswith(FIRST)
    assert made.lead[0].count("(") == 1


def test_what_is_agreed_is_not_proposed_again(store: Store) -> None:
    add(store, ADA, "approaches", About(part="approach_100_150"), DAY)
    told = agree.section(ask(store)).lead[0]
    assert "approach" not in told


def test_a_block_counts_what_was_before_it(store: Store) -> None:
    """Its rounds are those of the last weeks; an agreement began earlier."""
    add(store, ADA, "hole out", About(measure="holed", from_ft=4, to_ft=5), DAY)
    asked = ask(store, kind=BLOCK)
    assert asked.selection.since is not None
    assert asked.agreements["shots_before"].tolist() == [33]
