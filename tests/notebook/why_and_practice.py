"""From where strokes go to what to practise: a card and its practice log, loaded once."""

import sgzone as sg

with sg.open_store() as store:
    for name in ("season", "practice_log", "test_blocks", "bag"):
        store.load(read(f"{name}.csv"))  # noqa: F821

    causes = sg.why(store, "scratch", since="2026-05-01", level=0.9)
    whole = causes[causes["column"] == "total"]
    sums = whole[whole["factor"] != "total"].groupby("part", observed=True)["loss_per_shot"].sum()
    totals = whole[whole["factor"] == "total"].set_index("part")["loss_per_shot"]
    adds_up = (sums - totals.reindex(sums.index)).abs().max()

    plan = sg.practice_plan(store, hours=5, weeks=6, target=78)
    shares = plan.table.set_index("part")["share"]

    clubs = sg.clubs(store, source="test")
    gaps = clubs.loc[clubs["gap_yd"] > 12, ["club", "swing", "gap_yd"]]
    around = ("sand", "rough", "rough", "rough")
    ways = sg.plan_number(store, 97, green=sg.Green(12, 31, 8, 24, around))

    rounds = store.relation("SELECT event, count(*) AS n FROM rounds GROUP BY event").df()

sg.charts.hours_chart(plan.table).save("hours.json")
