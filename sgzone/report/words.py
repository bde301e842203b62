"""Every sentence the report can say, with its variants for weak evidence.

A loss is said as strokes lost, never as a minus.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pandas as pd

from sgzone.review.measuring import HANGS
from sgzone.terms import MIN_SHOTS, NOT_ENOUGH, band_words, metres, part_words, zone_words
from sgzone.units import FT_PER_YD
from sgzone.words.digits import (
    DAGGER,
    PUBLISHED,
    count,
    estimate,
    interval_words,
    listed,
    number,
    short_length,
    span,
)

Words = tuple[str, ...]

READ_PARTS = (
    "Orange bars, left of the line: strokes lost per round; blue bars, right of it: gained.",
    "The thin line is the interval, the words are the verdict.",
)
LEANS = (
    "holds 0, yet the verdict names a side: it is about the value adjusted for few shots, which "
    "leans on the player's other parts."
)
GREY_PARTS = "Grey bars: neither is shown, or too few shots to judge."
HOVER_GRID = "Hover for the value as played, with its interval."
READ_GRID = (
    "Strokes gained per shot, adjusted for few shots; n is the number of shots.",
    "Grey cells have too few for a value.",
    HOVER_GRID,
)
READ_FINISH = (
    "One mark a stroke. The scale is stretched near the hole, and panels differ in scale.",
)
READ_PROXIMITY = (
    *READ_FINISH,
    "A ball on the green gained below the dashed line and lost above it.",
)
HALF_IS_NOT_ENOUGH = (
    "Half the balls inside break-even is not enough to be level: a missed green costs more than a "
    "close ball wins."
)
GRID_IS_NOISY = (
    "With this many cells one or two stand out by luck: look for a row or a column, not for one "
    "cell."
)
MANY_CELLS = 10
NO_ROUNDS = "There are no rounds in this selection, so there is nothing to say yet."
NO_GRID = "There are no strokes to set in a grid."
NO_PROXIMITY = "No stroke at a green has a known finish, so proximity cannot be shown."
NO_BREAK_EVEN = (
    "This benchmark has no break-even proximity, because it lacks the green or the lies; the "
    "finishes are shown by themselves."
)
MARKED = {
    "some": f"{DAGGER} The benchmark's value here is not published but fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
    "all": f"{DAGGER} No benchmark value here is published: they are fitted, derived, "
    "extrapolated or uncertain; the numbers say which.",
}


def title(player: str, units: str = "yards") -> str:
    """Return the title of the page."""
    return f"{player or 'No player yet'}: the strokes from {zone_words(units)} in"


def no_parts(units: str = "yards") -> str:
    """Return that no stroke has a value."""
    return f"No stroke from {zone_words(units)} or less has a value, so nothing can be drawn here."


def subtitle(first: date | None, last: date | None, rounds: int, holes: int, against: str) -> str:
    """Return what the page covers."""
    if first is None or last is None:
        return "No rounds in this selection."
    days = span(first, last)
    what = f"{count(rounds, 'round')}, {count(holes, 'hole')}"
    return f"{what}, {days}, against {benchmark_words(against)}"


def benchmark_words(name: str) -> str:
    """Return a benchmark in a sentence."""
    return f"the {name} benchmark"


def season(
    total: pd.Series,
    parts: pd.DataFrame,
    rounds: int,
    against: str,
    level: float,
    units: str = "yards",
) -> list[str]:
    """Return the season in three sentences at most: how much, where, what is left open.

    ``total``: the row of all strokes; ``parts``: the summary by part, worst loss per round first.
    """
    said = [_how_much(total, rounds, against, level, units)]
    if total["verdict"] == NOT_ENOUGH:
        return [*said, _too_few(parts, units)]
    return [*said, _where(parts, level, units), _left_open(parts, units)]


def _how_much(total: pd.Series, rounds: int, against: str, level: float, units: str) -> str:
    shots, value = int(total["shots"]), float(total["gained_per_round"])
    if shots == 0:
        return no_parts(units)
    strokes = f"{count(shots, 'stroke')} from {zone_words(units)} or less"
    start = f"Over {count(rounds, 'round')} and {strokes}"
    if total["verdict"] == NOT_ENOUGH:
        return f"{start} there is too little to judge: {NOT_ENOUGH}."
    low, high = float(total["low_per_round"]), float(total["high_per_round"])
    size = estimate(value, low, high, level)
    verb = "lost" if value < 0 else "gained"
    sure = f"; the {level:.0%} interval is in brackets"
    return f"{start}, {size} strokes a round were {verb} against {benchmark_words(against)}{sure}."


def _too_few(parts: pd.DataFrame, units: str) -> str:
    most = parts.sort_values("shots", ascending=False, kind="stable").head(1)
    if most.empty:
        return "Write down more rounds before asking where strokes go."
    name, shots = part_words(units)[most.iloc[0]["part"]], int(most.iloc[0]["shots"])
    return (
        f"The part with the most strokes is {name} ({shots}); a verdict needs 10 strokes over 5 "
        "rounds, so this page shows counts and draws no conclusion."
    )


def _where(parts: pd.DataFrame, level: float, units: str) -> str:
    for strength, lead in (("clear", ""), ("probable", "Nothing is a clear loss or gain; ")):
        losses = parts[parts["verdict"] == f"{strength} loss"]
        gains = parts[parts["verdict"] == f"{strength} gain"].iloc[::-1]
        said = [
            _most(rows, verb, strength, level, units)
            for rows, verb in ((losses, "goes in"), (gains, "comes from"))
            if len(rows)
        ]
        if said:
            more = _probably(parts, units) if strength == "clear" else []
            text = lead + "; ".join(said + more) + "."
            return text[0].upper() + text[1:]
    return "No part of the game is a clear or even a probable loss or gain: the season cannot tell."


def _probably(parts: pd.DataFrame, units: str) -> list[str]:
    """Return the parts that are probable losses or gains beside the clear ones."""
    said = []
    for noun, verb in (("loss", "lost"), ("gain", "gained")):
        rows = parts[parts["verdict"] == f"probable {noun}"]
        if len(rows):
            said.append(f"probably {verb} too: {listed(_named(rows['part'], units))}")
    return said


def _most(rows: pd.DataFrame, verb: str, strength: str, level: float, units: str) -> str:
    first, names = rows.iloc[0], _named(rows["part"].iloc[:3], units)
    size = estimate(
        first["gained_per_round"], first["low_per_round"], first["high_per_round"], level
    )
    noun = "loss" if verb == "goes in" else "gain"
    others = names[1:]
    more = f", then in {listed(others)}" if verb == "goes in" and others else ""
    more = f", then from {listed(others)}" if verb == "comes from" and others else more
    return f"most {verb} {names[0]}, {size} a round, a {strength} {noun}{more}"


def _left_open(parts: pd.DataFrame, units: str) -> str:
    said = []
    for verdict, words in (
        ("level", "level with the benchmark and can be left alone"),
        ("not settled", "not settled: neither a loss nor a gain is shown"),
        (NOT_ENOUGH, "too few shots to judge"),
    ):
        chosen = (parts["verdict"] == verdict) & (parts["shots"] > 0)
        names = _named(parts.loc[chosen, "part"], units)
        if names:
            said.append(f"{listed(names)}: {words}")
    if not said:
        return "Every part has strokes enough for a verdict, and none is level with the benchmark."
    text = "; ".join(said) + "."
    return text[0].upper() + text[1:]


def _named(parts: pd.Series, units: str) -> list[str]:
    words = part_words(units)
    return [words[part] for part in parts]


def parts_lead(parts: pd.DataFrame, level: float, units: str = "yards") -> Words:
    """Return what the parts are and what hangs on measuring."""
    known = parts["low_per_round"].notna().any()
    sure = f"; intervals {level:.0%}" if known else ""
    judged = (parts["verdict"] != NOT_ENOUGH).any()
    order = "worst first" if judged else "lowest first, an order of luck so far"
    said = [f"Strokes gained per round of 18 holes, by part of the game, {order}{sure}."]
    hangs = parts[parts["measuring"] == HANGS] if "measuring" in parts else parts[:0]
    names = _named(hangs["part"], units)
    if names:
        verdicts = "verdict hangs" if len(names) == 1 else "verdicts hang"
        said.append(
            f"The {verdicts} on how distances were measured for {listed(names)}: distances a "
            "tenth longer or shorter, or plain measuring errors, change what is said."
        )
    elif "measuring" in parts and (parts["verdict"] != NOT_ENOUGH).any():
        said.append(
            "No verdict changes with distances a tenth longer or shorter, or with plain measuring "
            "errors."
        )
    return tuple(said)


def read_parts(verdicts: pd.Series) -> Words:
    """Return how to read the chart by part; of grey bars only where there are some."""
    sided = verdicts.str.endswith(("loss", "gain"))
    return READ_PARTS if sided.all() else (*READ_PARTS, GREY_PARTS)


def leaning(parts: pd.DataFrame, units: str = "yards") -> Words:
    """Return which parts have a side though the interval of their own strokes holds 0, and why."""
    sided = parts["verdict"].str.endswith(("loss", "gain"))
    held = parts[sided & (parts["low_per_round"] < 0) & (parts["high_per_round"] > 0)]
    if held.empty:
        return ()
    return (f"The interval of {listed(_named(held['part'], units))} {LEANS}",)


def parts_alt(parts: pd.DataFrame, units: str = "yards") -> str:
    """Return the chart by part in words."""
    ranges = interval_words(parts["low_per_round"], parts["high_per_round"], 2)
    said = [
        f"{part} {number(value, 2, signed=True)} ({ends}), {verdict}"
        for part, value, ends, verdict in zip(
            _named(parts["part"], units),
            parts["gained_per_round"],
            ranges,
            parts["verdict"],
            strict=True,
        )
    ]
    return f"Bars of strokes gained per round by part: {'; '.join(said)}."


def grid_lead(grid: pd.DataFrame, units: str = "yards") -> Words:
    """Return which cells stand out, and how many say nothing."""
    judged = grid[grid["verdict"] != NOT_ENOUGH]
    if judged.empty:
        return ("No cell has the shots for a verdict; the counts are shown.",)
    thin = len(grid) - len(judged)
    few = f" {thin} of {len(grid)} cells have too few shots to say anything." if thin else ""
    losses = judged[judged["verdict"] == "clear loss"].sort_values("shrunk_per_shot", kind="stable")
    gains = judged[judged["verdict"] == "clear gain"].sort_values(
        "shrunk_per_shot", ascending=False, kind="stable"
    )
    said = []
    if len(losses):
        said.append(f"A shot costs most from {_cells(losses, units)}.")
    if len(gains):
        said.append(f"A shot gains most from {_cells(gains, units)}.")
    return (" ".join(said or ["No cell is a clear loss or gain."]) + few,)


def _cells(rows: pd.DataFrame, units: str) -> str:
    return listed(_said_cells(rows.head(3), units))


def _said_cells(rows: pd.DataFrame, units: str) -> list[str]:
    words = band_words(units)
    columns = (rows[name] for name in ("lie", "band", "shrunk_per_shot", "shots"))
    return [
        f"{lie} {words[band]} ({number(value, 2, signed=True)}, n {shots})"
        for lie, band, value, shots in zip(*columns, strict=True)
    ]


def grid_notes(grid: pd.DataFrame) -> Words:
    """Return what to beware of where there are cells enough for some to stand out by luck."""
    judged = int((grid["verdict"] != NOT_ENOUGH).sum())
    return (GRID_IS_NOISY,) if judged >= MANY_CELLS else ()


def grid_alt(grid: pd.DataFrame, what: str, units: str = "yards") -> str:
    """Return a grid in words. ``what``: what the cells are."""
    judged = grid[grid["shrunk_per_shot"].notna()]
    thin = len(grid) - len(judged)
    few = f" {count(thin, 'cell')} with too few shots." if thin else ""
    said = "; ".join(_said_cells(judged, units)) or "no cell has enough shots for a value"
    return f"Grid of strokes gained per shot, {what}: {said}.{few}"


def marked(basis: pd.Series) -> Words:
    """Return what the mark beside a number means, where one stands."""
    known = basis[basis != ""]
    other = known != PUBLISHED
    if not other.any():
        return ()
    return (MARKED["all" if other.all() else "some"],)


def proximity_lead(medians: pd.DataFrame, level: float, units: str = "yards") -> Words:
    """Return where the median finish is shown to lie beyond or inside break-even."""
    if medians["break_even_ft"].isna().all():
        return (NO_BREAK_EVEN,)
    known = medians[medians["finish_ft"].notna() & medians["break_even_ft"].notna()]
    if known.empty:
        return ("No lie and distance has the shots to set a median against break-even.",)
    beyond = known[known["low"] > known["break_even_ft"]]
    inside = known[known["high"] < known["break_even_ft"]]
    said = ["Break-even is the putt from which a stroke gained exactly nothing."]
    for rows, where in ((beyond, "farther out than break-even"), (inside, "inside break-even")):
        if len(rows):
            said.append(
                f"The median ball finishes {where}, the {level:.0%} interval clear of it, from "
                f"{_places(rows, units)}."
            )
    rest = len(known) - len(beyond) - len(inside)
    if rest:
        verb = "does" if rest == 1 else "do"
        said.append(
            f"{rest} of {count(len(known), 'cell')} {verb} not show on which side the median lies."
        )
    said.append(HALF_IS_NOT_ENOUGH)
    return tuple(said)


def _places(rows: pd.DataFrame, units: str) -> str:
    """Return the lies with their distances, neighbouring bands joined."""
    said = []
    for lie, bands in rows.groupby("lie", sort=False):
        spans: list[list[float]] = []
        for low, high in zip(bands["from_yd"], bands["to_yd"], strict=True):
            if spans and spans[-1][1] == low:
                spans[-1][1] = high
            else:
                spans.append([low, high])
        ends = [f"{_edge(low, units)}-{_edge(high, units)}" for low, high in spans]
        said.append(f"{lie} {listed(ends)} {'m' if units == 'metric' else 'yd'}")
    return listed(said)


def _edge(yards: float, units: str) -> str:
    return metres(yards * FT_PER_YD) if units == "metric" else f"{yards:.0f}"


def proximity_alt(lie: str, strokes: int, medians: pd.DataFrame, units: str) -> str:
    """Return one panel in words."""
    known = medians[medians["finish_ft"].notna()]
    columns = (known[name] for name in ("band", "finish_ft", "break_even_ft"))
    words = band_words(units)
    said = [
        f"from {words[band]} median {short_length(finish, units)}, "
        f"break-even {short_length(even, units)}"
        for band, finish, even in zip(*columns, strict=True)
    ]
    what = "; ".join(said) or "no distance has enough shots for a median"
    return f"Finish against start distance, {lie}, {count(strokes, 'stroke')}: {what}."


def left_out(points: pd.DataFrame, drawn: Sequence[str]) -> Words:
    """Return which lies have too few strokes for a panel."""
    missing = points[~points["lie"].isin(drawn)].groupby("lie").size()
    if missing.empty:
        return ()
    names = [f"{lie} ({size})" for lie, size in missing.items()]
    return (f"Not drawn, under {MIN_SHOTS} strokes: {listed(names)}.",)
