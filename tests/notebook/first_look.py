"""A card as it comes, looked at for the first time. `read` is the library's own reader of CSV."""

import sgzone as sg

card = read("season.csv")  # noqa: F821

problems = sg.check_card(card)
assert problems.empty

scored = sg.score(card, "tour")
same_kind = type(scored) is type(card)

strokes = sg.strokes_gained(card, "tour")
by_hand = (
    strokes[strokes["status"] == "scored"]
    .groupby("part", observed=True)["gained"]
    .agg(["size", "mean"])
)
parts = sg.summarise(card, "tour").set_index("part")
beside = by_hand.join(parts[["shots", "gained_per_shot"]])
far_out = (beside["mean"] - beside["gained_per_shot"]).abs().max()

worst_first = parts["shrunk_per_round"].is_monotonic_increasing
losing = parts.index[parts["verdict"] < "not enough shots"].tolist()
wedges = strokes.query("part == 'wedge_50_100'").pivot_table(
    index="club", values="gained", aggfunc=["mean", "count"]
)

chart = sg.charts.by_part(parts.reset_index())
chart.properties(width=500).save("parts.json")
