"""What can be counted in one round, each beside the rate of the player's other rounds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.review.debrief.beside import STANDING, standing, whole_numbers
from sgzone.review.debrief.chosen import Chosen
from sgzone.review.where.counts import SAND_SAVES, UP_AND_DOWNS, ask, results, tries_of
from sgzone.season.selection import Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.store import Store

PENALTIES, THREE_PUTTS, PUTTS = "penalties", "three-putts", "putts"
FEWER_IS_BETTER = (PENALTIES, THREE_PUTTS, PUTTS)
MEASURES = (*FEWER_IS_BETTER, UP_AND_DOWNS, SAND_SAVES)
COLUMNS = ("measure", "value", "chances", *STANDING)


def tallies(store: Store, selection: Selection, chosen: Chosen) -> pd.DataFrame:
    """Return one row per thing that is counted: ``COLUMNS``, beside the other rounds.

    ``value``: how many in this round; ``chances``: holes (penalties), holes played out (putts,
    three-putts) or tries (up-and-downs, sand saves). ``usual``: what the others' rate gives for as
    many chances. Better is a lower rate of penalties and putts, a higher one of the rest; rounds
    without a chance are not compared.
    """
    counted = _counted(store, selection)
    return whole_numbers(
        pd.DataFrame(
            [_row(name, counted[counted["measure"] == name], chosen) for name in MEASURES],
            columns=list(COLUMNS),
        )
    )


def _counted(store: Store, selection: Selection) -> pd.DataFrame:
    """Return measure, round_key, value and chances, a row per round."""
    lost = ask(store, "penalties", selection, zone_ft=ZONE_FT)
    putts = ask(store, "putts", selection)
    tries = results(tries_of(store, selection))
    by_round = tries[~tries["open"]].groupby(["measure", "round_key"])["won"]
    won = by_round.agg(value="sum", chances="size").reset_index()
    named = [
        _named(lost, PENALTIES, "penalties", "holes"),
        _named(putts, THREE_PUTTS, "three_putts", "holes"),
        _named(putts, PUTTS, "putts", "holes"),
        won,
    ]
    return pd.concat(named, ignore_index=True)


def _named(rounds: pd.DataFrame, measure: str, value: str, chances: str) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "measure": measure,
            "round_key": rounds["round_key"],
            "value": rounds[value],
            "chances": rounds[chances],
        }
    )


def _row(measure: str, rounds: pd.DataFrame, chosen: Chosen) -> dict[str, object]:
    rounds = rounds.set_index("round_key")[["value", "chances"]].astype(int)
    value, chances = (int(n) for n in rounds.reindex([chosen.key], fill_value=0).iloc[0])
    others = rounds[rounds.index.isin(chosen.keys) & (rounds["chances"] > 0)]
    rates = (others["value"] / others["chances"]).to_numpy(float)
    usual = chances * others["value"].sum() / others["chances"].sum() if len(others) else np.nan
    sign = -1.0 if measure in FEWER_IS_BETTER else 1.0
    own = value / chances if chances else np.nan
    row = standing(sign * own, sign * rates, float(usual) if chances else np.nan)
    return {"measure": measure, "value": value, "chances": chances, **row}
