"""A report read as a suspicious reader does: every word and number held against the others.

A contradiction is a clear word whose range reaches 0; any word whose best estimate is on the other
side of 0; a sentence against its table, or against its table's order; a mark that is not where its
table says; a plan that another split beats. What is read is what is printed, rounded as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pandas as pd

from sgzone.report.page import Page, Panel, Section
from sgzone.stats.verdict import GAIN, LOSS, OPEN, STRENGTHS, SURE, side_of
from sgzone.words.digits import MINUS
from sgzone.words.say import Say
from sgzone.words.tables import Table, table_of

Rows = list[dict[str, str]]

NUMBER = r"[−+-]?\d+(?:\.\d+)?"
_SHARE = re.compile(r"((?:[a-z]+ )+[\d-]+ (?:yd|ft|m)(?: and up)?|recovery) (under )?(\d+)%")
_HOLED = re.compile(
    r"From ([\d.]+) to ([\d.]+) \w+ you hole (\d+%) of (\d+) putts?; this standard holes (\d+%)"
)

DRAWN = {
    "by-part": ("summary", ("part",), "part"),
    "hours": ("hours", (), "part"),
    "plays-like": ("plays_like", (), "part"),
    "grid-off-green": ("summary", ("band", "lie"), "from"),
    "grid-putts": ("summary", ("band", "lie"), "from"),
    "proximity-": ("proximity", (), "lie"),
    "why-putts": ("putts", (), "distance (mean), ft"),
    "why-causes": ("causes", (), "cause"),
    "ladder": ("clubs", (), "club"),
    "trend-total": ("season", (), "part"),
}
"""Panel, or how its name begins -> the answer its data are, its keys, a heading that all have."""


def rows_of(table: Table) -> Rows:
    """Return a printed table row by row; of headings that come twice the second has a mark."""
    found: list[str] = []
    for heading in table.headings:
        last = found[-1] if found else ""
        found.append(f"{heading} of {last}" if heading in ("range", *found) else heading)
    return [dict(zip(found, row, strict=True)) for row in table.rows]


def value(text: str) -> float:
    """Return a number as it is printed."""
    return float(text.replace(MINUS, "-").replace(",", "").rstrip("%"))


def ends(text: str) -> tuple[float, float]:
    """Return the two ends of a printed range."""
    low, high = text.split(" to ")
    return value(low), value(high)


def section(page: Page, name: str) -> Section | None:
    """Return a section of a page by its name."""
    return next((one for one in page.sections if one.id == name), None)


def main_table(one: Section) -> Table:
    """Return a section's first table."""
    return one.figures[0].table if one.figures else one.tables[0]


def judged(page: Page) -> Rows:
    """Return the printed table by part; nothing where no stroke has a value."""
    where = section(page, "where")
    rows = rows_of(main_table(where)) if where and (where.figures or where.tables) else []
    return [row for row in rows if "verdict" in row]  # the first rounds have none


def words_against_ranges(page: Page) -> list[str]:
    """Return the verdicts that the printed numbers beside them speak against, and a wrong order."""
    found, before = [], float("-inf")
    for row in judged(page):
        side, best = side_of(row["verdict"]), row.get("best estimate", "")
        if not best:
            continue
        if value(best) < before:
            found.append(f"{row['part']} at {best} comes after {before}")
        before = value(best)
        if side != OPEN and value(best) * (1 if side == GAIN else -1) < 0:
            found.append(f"{row['part']}: {row['verdict']} at {best}")
        low, high = ends(row["range of best estimate"])
        if side != OPEN and STRENGTHS[row["verdict"]] == SURE and low < 0 < high:
            found.append(f"{row['part']}: {row['verdict']} from {low} to {high}")
        if not low <= value(best) <= high:
            found.append(f"{row['part']}: {best} is outside {low} to {high}")
    return found


def summary_against_table(page: Page) -> list[str]:
    """Return what the sentences at the top say otherwise than the table by part."""
    by_part = {row["part"]: row for row in judged(page)}
    order, found = list(by_part), []
    for sentence in page.summary:
        lead = sentence.lower().removeprefix("probably ")
        sides = {"most goes in": LOSS, "clearest losses": LOSS}
        sides |= {"most comes from": GAIN, "clearest gains": GAIN}
        side = next((side for start, side in sides.items() if lead.startswith(start)), OPEN)
        if side == OPEN:
            continue
        told = [
            (name, size)
            for name in _names(sentence, by_part)
            for size in re.findall(rf"{re.escape(name)} \(({NUMBER})", sentence)
        ]
        for name, size in told:
            row = by_part[name]
            if abs(value(row["best estimate"])) != value(size):
                found.append(f"{name}: {size} in a sentence, {row['best estimate']} in the table")
            if side_of(row["verdict"]) != side:
                found.append(f"{name}: told as a {side}, {row['verdict']} in the table")
        places = [order.index(name) for name, _ in told]
        if places != sorted(places, reverse=side == GAIN):
            found.append(f"not in the order of the table: {sentence}")
    return found


