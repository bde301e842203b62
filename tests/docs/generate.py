"""Write the generated pages and blocks of the documentation; ``--check`` only compares.

``python -m tests.docs.generate`` after a change of a verb, a column, an answer or a word.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from textwrap import wrap

import click
import pandas as pd

from sgzone import cli
from sgzone.cards import clock
from sgzone.cards.columns import Spoken, columns_of
from sgzone.cards.tables import TABLES
from sgzone.resources import data_path
from sgzone.scoring import strokes_gained
from sgzone.season.store import open_store
from sgzone.terms import BANDS, BENCHMARK_NAMES, EVERY_LIE, PARTS, WOMEN_NAMES
from tests.conftest import TODAY
from tests.docs.answers_page import answers_page
from tests.docs.curves_data import curves_data
from tests.docs.markdown import markdown
from tests.docs.pages import ROOT
from tests.docs.sobol_data import sobol_data
from tests.docs.text_card_page import text_card_page

HOLE = pd.DataFrame(
    {
        "player": "Example",
        "date": "2026-05-14",
        "hole": 7,
        "shot": [2, 3, 4, 5, 6],
        "lie": ["fairway", "rough", "sand", "green", "green"],
        "distance": ["120 yd", "60 yd", "10 yd", "8 ft", "1 ft"],
        "penalty": [1, 0, 0, 0, 0],
        "result": ["", "", "", "", "holed"],
        "note": ["water, dropped in the rough", "", "", "", ""],
    }
)


def _term(value: float) -> str:
    return f"{value:.2f}".replace("-0.00", "0.00")


def hole_table() -> str:
    """Return the README's hole with each term of the formula, computed by the package."""
    with tempfile.TemporaryDirectory() as folder, open_store() as store:
        path = Path(folder) / "hole.csv"
        HOLE.to_csv(path, index=False)
        store.load(path)
        frame = strokes_gained(store, "tour")
    place = frame["distance_yd"].map("{:.0f} yd".format)
    putt = frame["lie"] == "green"
    place[putt] = (frame["distance_yd"] * 3).map("{:.0f} ft".format)
    table = pd.DataFrame(
        {
            "shot": frame["shot"],
            "from": frame["lie"] + " " + place,
            "expected before": frame["expected_before"].map(_term),
            "- expected after": frame["expected_after"].map(_term),
            "- stroke": 1,
            "- penalty": frame["penalty"],
            "= gained": frame["gained"].map(lambda v: f"{v:+.2f}".replace("-0.00", "+0.00")),
        }
    )
    first, strokes, penalties = frame["expected_before"].iloc[0], len(frame), frame["penalty"].sum()
    total = frame["gained"].sum()
    line = f"Sum {total:+.2f} = {first:.2f} - {strokes} strokes - {penalties} penalty stroke."
    return markdown(table) + "\n\n" + line


def verbs_table() -> str:
    """Return each verb with its one-line help."""
    context = click.Context(cli.sgzone)
    rows = []
    for verb in cli.VERBS:
        command = cli.sgzone.get_command(context, verb)
        assert command is not None
        rows.append((f"`{verb}`", command.get_short_help_str(limit=200)))
    return markdown(pd.DataFrame(rows, columns=["verb", "does"]))


def reference_page() -> str:
    """Return the whole command line, as ``--help`` prints it."""
    parts = ["# The command line", "", "As `sgzone --help` and `sgzone VERB --help` print it.", ""]
    context = click.Context(cli.sgzone, info_name="sgzone", max_content_width=96)
    parts += ["```text", cli.sgzone.get_help(context), "```", ""]
    for verb in cli.VERBS:
        command = cli.sgzone.get_command(context, verb)
        assert command is not None
        inner = click.Context(command, info_name=verb, parent=context, max_content_width=96)
        parts += [f"## {verb}", "", "```text", command.get_help(inner), "```", ""]
    return "\n".join(parts)


def dictionary_page() -> str:
    """Return every column, word, alias, band and part."""
    columns = pd.read_csv(data_path("columns.csv"), dtype=str, keep_default_na=False)
    parts = [
        "# Data dictionary",
        "",
        "Header names in any order; case and surrounding blanks do not matter. Other headers",
        "and words are understood too ([below](#other-headers-that-are-understood)). Unknown",
        "columns are kept. How a table is read, and what is asked, is told in [the card](card.md).",
        "",
        "A distance is a number, or a number with `yd`, `y`, `m`, `ft`, or feet and",
        "inches as `7'10\"`. Bare numbers are yards off the green and feet on it; on the fringe",
        "write the unit. What comes out is told in [columns of the answers](answers.md).",
        "",
    ]
    for table in TABLES:
        chosen = columns[columns["table"] == table.kind]
        limits = chosen["low"] + " to " + chosen["high"]
        limits = limits.where((chosen["low"] != "") | (chosen["high"] != ""), "")
        shown = pd.DataFrame(
            {
                "column": "`" + chosen["column"] + "`",
                "needed": chosen["needed"],
                "kind": chosen["kind"],
                "unit": chosen["unit"],
                "range": limits.str.strip(),
                "words": chosen["words"].str.replace("|", ", "),
                "default": chosen["default"],
                "meaning": chosen["meaning"],
            }
        )
        parts += [f"## {table.name.capitalize()}", "", markdown(shown), ""]
    parts += ["## Other headers that are understood", "", markdown(_other_headers()), ""]
    parts += ["## Other words that are understood", "", markdown(_other_words()), ""]
    parts += ["## Words for lies that are understood", "", markdown(_words_for_lies()), ""]
    bands = pd.DataFrame(
        [(b.name, "green" if b.on_green else "off the green") for b in BANDS],
        columns=["band (lower edge included)", "where"],
    )
    parts += ["## Bands", "", markdown(bands), ""]
    rows = [(f"`{p.name}`", p.words, ", ".join(p.lies)) for p in PARTS]
    parts += ["## Parts", "", markdown(pd.DataFrame(rows, columns=["part", "words", "lies"])), ""]
    return "\n".join(parts)


