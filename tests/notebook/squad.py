"""Two players in one table, each against the standard nearest to their own game."""

import pandas as pd

import sgzone as sg

season = sg.simulate_season(rounds=20, seed=1).card
other = sg.simulate_season(rounds=20, seed=2).card
both = pd.concat([season.assign(player="Bo"), other.assign(player="Ada")])
cards = as_table(both)  # noqa: F821

parts = sg.summarise(cards, "auto", by=["part"])
like = sg.plays_like(cards)
ways = sg.plan_number(cards, 97)
beside = sg.field_strength(cards)

players = {
    name: frame["player"].unique().tolist()
    for name, frame in {"parts": parts, "like": like, "ways": ways, "beside": beside}.items()
}
alone = sg.plan_number(cards, 97, player="Bo")
of_bo = ways[ways["player"] == "Bo"].drop(columns="player").reset_index(drop=True)
same = of_bo.equals(alone)
