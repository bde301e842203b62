"""Calls that a type checker has nothing against; it says what each gives."""

from __future__ import annotations

from datetime import date
from typing import assert_type

import pandas as pd
import polars as pl

import sgzone as sg

card = pd.read_csv("card.csv")
assert_type(sg.score(card, "tour"), pd.DataFrame)
assert_type(sg.score(pl.read_csv("card.csv"), sg.benchmark("tour")), pl.DataFrame)
with sg.open_store("season.duckdb") as store:
    assert_type(store, sg.Store)
    store.load(card, player="Ada")
    store.relation("SELECT 1").fetchall()
    assert_type(sg.summarise(store, "tour", by="part", level=0.9), pd.DataFrame)
    assert_type(sg.clubs(store, since="2026-05-01", until=date(2026, 6, 1)), pd.DataFrame)
plan = sg.practice_plan([card, card], 5, settings=sg.Settings(recoverable=0.3))
assert_type(plan, sg.Plan)
assert_type(plan.table, pd.DataFrame)
assert_type(sg.benchmark("tour"), sg.Benchmark)
sg.plan_number(card, 97, green=sg.Green(12, 31, 8, 24, ("sand", "rough", "water", "rough")))
sg.charts.by_part(sg.summarise(card), level=0.8).save("parts.svg")
sg.tables.miss_points(card, player="Ada")
try:
    sg.check_card("card.csv")
except sg.DataError as wrong:
    assert_type(wrong.problems, tuple[sg.Problem, ...])