def drawn_against_printed(page: Page) -> list[str]:
    """Return every number that a chart draws otherwise than its table prints it."""
    return [
        f"{panel.id}: {wrong}"
        for one in page.sections
        for figure in one.figures
        for panel in figure.panels
        for wrong in _panel(panel, figure.table)
    ]


def _panel(panel: Panel, table: Table) -> Iterator[str]:
    known = next((DRAWN[name] for name in DRAWN if panel.id.startswith(name)), None)
    if known is None:
        return
    answer, keys, heading = known
    printed = rows_of(table)
    sets = panel.chart.to_dict().get("datasets", {}).values()
    for data in (pd.DataFrame(rows) for rows in sets if rows):
        if not is_answer(data, panel):
            continue
        for row in rows_of(table_of(_readable(data, answer), answer, Say(), keys=keys)):
            same = [other for other in printed if _same(row, other, heading)]
            if not same:
                yield f"{row.get(heading)} is drawn and not in the table"
            elif not any(_agree(row, other) for other in same):
                yield f"{row} is drawn, {same[0]} printed"


def is_answer(data: pd.DataFrame, panel: Panel) -> bool:
    """Tell the data a chart was asked for from its helpers: lines at 0, curves, single balls."""
    needed = {
        "hours": {"share"},
        "proximity-": {"finish_ft", "inside"},
        "why-putts": {"benchmark_share"},
        "plays-like": {"score_low"},
        "trend-total": {"joint_low"},
        "why-causes": {"factor", "folded"},
    }
    wanted = next((need for name, need in needed.items() if panel.id.startswith(name)), {"shots"})
    return wanted <= set(data)


def _readable(data: pd.DataFrame, answer: str) -> pd.DataFrame:
    """Return a chart's data as its table takes them: the last round of a season, whole causes."""
    if answer == "season":
        return data.tail(1).drop(columns=["low", "high", "shots"])
    if answer == "plays_like":
        return data.assign(part=data["name"])
    if answer == "causes":  # ranges are drawn a round, printed a shot; the rest is in no table
        return data[data["folded"] == 0].drop(columns=["low", "high"])
    if answer == "hours":  # its losses are drawn in tooltips alone, and with the sign of the data
        return data.drop(columns=["low", "high"])
    return data


def _same(row: dict[str, str], other: dict[str, str], heading: str) -> bool:
    """Return whether a printed row is the drawn one: the same names in the columns of both."""
    more = ("part",) if heading == "cause" else ()
    names = [h for h in (heading, *more, "from", "lie", "swing") if h in row and h in other]
    return all(row[name] == other[name] for name in names)


def _agree(row: dict[str, str], other: dict[str, str]) -> bool:
    common = [h for h in row if h in other and re.match(rf"^{NUMBER}", row[h])]
    return all(row[heading] == other[heading] for heading in common)


def plan_against_alternatives(page: Page) -> list[str]:
    """Return where the plan's sentences, table and splits disagree, and a split that beats it."""
    one = section(page, "practice")
    if one is None or not one.figures or not one.tables:
        return []
    by_part = {row["part"]: row for row in rows_of(main_table(one))}
    splits = {row["split of the hours"]: row for row in rows_of(one.tables[0])}
    found = []
    worth = value(splits["plan"]["worth a round"])
    for name, row in splits.items():
        if value(row["worth a round"]) > worth + 0.01:
            found.append(f"the split {name} at {row['worth a round']} beats the plan at {worth}")
    for name, under, share in _SHARE.findall(one.lead[0]):
        name = name.split(" weeks: ")[-1].removeprefix("and ").strip()
        if name in by_part and by_part[name]["suggested"] != f"{under}{share}%":
            found.append(f"{name}: {under}{share}% told, {by_part[name]['suggested']} in the table")
    told = re.match(rf"Worth about ({NUMBER})", one.lead[-1])
    if told and abs(value(told[1]) - worth) > 0.006:
        found.append(f"worth {told[1]} in the sentence, {worth} in the table")
    tossed = {p for note in one.notes if note.startswith("Toss-up") for p in _names(note, by_part)}
    for name, row in by_part.items():
        if row["why"].endswith("toss-up") != (name in tossed) and tossed:
            found.append(f"{name}: {row['why']} in the table, toss-ups are {sorted(tossed)}")
    return found


def losses_of_plan(page: Page) -> list[str]:
    """Return the parts whose loss is one thing in the plan and another in the table by part."""
    one, judgement = section(page, "practice"), {row["part"]: row for row in judged(page)}
    if one is None or not one.figures:
        return []
    found = []
    for row in rows_of(main_table(one)):
        best = judgement.get(row["part"], {}).get("best estimate", "")
        told = re.search(rf"(loses|gains) ({NUMBER})", row["why"])
        if best and told and value(best) != value(told[2]) * (-1 if told[1] == "loses" else 1):
            found.append(f"{row['part']}: the plan has {told[0]}, the table {best}")
    return found


