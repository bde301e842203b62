"""How the report was made, and what to be careful about."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Review
from sgzone.report.page import Section
from sgzone.words import method as method_words
from sgzone.words import season as season_words
from sgzone.words.benchmark import not_claimed
from sgzone.words.tables import table_of


def method_section(review: Review) -> Section:
    """Return how the numbers were made, and what the verdicts mean."""
    means = pd.DataFrame(method_words.VERDICTS, columns=["words", "mean"])
    verdicts = table_of(means, "verdicts", review.say, "What a verdict means")
    return Section(
        "method",
        "How it was worked out",
        method_words.method(review.against, review.say),
        tables=(verdicts,),
    )


def sources_section(review: Review) -> Section:
    """Return where the benchmark's figures come from."""
    said = f"Sources of {season_words.benchmark_words(review.against)}"
    table = table_of(review.sources, "sources", review.say, said)
    plain = not_claimed([review.against], review.say)
    return Section("sources", "Sources", tuple(plain), tables=(table,))


def cautions_section() -> Section:
    """Return what to be careful about."""
    return Section("cautions", "Cautions", notes=method_words.CAUTIONS)
