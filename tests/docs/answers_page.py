"""The docs' dictionary of output columns, made from ``data/answers.csv``."""

from __future__ import annotations

import pandas as pd

from sgzone.answers import BY_ROW, Column, answers, columns_of
from tests.docs.markdown import markdown
from tests.test_answers import SHOWN_ALONE

ASKED = {
    "by": "`sgzone summary --by COL`, `sg.summarise(store, by=[...])`: what strokes are grouped by",
    "auto": "`--benchmark auto`: last in the csv and json of every answer",
    "rounds": "`sgzone rounds`",
    "gained": "`sgzone gained`, `sg.strokes_gained`: a stroke a row",
    "debrief": "`sgzone debrief` as csv and json have it; `sg.debrief(...).strokes`",
    "round_parts": "`sgzone debrief` and the round's report, as a table; `sg.debrief(...)` has the "
    "numbers in `parts` and `total`",
    "round_counts": "`sgzone debrief --wide` and the round's report, as a table; "
    "`sg.debrief(...).counts`",
    "round_strokes": "`sgzone debrief` and the round's report, as a table; `best` and `worst` of "
    "`sg.debrief(...)`",
    "round_holes": "the round's report, as a table; `sg.debrief(...).holes`",
    "card_notes": "`sgzone report FILE --with-notes`",
    "page_strokes": "the list of strokes on the page of `sgzone report FILE`",
    "summary": "`sgzone summary`, `sg.summarise`: after the columns of `by` that were asked for",
    "plays_like": "`sgzone summary --plays-like`, `sg.plays_like`, and the report",
    "counts": "`sgzone counts`, `sg.counts`",
    "counts_by_band": "the report's plain counts, by band",
    "rounds_so_far": "the report of a player's first rounds: a round a row",
    "needs": "the report of a player's first rounds: what each answer takes",
    "written_down": "the report of a player's first rounds: what the card has",
    "why": "`sgzone why`, `sg.why`: a part, cause and column a row, as csv and json have it",
    "reasons": "`sgzone why`: a part a row with its main cause, as a table",
    "causes": "`sgzone why --wide` and the report's Why: a part and cause a row, as a table",
    "ratios": "`sgzone why --detail ratio`, as a table",
    "miss_costs": "`sgzone why --detail misses` and `--detail short-sided`, as a table, and the "
    "report's misses",
    "misses": "`sgzone why --detail misses` and `--detail short-sided`, as csv and json have it",
    "carry": "`sgzone why --detail carry`",
    "putting": "`sgzone why --detail putting`",
    "compare": "`sgzone compare`, `sg.compare`",
    "questions": "`sgzone clubs --detail questions` and `--detail changes`",
    "trend": "`sgzone trend`, `sg.trend`: a part and round a row, as csv and json have it",
    "season": "`sgzone trend` and the report's trend: a part a row, as a table",
    "before_after": "`sgzone trend --split-date DAY`",
    "agreements": "`sgzone agree`, `sg.agreements`",
    "field": "`sgzone field`, `sg.field_strength`",
    "clubs": "`sgzone clubs`, `sg.clubs`",
    "cover": "`sgzone clubs --detail cover`",
    "consistency": "`sgzone clubs --detail consistency`",
    "bag": "`sgzone clubs --detail bag`",
    "wear": "`sgzone clubs --detail wear`",
    "number": "`sgzone number`, `sg.plan_number`",
    "hours": "`sgzone practice`: a part a row, as a table",
    "practice": "`sgzone practice` as csv and json have it, `sg.practice_plan(...).table`",
    "splits": "`sgzone practice --wide`, under the plan; `sg.practice_plan(...).alternatives`",
    "week": "`sgzone practice --week N`, as csv and json have it",
    "week_page": "`sgzone practice --week N`, as a table, and the report's sheet for the range",
    "blocks": "`sgzone practice --blocks`",
    "what_if": "`sgzone practice --what-if CHANGE`, as csv and json have it",
    "benchmarks": "`sgzone benchmarks`",
    "curve": "`sgzone benchmarks NAME` and `sgzone benchmarks NAME --at PLACE`",
    "fitted": "`sgzone benchmarks NAME` of a curve of your own players",
    "calibration": "`sgzone fit`, `sg.calibrate(...).table`",
    "figures": "`sgzone sources`",
    "sources": "the report's sources",
    "proximity": "the report's proximity against break-even",
    "putts": "the report's putts holed",
    "sides": "`sgzone report FILE --against OTHER`: two seasons or benchmarks side by side",
    "squad": "`sgzone report FILE --kind team`",
    "squad_week": "`sgzone report FILE --kind team --since DAY`: who played, practised, changed",
    "squad_agreed": "`sgzone report FILE --kind team`: what is agreed on with each player",
    "verdicts": "the report's list of verdicts",
    "problems": "`sgzone check`, `sg.check_card(...)`",
}
"""Answer -> how it is asked for."""

HEAD = """\
# Columns of the answers

Every column that comes out of sgzone, answer by answer, in the order it is shown. What goes in
is told in the [data dictionary](data-dictionary.md). Where it is shown:

- *short*: in every table; *wide*: with `--wide` and in whole tables; *data*: in csv, json and
  Python alone.
- *table only*: made for the eye; csv, json and Python do not have it.
- csv, json and Python give numbers unrounded and lengths in the unit of the column's name;
  tables follow `--units`.
- A share is of 1, and a table shows it in percent.
- Plus is gained wherever the heading says gained; a loss above 0 costs strokes.
- A range has two columns under one heading, at `--level` if no other is named.
"""


def _unit(column: Column) -> str:
    if column.share:
        return "share"
    return "as `unit` says" if column.unit == BY_ROW else column.unit


def _rows(answer: str) -> pd.DataFrame:
    rows, heading = [], ""
    for column in columns_of(answer):
        heading = column.heading or f"{heading}, high end"
        shown = column.shown
        if column.name in SHOWN_ALONE.get(answer, set()):
            shown += ", table only"
        rows.append((f"`{column.name}`", heading, _unit(column), shown, column.meaning))
    return pd.DataFrame(rows, columns=["column", "heading", "unit", "shown", "meaning"])


def answers_page() -> str:
    """Return the columns of every answer, and how each is asked for."""
    parts = [HEAD]
    for answer in answers():
        parts += [f"## {answer}", "", f"{ASKED[answer]}.", "", markdown(_rows(answer)), ""]
    return "\n".join(parts)
