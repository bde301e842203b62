"""A frame as a table of a page."""

from __future__ import annotations

import pandas as pd


def markdown(frame: pd.DataFrame) -> str:
    """Return a frame as a Markdown table."""
    head = "| " + " | ".join(map(str, frame.columns)) + " |"
    rule = "|" + "---|" * len(frame.columns)
    rows = ["| " + " | ".join(map(str, row)) + " |" for row in frame.itertuples(index=False)]
    return "\n".join([head, rule, *rows])
