"""The page of the text card, its table of questions made by asking them."""

from __future__ import annotations

import re

import pandas as pd

from sgzone.cards.given import NOTHING
from sgzone.cards.text.table import table_of_card
from tests.docs.markdown import markdown
from tests.docs.pages import ROOT

HEAD = "Ned Farrow, 14 May 2026, Home"
LINES = (
    *("1 f112 22,3", "1 f112 e8 2", "1 f112 71 2", "1 12f 3", "1 f112/22/3", "1 4 f112 18"),
    *("1 18 2 5", "1 f150 7 20 2", "1 f112 10-12 ft", "1 f112 7' 10", "1 f112 6in", "1 f112 4.51"),
    *("1 f112 9ft, in 2", "1 f112 18 3 putt", "1 f112 20 given", "1 f112", "1 trees 112 18"),
    *("1 f112 greenside 14 3", "1 f112 fr 14 3", "1 f60 water drop 75 9", "1 t146 t146 20"),
    *("1 f112 18! 2", "1 f112 provisional 18", "1 wind=downf112 18", "1 f112 18 xyz"),
    *("f112 18 2", "37 f112 18"),
)
HEADINGS = ("Home, 14 May 2026", "Ned Farrow, 5/6/26, Home", "Ned Farrow, 14 May, Home")


def _question(typed: str, text: str) -> dict[str, str]:
    """Return the first question of a card; how far the line was understood is left out."""
    problems = table_of_card("round.txt", text, NOTHING)[2]
    asked = next(problem for problem in problems if problem.severity == "error")
    wrong = re.sub(r" \(Read so far: .*\)$", "", asked.wrong)
    return {"typed": f"`{typed}`", "asked": wrong, "what to type": asked.fix}


def text_card_page() -> str:
    """Return the page of the text card with its table of questions filled in."""
    text = (ROOT / "docs" / "text-card.md").read_text(encoding="utf-8")
    rows = [_question(line, f"{HEAD}\n{line}") for line in LINES]
    rows += [_question(line, f"{line}\n1 f112 18") for line in HEADINGS]
    pattern = r"(<!-- generated: questions -->\n).*?(<!-- end -->)"
    block = markdown(pd.DataFrame(rows))
    return re.sub(pattern, lambda m: m[1] + block + "\n" + m[2], text, flags=re.DOTALL)
