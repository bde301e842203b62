"""Sentences about a season as a whole: title, how much, where, what is left open."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.harmless import cut
from sgzone.stats.verdict import (
    GAIN,
    LEVEL,
    LIKELY,
    LOSS,
    NOT_SETTLED,
    PROBABLE_GAIN,
    PROBABLE_LOSS,
    STRENGTHS,
    SURE,
    side_of,
)
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH
from sgzone.words.digits import count, estimate, listed, span
from sgzone.words.say import Say
from sgzone.words.where import _named

_NAME_ROOM = 28  # columns of a player's name

NO_ROUNDS = "There are no rounds in this selection, so there is nothing to say yet."


def title(player: str, say: Say) -> str:
    """Return the title of the page."""
    return f"{player or 'No player yet'}: the strokes from {say.zone} in"


def no_parts(say: Say) -> str:
    """Return that no stroke has a value."""
    return f"No stroke from {say.zone} or less has a value, so nothing can be drawn here."


def subtitle(first: date | None, last: date | None, rounds: int, holes: int, against: str) -> str:
    """Return what the page covers."""
    if first is None or last is None:
        return "No rounds in this selection."
    days = span(first, last)
    what = f"{count(rounds, 'round')}, {count(holes, 'hole')}"
    return f"{what}, {days}, against {benchmark_words(against)}"


def whose(sizes: pd.DataFrame) -> str:
    """Return whose rounds a chart shows.

    ``sizes``: the rounds as ``scoring.gained.round_sizes``.
    """
    if sizes.empty:
        return NO_ROUNDS
    players = list(sizes["player"].unique())
    who = player_words(players[0]) if len(players) == 1 else f"{len(players)} players"
    what = f"{count(len(sizes), 'round')}, {count(int(sizes['holes'].sum()), 'hole')}"
    return f"{who}: {what}, {span(sizes['date'].min().date(), sizes['date'].max().date())}."


def player_words(player: str) -> str:
    """Return the name of a player over a chart, cut where it is long."""
    return cut(player, _NAME_ROOM, "…") or "No player yet"


def against_words(against: str, say: Say, *, ranges: bool) -> str:
    """Return what a chart is against, and the level of its intervals where it has some."""
    name = cut(against, _NAME_ROOM, "…")
    return (
        f"Against {benchmark_words(name)}; intervals {say.sure}."
        if ranges
        else (f"Against {benchmark_words(name)}.")
    )


def benchmark_words(name: str) -> str:
    """Return a benchmark in a sentence."""
    return f"the {name} benchmark"


def season(
    total: pd.Series,
    parts: pd.DataFrame,
    rounds: int,
    against: str,
    say: Say,
) -> list[str]:
    """Return the season in three sentences at most: how much, where, what is left open.

    ``total``: the row of all strokes; ``parts``: the summary by part, worst loss per round first.
    """
    said = [_how_much(total, rounds, against, say)]
    if total["verdict"] == NOT_ENOUGH:
        return [*said, _too_few(parts, say)]
    return [*said, _where(parts, say), _left_open(parts, say)]


def _how_much(total: pd.Series, rounds: int, against: str, say: Say) -> str:
    shots, value = int(total["shots"]), float(total["gained_per_round"])
    if shots == 0:
        return no_parts(say)
    played, strokes = count(rounds, "round"), count(shots, "stroke")
    if total["verdict"] == NOT_ENOUGH:
        return (
            f"Over {played} and {strokes} from {say.zone} or less there is too little to judge: "
            f"{NOT_ENOUGH}."
        )
    size = _size(total, say)
    if value < 0:
        return (
            f"Over {played} and {strokes} from {say.zone} or less, {size} strokes a round were "
            f"lost against {benchmark_words(against)}; the {say.sure} interval is in brackets."
        )
    return (
        f"Over {played} and {strokes} from {say.zone} or less, {size} strokes a round were gained "
        f"against {benchmark_words(against)}; the {say.sure} interval is in brackets."
    )


def _size(row: pd.Series, say: Say) -> str:
    value, low, high = row[["gained_per_round", "low_per_round", "high_per_round"]].astype(float)
    return estimate(value, low, high, say.level)


def _too_few(parts: pd.DataFrame, say: Say) -> str:
    most = parts.sort_values("shots", ascending=False, kind="stable").head(1)
    if most.empty:
        return "Write down more rounds before asking where strokes go."
    name, shots = say.parts[most.iloc[0]["part"]], int(most.iloc[0]["shots"])
    return (
        f"The part with the most strokes is {name} ({shots}); a verdict needs {MIN_SHOTS} strokes "
        f"over {MIN_ROUNDS} rounds, so this page shows counts and draws no conclusion."
    )


def _where(parts: pd.DataFrame, say: Say) -> str:
    sides, strengths = parts["verdict"].map(side_of), parts["verdict"].map(STRENGTHS)
    for strength, lead in ((SURE, ""), (LIKELY, "Nothing is a clear loss or gain; ")):
        losses = parts[(sides == LOSS) & (strengths == strength)]
        gains = parts[(sides == GAIN) & (strengths == strength)].iloc[::-1]
        said = [
            _most(rows, side, strength, say)
            for rows, side in ((losses, LOSS), (gains, GAIN))
            if len(rows)
        ]
        if said:
            more = _probably(parts, say) if strength == SURE else []
            text = lead + "; ".join(said + more) + "."
            return text[0].upper() + text[1:]
    return "No part of the game is a clear or even a probable loss or gain: the season cannot tell."


def _probably(parts: pd.DataFrame, say: Say) -> list[str]:
    """Return the parts that are probable losses or gains beside the clear ones."""
    said = []
    for verdict, verb in ((PROBABLE_LOSS, "lost"), (PROBABLE_GAIN, "gained")):
        rows = parts[parts["verdict"] == verdict]
        if len(rows):
            said.append(f"probably {verb} too: {listed(_named(rows['part'], say))}")
    return said


_MOST = {
    LOSS: "most goes in {first}, {size} a round, a {strength} loss",
    GAIN: "most comes from {first}, {size} a round, a {strength} gain",
}
_MOST_AND = {
    LOSS: "most goes in {first}, {size} a round, a {strength} loss, then in {others}",
    GAIN: "most comes from {first}, {size} a round, a {strength} gain, then from {others}",
}


def _most(rows: pd.DataFrame, side: str, strength: str, say: Say) -> str:
    first, *others = _named(rows["part"].iloc[:3], say)
    fields = {"first": first, "size": _size(rows.iloc[0], say), "strength": strength}
    if not others:
        return _MOST[side].format(**fields)
    return _MOST_AND[side].format(**fields, others=listed(others))


def _left_open(parts: pd.DataFrame, say: Say) -> str:
    said = []
    for verdict, words in (
        (LEVEL, "level with the benchmark and can be left alone"),
        (NOT_SETTLED, "not settled: neither a loss nor a gain is shown"),
        (NOT_ENOUGH, "too few shots to judge"),
    ):
        chosen = (parts["verdict"] == verdict) & (parts["shots"] > 0)
        names = _named(parts.loc[chosen, "part"], say)
        if names:
            said.append(f"{listed(names)}: {words}")
    if not said:
        return "Every part has strokes enough for a verdict, and none is level with the benchmark."
    text = "; ".join(said) + "."
    return text[0].upper() + text[1:]


def block_title(player: str, say: Say) -> str:
    """Return the title of the report on the last weeks."""
    return f"{player or 'No player yet'}: the last weeks from {say.zone} in"


def block_note(rounds: int, weeks: float) -> str:
    """Return what so short a time can and cannot say."""
    return (
        f"This looks at {count(rounds, 'round')} of {weeks:.0f} weeks alone: intervals are wide, "
        "and the season's report has more to go on."
    )
