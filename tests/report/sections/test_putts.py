"""Putts holed in the report: the card's own shares beside what the benchmark holes."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from sgzone.report.asked import Asked, knowing
from sgzone.report.paper.order import on_paper
from sgzone.report.sections import why
from sgzone.report.sections.putts import beside, putting_figures
from sgzone.review.why.putting import holed_share
from sgzone.season.store import Store
from sgzone.words.why import holed_lines
from tests.report.seasons import ONLY_PUTTS, ask, card, demo_report, season


def test_the_points_are_the_cards_putts_counted_again(store: Store, asked: Asked) -> None:
    """Putts of 2 ft to under 4 ft, counted by SQL of its own; a conceded one has no end."""
    row = store.frame(
        """
        SELECT count(*) AS putts, avg(distance_ft) AS feet,
               avg(CASE WHEN result = 'holed' THEN 1.0 ELSE 0.0 END) AS share
        FROM strokes
        WHERE lie = 'green' AND distance_ft >= 2 AND distance_ft < 4 AND end_lie IS NOT NULL
        """
    ).iloc[0]
    first = beside(asked.putting[1]).iloc[0]
    assert first["putts"] == row["putts"] == 174
    assert first["distance_ft"] == pytest.approx(row["feet"])
    assert first["holed_share"] == pytest.approx(row["share"])
    feet = store.frame(
        "SELECT distance_ft FROM strokes WHERE lie = 'green' AND distance_ft >= 2 AND "
        "distance_ft < 4 AND end_lie IS NOT NULL"
    )["distance_ft"]
    each = [holed_share("tour", one)[0] for one in feet]
    assert first["benchmark_share"] == pytest.approx(sum(each) / 174)


def test_the_figure_has_its_chart_words_and_numbers(asked: Asked) -> None:
    (figure,) = putting_figures(asked)
    (panel,) = figure.panels
    _, points = asked.putting
    assert panel.title == f"holed from 2 ft to 20 ft, {points['putts'].sum()} putts"
    assert panel.alt.startswith(
        "Share of putts holed by distance: from 3 ft 94% (91 to 96%, n 174)"
    )
    assert figure.table.headings == (
        *("distance (mean), ft", "putts", "holed", "range", "benchmark", "benchmark value"),
    )
    assert figure.table.rows[0][:5] == ("2.7", "174", "94%", "91% to 96%", "97%")
    assert {row[5] for row in figure.table.rows} <= {
        *("published, seen in a copy", "quoted from memory"),
    }
    spec = panel.chart.to_dict()
    assert spec["layer"][0]["encoding"]["color"]["scale"]["domain"] == ["the tour benchmark"]
    assert "ranges (8 in 10)" in figure.caption[0]
    assert [p.id for p in why.section(asked).figures[-1].panels] == ["why-putts"]


def test_in_metric_putts_are_in_metres() -> None:
    (section,) = (s for s in demo_report("metric").page.sections if s.id == "why")
    figure = section.figures[-1]
    assert figure.panels[0].title.startswith("holed from 0.6 m to 6.1 m, ")
    assert figure.table.headings[0] == "distance (mean), m"
    assert figure.table.rows[0][0] == "0.8"


def test_no_sheet_of_paper_has_it() -> None:
    printed = on_paper(demo_report("plain").page).sections
    assert "why-putts" not in {p.id for s in printed for f in s.figures for p in f.panels}


def test_putts_alone_have_it_and_five_rounds_are_needed(tmp_path: Path) -> None:
    with season(card(tmp_path, ONLY_PUTTS)) as store:
        (figure,) = why.section(ask(store)).figures
    assert figure.table.rows == (("9.0", "42", "0%", "0% to 4%", "45%", figure.table.rows[0][5]),)
    few = "\n".join(row for row in ONLY_PUTTS.split() if row < "2026-05-05")
    with season(card(tmp_path, few)) as store:
        assert putting_figures(ask(store)) == ()


def test_a_benchmark_without_putts_holed_has_no_figure(asked: Asked) -> None:
    curve, points = asked.putting
    none = pd.DataFrame(columns=points.columns)
    assert putting_figures(knowing(asked, putting=(curve, none))) == ()


def test_the_putts_that_tell_most_are_said_in_the_section(asked: Asked) -> None:
    line = "From 4 to 6 ft you hole 67% of 89 putts; this standard holes 82%."
    assert holed_lines(asked.telling, asked.say) == (line,)
    assert why.section(asked).lead[-1] == line
    none = why.section(knowing(asked, telling=asked.telling[:0])).lead
    assert none == why.section(asked).lead[:-1]


def test_the_sentence_and_the_table_have_the_same_putts_and_the_same_standard(asked: Asked) -> None:
    """At the mean distance of these 89 putts the tour holes 83%; of the putts themselves, 82%."""
    told = asked.telling.iloc[0]
    points = asked.putting[1].set_index("putts")
    assert points.loc[89, "benchmark_share"] == pytest.approx(told["benchmark_share"], abs=1e-12)
    (row,) = (row for row in putting_figures(asked)[0].table.rows if row[1] == "89")
    assert (row[2], row[4]) == ("67%", "82%")