_LANGUAGES = {"en": "English", "de": "German", "fr": "French", "es": "Spanish", "sv": "Swedish"}


def _by_language(spoken: Iterable[Spoken]) -> list[str]:
    """Return the words of each language, listed."""
    said = list(spoken)
    return [", ".join(f"`{w}`" for lang, w in said if lang == one) for one in _LANGUAGES]


def _other_headers() -> pd.DataFrame:
    """Return what else the header of each column may be, once for tables that say the same."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for table in TABLES:
        for column in columns_of(table.kind):
            if column.headers:
                row = (f"`{column.name}`", *_by_language(column.headers))
                rows.setdefault(row, []).append(table.name)
    told = [(row[0], ", ".join(tables), *row[1:]) for row, tables in rows.items()]
    return pd.DataFrame(told, columns=["column", "in", *_LANGUAGES.values()])


def _other_words() -> pd.DataFrame:
    """Return what else may be written for each word of a column."""
    told: dict[tuple[str, ...], None] = {}
    for table in TABLES:
        for column in columns_of(table.kind):
            for word in dict.fromkeys(column.synonyms.values()):
                said = [spoken for spoken, read in column.synonyms.items() if read == word]
                told[(f"`{column.name}`", f"`{word}`", *_by_language(said))] = None
    return pd.DataFrame(list(told), columns=["column", "read as", *_LANGUAGES.values()])


def _words_for_lies() -> pd.DataFrame:
    told = []
    for lie in EVERY_LIE:
        abroad = [Spoken(*word.split(":", 1)) for word in lie.abroad]
        aliases = [Spoken("en", alias) for alias in lie.aliases]
        told.append((f"`{lie.name}`", f"`{lie.letter}`", *_by_language([*aliases, *abroad])))
    return pd.DataFrame(told, columns=["lie", "letter", *_LANGUAGES.values()])


def benchmark_list() -> str:
    """Return the benchmarks that come with the package, and the player's own kinds."""
    levels, women = (
        ", ".join(f"`{name}`" for name in names) for names in (BENCHMARK_NAMES, WOMEN_NAMES)
    )
    said = (
        f"- **A benchmark**: {levels}; for women {women}. Or a curve fitted to your own players "
        "(`sgzone fit`, [docs/method-fit.md](docs/method-fit.md)). Or your own as a CSV "
        "([docs/benchmarks.md](docs/benchmarks.md))."
    )
    return "\n".join(wrap(said, 120, subsequent_indent="  ", break_on_hyphens=False))


def readme() -> str:
    """Return the README with its generated blocks filled in."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    card = markdown(HOLE.drop(columns=["player", "date"]))
    blocks = {
        "card": card,
        "hole": hole_table(),
        "verbs": verbs_table(),
        "benchmarks": benchmark_list(),
    }
    for name, block in blocks.items():
        pattern = rf"(<!-- generated: {name} -->\n).*?(<!-- end -->)"
        text = re.sub(pattern, lambda m, b=block: m[1] + b + "\n" + m[2], text, flags=re.DOTALL)
    return text


def pages() -> dict[Path, str]:
    """Return the wanted content of every generated file."""
    return {
        ROOT / "README.md": readme(),
        ROOT / "docs" / "reference.md": reference_page(),
        ROOT / "docs" / "data-dictionary.md": dictionary_page(),
        ROOT / "docs" / "answers.md": answers_page(),
        ROOT / "docs" / "text-card.md": text_card_page(),
        data_path("curves.csv"): curves_data(),
        data_path("sobol.csv"): sobol_data(),
    }


def main() -> None:
    """Write what differs; with ``--check`` fail instead."""
    stale = [
        path
        for path, text in pages().items()
        if not path.is_file() or path.read_text(encoding="utf-8") != text
    ]
    if "--check" in sys.argv and stale:
        sys.exit("stale: " + ", ".join(str(p.relative_to(ROOT)) for p in stale))
    for path in stale:
        path.write_text(pages()[path], encoding="utf-8")


if __name__ == "__main__":
    os.environ[clock.VARIABLE] = TODAY  # a question about a day does not change with today
    main()
