"""Calls that a type checker must refuse; each line says what for."""

from __future__ import annotations

import pandas as pd

import sgzone as sg

card = pd.read_csv("card.csv")
sg.sumarise(card)  # attr-defined
sg.summarise(card, level="high")  # arg-type
sg.summarise(card, levle=0.8)  # call-arg
sg.summarise(7)  # arg-type
sg.summarise(card, benchmark=80)  # arg-type
sg.practice_plan(card, "five")  # arg-type
sg.practice_plan(card, 5).tabel.head()  # attr-defined
sg.score("card.csv")  # type-var
sg.charts.by_prat(card)  # attr-defined
sg.charts.by_part(card, units=3)  # arg-type
sg.tables.miss_points(card, sinse="2026-05-01")  # call-arg
number: int = sg.benchmark("tour")  # assignment
sg.open_store("season.duckdb").load(3)  # arg-type
sg.Green(12, 31)  # call-arg
