"""The sheet on paper says what the table says, and the rules stand on every one."""

from __future__ import annotations

import re
import shutil
import subprocess

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import green_of
from sgzone.clubs.number import NUMBER_COLUMNS, number_table
from sgzone.report.paper.pocket_card import NONE_NEAR, sheet_csv, sheet_html, sheet_pdf, write_sheet
from sgzone.words.cautions import RULES
from sgzone.words.notes import POOLED
from tests.clubs.swings import known_swings


@pytest.fixture(scope="module")
def sheet() -> pd.DataFrame:
    tables = []
    for number in (97.0, 104.0):
        plan = number_table(
            known_swings(side_lean=-0.02), number, green_of(), benchmark("tour")
        ).drop_duplicates("club")
        tables.append(plan.assign(number_yd=number, rank=range(1, len(plan) + 1), prepare=RULES))
    blank = pd.DataFrame([{"club": None}], columns=list(NUMBER_COLUMNS))
    tables.append(blank.assign(number_yd=150.0, rank=1, prepare=RULES))
    return pd.concat([t.astype(object) for t in tables], ignore_index=True).infer_objects()


def test_html_says_the_numbers_with_units(sheet):
    text = sheet_html(sheet, subtitle="Ann & Ben")
    best = sheet.iloc[0]
    row = re.search(r'<tr><th scope="row">97</th>(.*?)</tr>', text)
    cells = re.findall(r"<td>(.*?)</td>", row[1])
    side = f"{best['side_aim_ft']:.0f} R"
    assert cells == ["B full", "97", side, f"{best['expected_strokes']:.2f}"]
    for words in ("number, yd", "aim, ft", "Ann &amp; Ben", RULES, NONE_NEAR):
        assert words in text
    assert text.count("<tr>") == 1 + len(sheet)


def test_metric_turns_every_length(sheet):
    text = sheet_html(sheet, units="metric")
    assert "number, m" in text
    assert '<th scope="row">89</th>' in text
    assert " yd" not in text


def test_csv_is_unrounded_and_has_the_rules(sheet):
    text = sheet_csv(sheet)
    assert text.splitlines()[0].endswith("prepare")
    assert f"{sheet['expected_strokes'].iloc[0]}" in text
    assert RULES in text


def test_the_pocket_card_is_one_pdf_page(sheet):
    made = sheet_pdf(sheet, subtitle="from the fairway")
    assert made.startswith(b"%PDF")
    assert b"/Type/Pages/Count 1/" in made
    assert len(made) > 3000


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs pdftotext: poppler-utils")
def test_nothing_wraps_on_the_card_and_notes_stand_below_it_once(sheet, tmp_path):
    few = sheet["rank"] == 1
    noted = sheet.assign(note=np.where(few, POOLED, ""), swing="three-quarter with a soft landing")
    path = tmp_path / "card.pdf"
    path.write_bytes(sheet_pdf(noted.assign(club=noted["club"].fillna("A")), subtitle="S"))
    done = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    )
    lines = [line.split() for line in done.stdout.splitlines() if line.strip()]
    for number in ("97", "104"):
        (row,) = (line for line in lines if line[0] == number)
        assert " soft landing" in " ".join(row)
        assert "*" in row
        assert re.fullmatch(r"\d\.\d\d", row[-1])
    assert done.stdout.count(POOLED) == 1
    assert f"* {POOLED}." in done.stdout


def test_other_endings_are_refused(sheet, tmp_path):
    with pytest.raises(Exception, match="a sheet is written as"):
        write_sheet(sheet, tmp_path / "numbers.docx")
