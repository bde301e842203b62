"""The verbs about clubs: the ladder of stock swings, and what to hit from a number."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError
from sgzone.harmless import named
from sgzone.terms import AROUND
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.nearest import with_benchmark
from sgzone.verbs.options import Ask, Verb, length, reading_options
from sgzone.verbs.options import number as kind_of
from sgzone.verbs.show import OF_TABLES, emit, say
from sgzone.words.cautions import RULES
from sgzone.writing import Reads, refuse_twice

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

SOURCES = ("course", "test", "range balls")
DETAILS = ("cover", "consistency", "questions", "bag", "wear", "changes")
FIRMNESS = ("soft", "medium", "firm")

_IDLE: dict[str | None, tuple[str, ...]] = {
    None: ("remind_shots", "remind_months"),
    "cover": ("remind_shots", "remind_months", "gap", "benchmark", "level", "chart"),
    "consistency": ("remind_shots", "remind_months", "gap", "benchmark", "chart"),
    "questions": ("remind_shots", "remind_months", "gap", "source", "chart"),
    "bag": ("gap", "source", "benchmark", "level", "since", "until", "event", "units", "chart"),
    "wear": ("remind_shots", "remind_months", "gap", "source", "units"),
    "changes": ("remind_shots", "remind_months", "gap", "source", "chart"),
}
"""``--detail`` -> the options that it never reads."""

source_option = click.option(
    "--source",
    type=click.Choice(SOURCES),
    default="course",
    show_default=True,
    help="Where the shots come from; they are never mixed.",
)


@click.command()
@reading_options
@chart_option()
@source_option
@click.option(
    "--gap",
    type=length("gap_yd"),
    default=12.0,
    show_default="12 yd",
    help="A step of the ladder wider than this is marked, such as --gap 10 or 9m.",
)
@click.option(
    "--detail",
    type=click.Choice(DETAILS),
    help="Instead of the ladder: numbers no swing covers, how alike strikes are, open "
    "questions. Or the bag, wear, clubs replaced.",
)
@click.option(
    "--remind-shots",
    type=kind_of("remind_shots"),
    help="With --detail bag: mark clubs used this often, such as 2000.",
)
@click.option(
    "--remind-months",
    type=kind_of("remind_months"),
    help="With --detail bag: mark clubs this old, such as 18.",
)
def clubs(
    ask: Ask,
    chart: Chart,
    source: str,
    gap: float,
    detail: str | None,
    remind_shots: int | None,
    remind_months: float | None,
) -> None:
    """Show what each swing carries, with gaps and overlaps."""
    from sgzone.clubs.wear import bag
    from sgzone.words import clubs as words

    refuse_idle(f"--detail {detail}" if detail else "the ladder", _IDLE[detail])
    with ask.one_player() as (store, selection):
        if detail == "bag":
            table = words.reminded(bag(store, selection, remind_shots, remind_months))
            notes: tuple[str, ...] = words.READ_BAG
        else:
            table, notes = _table(store, selection, ask, source, gap, detail)
        if detail is None:
            chart.draw(store, selection, lambda pictures: pictures.ladder(table, source))
        elif detail == "wear":
            chart.draw(store, selection, lambda pictures: pictures.wear())
    answer = "questions" if detail == "changes" else detail or "clubs"
    lead = [words.title(detail, source, ask.benchmark, ask.say)]
    if detail is None and ask.fmt == "table":
        lead, table = [*words.gaps(table, ask.say)], words.few_marked(table)
        notes = (words.title(None, source, ask.benchmark, ask.say), *notes)
    emit(table, ask.fmt, answer, ask.say, lead=lead, notes=notes)


def _table(
    store: Store, selection: Selection, ask: Ask, source: str, gap: float, detail: str | None
) -> tuple[pd.DataFrame, tuple[str, ...]]:
    """Return the table that was asked for and what to know of it."""
    from sgzone.clubs.consistency import consistency, questions
    from sgzone.clubs.cover import cover
    from sgzone.clubs.stock import clubs as ladder_of
    from sgzone.clubs.wear import changes, wear
    from sgzone.words import clubs as words
    from sgzone.words.notes import noted

    game = (store, ask.benchmark, selection, ask.level)
    if detail == "consistency":
        table = noted(consistency(store, selection, ask.level, source), "consistency")
        return table, ()
    if detail == "questions":
        return words.questions(questions(*game), ask.in_notes), words.READ_QUESTIONS
    if detail == "wear":
        return noted(wear(*game), "wear"), words.READ_WEAR
    if detail == "changes":
        return noted(changes(*game), "compare", ask.in_notes), words.READ_CHANGES
    ladder = ladder_of(*game, source, gap)
    if detail == "cover":
        table = cover(store, ladder, selection)
        return table, words.uncovered(table, ask.say)
    return noted(ladder, "clubs"), words.READ_SWINGS if len(ladder) else ()


_PIN_SHEET = {
    "on": "From the front edge to the pin, such as --green-on 12 or 11m.",
    "deep": "Depth of the green, such as --green-deep 32; 30 yd if not given.",
    "left": "From the left edge to the pin, such as --green-left 8.",
    "wide": "Width of the green, such as --green-wide 20; 24 yd if not given.",
}
_OLD_NAMES = ("on", "deep", "left")
"""What was once typed without ``green-`` and still works."""


def _pin_sheet(verb: Verb) -> Verb:
    """Give a verb the options of a pin sheet; it receives them as green_on, green_deep, ..."""
    for name, text in reversed(_PIN_SHEET.items()):
        verb = click.option(f"--green-{name}", type=length(name), help=text)(verb)
    for name in _OLD_NAMES:
        verb = click.option(f"--{name}", f"old_{name}", type=length(name), hidden=True)(verb)
    return verb


def _side(name: str, text: str, *names: str) -> Callable[[Verb], Verb]:
    """Give a verb the option of what lies on one side of the green."""
    return click.option(
        name, *names, type=click.Choice(AROUND), default="rough", show_default=True, help=text
    )


def _by_new_names(given: dict[str, Any]) -> None:
    """Move what was typed by an old name to the new one, and say what that is."""
    for name in _OLD_NAMES:
        old = given.pop(f"old_{name}")
        if old is not None:
            say(f"--{name} is called --green-{name} now.")
            given[f"green_{name}"] = old


@click.command()
@reading_options
@chart_option()
@source_option
@click.argument("yards", metavar="[NUMBER]", type=length("yards"), required=False)
@_pin_sheet
@_side("--short", "What waits short of the green.")
@_side("--long", "What waits over the green.", "long_")
@_side("--left-side", "What waits left of the green.")
@_side("--right-side", "What waits right of the green.")
@click.option(
    "--lie",
    default="fairway",
    show_default=True,
    help="The lie you play from, such as --lie rough.",
)
@click.option("--firmness", type=click.Choice(FIRMNESS), help="How firm the green is.")
@click.option(
    "--full-more",
    type=kind_of("full_more"),
    default=3.0,
    show_default=True,
    help="How many percent over stock a full swing may go, such as --full-more 5. Common "
    "practice, no source.",
)
@click.option(
    "--from", "from_", type=length("yards"), help="First number of a sheet, such as --from 60."
)
@click.option("--to", type=length("yards"), help="Last number of the sheet, such as --to 150.")
@click.option(
    "--step",
    type=length("step"),
    default="5",
    show_default=True,
    help="Step between its numbers, such as --step 10.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the sheet to a file, such as --out card.pdf (a pocket card), .html or .csv.",
)
def number(ask: Ask, chart: Chart, source: str, yards: float | None, **given: Any) -> None:
    """Say what to hit from a number, and where to land it.

    The NUMBER is the one after wind and slope: 97, or with its unit, 96yd or 88m. A bare one is in
    yards, with --units metric in metres. Prepare before play.
    """
    from sgzone.clubs.green import green_of

    _by_new_names(given)
    whole_range = given["from_"] is not None and given["to"] is not None
    if yards is None and not whole_range:
        raise CallError(
            "give one number (sgzone number 97) or a range (sgzone number --from 60 --to 150)"
        )
    if yards is not None:
        refuse_idle("one number", ("from_", "to", "step"))
    if given["out"] and not whole_range:
        raise CallError("--out writes a sheet: give a range too, such as --from 60 --to 150")
    if given["out"]:
        refuse_idle("--out", ("fmt", *OF_TABLES))
        if given["out"].suffix.lower() != ".csv":
            refuse_idle("a sheet to read, which has no range", ("level",))
    reads = _check_out(given["out"], ask, chart)
    around = (given["short"], given["long_"], given["left_side"], given["right_side"])
    pin = [given[f"green_{name}"] for name in ("on", "deep", "left", "wide")]
    green = green_of(pin[0], pin[1], pin[2], pin[3], around)
    how = {name: given[name] for name in ("lie", "firmness", "full_more")}
    how |= {"green": green, "source": source}
    with ask.one_player() as (store, selection):
        if yards is not None:
            _number(store, selection, ask, chart, yards, how)
        else:
            _sheet(store, selection, ask, chart, given, how, reads)


def _number(
    store: Store, selection: Selection, ask: Ask, chart: Chart, yards: float, how: dict[str, Any]
) -> None:
    from sgzone.clubs.green import green_of
    from sgzone.clubs.number import plan_number
    from sgzone.words import number as words
    from sgzone.words.notes import options

    table = plan_number(store, yards, ask.benchmark, selection, ask.level, **how)
    seen = options(table, ask.say)
    green = how["green"] or green_of()
    where = how["lie"], how["source"]
    chart.draw(store, selection, lambda pictures: pictures.green(seen, yards, green, *where))
    lead = words.lead(table, yards, ask.say)
    rests = words.title(how["lie"], how["source"], ask.benchmark)
    notes = (rests, *words.number_notes(ask.say)) if len(table) else ()
    table = options(table, ask.in_notes)
    emit(table, ask.fmt, "number", ask.say, lead=lead, notes=notes)


def _check_out(file: Path | None, ask: Ask, chart: Chart) -> Reads:
    """Return what the call reads; raise before long work where no sheet can be written there."""
    from sgzone.benchmarks import files_of

    reads = Reads(ask.db, files_of(ask.benchmark))
    if file is not None:
        from sgzone.report.paper.pocket_card import sheet_output

        refuse_twice([sheet_output(file, reads), *chart.output()])
    return reads


def _sheet(
    store: Store,
    selection: Selection,
    ask: Ask,
    chart: Chart,
    given: dict[str, Any],
    how: dict[str, Any],
    reads: Reads,
) -> None:
    from sgzone.clubs.sheet import number_sheet, numbers_of
    from sgzone.words import number as words
    from sgzone.words.notes import options

    numbers = numbers_of(given["from_"], given["to"], given["step"])
    found = sheet = number_sheet(store, numbers, ask.benchmark, selection, ask.level, **how)
    asked = (how["lie"], how["source"], ask.benchmark)
    chart.draw(store, selection, lambda pictures: pictures.numbers(found, *asked[:2]))
    if given["out"]:
        from sgzone.report.paper.pocket_card import write_sheet

        said = words.card_subtitle(selection.player, *asked)
        out: Path = given["out"]
        made = with_benchmark(options(sheet))
        path = write_sheet(made, out, subtitle=said, units=ask.units, reads=reads)
        say(f"Wrote {named(path)}. {RULES}")
        return
    sheet = options(sheet, ask.in_notes)
    title = words.sheet_title(*asked)
    emit(sheet, ask.fmt, "number", ask.say, title=title, notes=(RULES,))
