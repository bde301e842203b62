"""How the report was made, and what to be careful about."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.page import Section
from sgzone.words import method as words
from sgzone.words.benchmark import not_claimed
from sgzone.words.season import benchmark_words
from sgzone.words.tables import table_of

_VERDICTS = pd.DataFrame(words.VERDICTS, columns=["words", "mean"])


def section(asked: Asked) -> Section:
    """Return how the numbers were made, and what the verdicts mean."""
    verdicts = table_of(_VERDICTS, "verdicts", asked.say, "What a verdict means")
    return Section(words.method(asked.curve.name, asked.say), tables=(verdicts,))


def sources(asked: Asked) -> Section:
    """Return where the benchmark's figures come from."""
    name = asked.curve.name
    table = table_of(asked.sources, "sources", asked.say, f"Sources of {benchmark_words(name)}")
    return Section(tuple(not_claimed([name], asked.say)), tables=(table,))


def cautions(_: Asked) -> Section:
    """Return what to be careful about."""
    return Section(notes=words.CAUTIONS)


def tables(_: Asked) -> Tables:
    """Return what a verdict means."""
    return {"": _VERDICTS}


def source_tables(asked: Asked) -> Tables:
    """Return the sources."""
    return {"": asked.sources}