def _names(sentence: str, known: dict[str, dict[str, str]]) -> list[str]:
    """Return the parts that a sentence names, in its order."""
    low = sentence.lower()
    return sorted(
        (name for name in known if name.lower() in low), key=lambda n: low.index(n.lower())
    )


def agreed_against_verdicts(page: Page) -> list[str]:
    """Return the proposals that call a part otherwise than the table by part does."""
    one, judgement = section(page, "agree"), {row["part"]: row for row in judged(page)}
    if one is None:
        return []
    return [
        f"{name}: {verdict} to agree on, {judgement[name]['verdict']} in the table"
        for name in _names(one.lead[0], judgement)
        for verdict in re.findall(rf"{re.escape(name)} \(([a-z ]+?)[,)]", one.lead[0])
        if verdict != judgement[name]["verdict"]
    ]


def causes_against_table(page: Page) -> list[str]:
    """Return the causes that are named with another amount than their table has, or gain."""
    one, judgement = section(page, "why"), {row["part"]: row for row in judged(page)}
    if one is None or not one.figures or "cause" not in one.figures[0].table.headings:
        return []
    rows = {(row["part"], row["cause"]): row for row in rows_of(one.figures[0].table)}
    found, summed = [], {}
    for (part, cause), row in rows.items():
        if cause != "total":
            summed[part] = summed.get(part, 0.0) + value(row["a round"])
    for part, total in summed.items():
        whole = rows[part, "total"]["a round"]
        if abs(total - value(whole)) > 0.005 * 10:
            found.append(f"{part}: causes add up to {total:.2f}, the total is {whole}")
        if part in judgement and judgement[part]["as played"] != whole:
            found.append(f"{part}: {judgement[part]['as played']} as played, {whole} by its causes")
    for sentence in one.lead:
        for name in _names(sentence.split(":")[0], judgement)[:1]:
            told = re.search(rf"(?:by|is) (.+?)[:,] ({NUMBER})", sentence)
            if told is None:
                continue
            row = rows[name, told[1]]
            if value(row["a round"]) > 0 or abs(-value(row["a round"]) - value(told[2])) > 0.051:
                found.append(f"{sentence} but {row['a round']} in the table")
            if side_of(judgement[name]["verdict"]) != LOSS:
                found.append(f"{name}: a cause is named, {judgement[name]['verdict']}")
    return found


def trend_against_table(page: Page) -> list[str]:
    """Return a change that is told and not judged, or judged and not told, or another amount."""
    one = section(page, "trend")
    if one is None or not one.figures:
        return []
    rows = {row["part"]: row for row in rows_of(one.figures[0].table)}
    moved = {name for name, row in rows.items() if row["verdict"].startswith("real")}
    told = {
        name: sentence
        for sentence in one.lead
        for name in rows
        if sentence.lower().startswith(f"{'all strokes' if name == 'total' else name}:".lower())
    }
    found = [f"{name}: told and not in the table" for name in set(told) - moved]
    found += [f"{name}: {rows[name]['verdict']} and not told" for name in moved - set(told)]
    if not moved and not any("No real change" in s or "Too few" in s for s in one.lead):
        found.append(f"nothing moved, and told is: {one.lead}")
    for name in moved & set(told):
        amount = re.search(rf": ({NUMBER}) strokes", told[name])
        if amount and value(amount[1]) != value(rows[name]["change"]):
            found.append(f"{told[name]} but {rows[name]['change']} in the table")
        low, high = ends(rows[name]["range (95 in 100)"])
        if low < 0 < high:
            found.append(f"{name}: a real change from {low} to {high}")
    return found


def putts_against_table(page: Page) -> list[str]:
    """Return the sentences of putts holed that have other shares than their row of the table."""
    one = section(page, "why")
    figures = [f for f in one.figures if f.panels[0].id == "why-putts"] if one else []
    if one is None or not figures:
        return []
    rows, found = rows_of(figures[0].table), []
    for sentence in one.lead:
        told = _HOLED.match(sentence)
        if told is None:
            continue
        near, far, holed, putts, theirs = told.groups()
        for row in rows:
            at = value(row[figures[0].table.headings[0]])
            if not value(near) <= at < value(far) or row["putts"] != putts:
                continue  # a longer step than those of the table, or another
            if (row["holed"], row["benchmark"]) != (holed, theirs):
                found.append(f"{sentence} but {row['holed']} and {row['benchmark']} in the table")
    return found


WALKS: tuple[Callable[[Page], list[str]], ...] = (
    words_against_ranges,
    summary_against_table,
    drawn_against_printed,
    plan_against_alternatives,
    losses_of_plan,
    agreed_against_verdicts,
    causes_against_table,
    trend_against_table,
    putts_against_table,
)


def contradictions(page: Page) -> list[str]:
    """Return everything in a report that speaks against something else in it."""
    return [f"{walk.__name__}: {wrong}" for walk in WALKS for wrong in walk(page)]
