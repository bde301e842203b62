"""A standard fitted to own strokes, checked on rounds it has not seen, and used like any other."""

import sgzone as sg

card = read("season.csv")  # noqa: F821

rows = sg.outcomes(card, "tour")
own = sg.fit_benchmark("own-2026", "tour", rows)
held_out = sg.calibrate(rows, "tour", folds=4)
nearer = held_out.fitted_error < held_out.base_error

fair = float(own.expected("fairway", 300)) - float(sg.benchmark("tour").expected("fairway", 300))
scored = sg.score(card, own)
season = sg.trend(card, own, event="competition")
