"""The verbs about clubs: the ladder of stock swings, and what to hit from a number."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import CallError
from sgzone.harmless import named
from sgzone.units import M_PER_YD
from sgzone.verbs.chart import Chart, chart_option
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.options import Ask, check_selection, reading_options, the_player
from sgzone.verbs.options import number as kind_of
from sgzone.verbs.show import emit, say, tell

if TYPE_CHECKING:
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store
    from sgzone.writing import Reads

SOURCES = ("course", "test", "range balls")
DETAILS = ("cover", "consistency", "questions", "bag", "wear", "changes")
AROUND = ("fairway", "rough", "sand", "water")

_IDLE: dict[str | None, tuple[str, ...]] = {
    None: ("remind_shots", "remind_months"),
    "cover": ("remind_shots", "remind_months", "gap", "chart"),
    "consistency": ("remind_shots", "remind_months", "gap", "benchmark", "chart"),
    "questions": ("remind_shots", "remind_months", "gap", "source", "chart"),
    "bag": ("gap", "source", "benchmark", "level", "chart"),
    "wear": ("remind_shots", "remind_months", "gap", "source"),
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
    type=kind_of("gap_yd"),
    default=12.0,
    show_default=True,
    help="A step of the ladder wider than this many yards is marked.",
)
@click.option(
    "--detail",
    type=click.Choice(DETAILS),
    help="Instead of the ladder: numbers without a swing, how alike strikes are, open "
    "questions, the bag, wear since new, before and after a club was replaced.",
)
@click.option(
    "--remind-shots", type=kind_of("remind_shots"), help="Mark clubs used this often (bag)."
)
@click.option("--remind-months", type=kind_of("remind_months"), help="Mark clubs this old (bag).")
def clubs(
    ask: Ask,
    chart: Chart,
    source: str,
    gap: float,
    detail: str | None,
    remind_shots: int | None,
    remind_months: float | None,
) -> None:
    """Show stock carries, their spread, and the ladder's gaps and overlaps."""
    refuse_idle(f"--detail {detail}" if detail else "the ladder", _IDLE[detail])
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        if detail == "bag":
            _bag(store, selection, ask, remind_shots, remind_months)
        elif detail is None or detail == "cover":
            _ladder(store, selection, ask, chart, source, gap, detail)
        else:
            _behind(store, selection, ask, source, detail)
            chart.draw(store, selection, lambda pictures: pictures.wear())


def _ladder(
    store: Store,
    selection: Selection,
    ask: Ask,
    chart: Chart,
    source: str,
    gap: float,
    detail: str | None,
) -> None:
    from sgzone.clubs.cover import cover
    from sgzone.clubs.stock import COVER_YD
    from sgzone.clubs.stock import clubs as ladder_of
    from sgzone.words.notes import noted

    ladder = ladder_of(store, ask.benchmark, selection, ask.level, source, gap)
    if detail == "cover":
        table = cover(store, ladder, selection)
        alone, whole = table["uncovered"].sum(), table["strokes"].sum()
        near = f"{COVER_YD * M_PER_YD:.1f} m" if ask.units == "metric" else f"{COVER_YD:g} yd"
        notes = [f"{alone} of {whole} strokes start farther than {near} from every stock swing."]
        title = f"Your numbers against your stock swings ({source})"
        emit(table, ask.fmt, "cover", ask.say, title=title, notes=notes if whole else ())
        return
    said = (
        "Carries in calm air on the level. Spreads (sd) at that carry, adjusted for few shots.",
        "From good lies. Other shots than these are in --source course, test or range balls.",
    )
    title = f"Stock swings from {source} shots, intervals {ask.level:.0%}"
    ladder = noted(ladder, "clubs")
    chart.draw(store, selection, lambda pictures: pictures.ladder(ladder, source))
    emit(ladder, ask.fmt, "clubs", ask.say, title=title, notes=said if len(ladder) else ())


def _bag(
    store: Store, selection: Selection, ask: Ask, shots: int | None, months: float | None
) -> None:
    from sgzone.clubs.wear import bag
    from sgzone.words.cautions import CLUB_ADVICE

    table = bag(store, selection, shots, months)
    title = "The bag, by what is in the file"
    emit(table, ask.fmt, "bag", ask.say, title=title, notes=[CLUB_ADVICE])


def _behind(store: Store, selection: Selection, ask: Ask, source: str, detail: str) -> None:
    from sgzone.clubs.consistency import consistency, questions
    from sgzone.clubs.wear import changes, wear
    from sgzone.words.cautions import CLUB_ADVICE, WEAR

    ends = f"intervals {ask.level:.0%}"
    units = ask.units if ask.fmt == "table" else "yards"
    notes: list[str] = []
    if detail == "consistency":
        table = consistency(store, selection, ask.level, source)
        answer, title = "consistency", f"How alike strikes are ({source}), {ends}"
    elif detail == "questions":
        table = questions(store, ask.benchmark, selection, ask.level, units)
        answer, title = "questions", f"Questions to settle, against {ask.benchmark}, {ends}"
        notes = ["A gap of 0.10 strokes is settled by about that many shots of each kind."]
    elif detail == "wear":
        table = wear(store, ask.benchmark, selection, ask.level)
        answer, title = "wear", f"Change per 100 shots with a club, {ends}"
        notes = [WEAR, CLUB_ADVICE]
    else:
        table = changes(store, ask.benchmark, selection, ask.level, units)
        answer, title = "questions", f"Before and after a club was replaced, {ends}"
        notes = [WEAR]
    emit(table, ask.fmt, answer, ask.say, title=title, notes=notes)


@click.command()
@reading_options
@chart_option()
@source_option
@click.argument("yards", type=kind_of("yards"), required=False)
@click.option("--on", type=kind_of("on"), help="Yards from the front edge to the pin.")
@click.option(
    "--deep", type=kind_of("deep"), help="Depth of the green, yards (30 where not given)."
)
@click.option("--left", type=kind_of("left"), help="Yards from the left edge to the pin.")
@click.option(
    "--wide", type=kind_of("wide"), help="Width of the green, yards (24 where not given)."
)
@click.option("--short", type=click.Choice(AROUND), default="rough", help="Lie short of it.")
@click.option("--long", "long_", type=click.Choice(AROUND), default="rough", help="Lie over it.")
@click.option("--left-side", type=click.Choice(AROUND), default="rough", help="Lie left of it.")
@click.option("--right-side", type=click.Choice(AROUND), default="rough", help="Lie right of it.")
@click.option("--lie", default="fairway", show_default=True, help="Played from this lie.")
@click.option("--firmness", help="Of the green: soft, medium or firm.")
@click.option("--from", "from_", type=kind_of("yards"), help="A sheet: from this number,")
@click.option("--to", type=kind_of("yards"), help="to this one,")
@click.option(
    "--step", type=kind_of("step"), default=5.0, show_default=True, help="in steps of this."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the sheet to a .csv, .html or .pdf (a pocket card).",
)
def number(ask: Ask, chart: Chart, source: str, yards: float | None, **given: Any) -> None:
    """Say what to hit: which swing, landed where, from an effective number of YARDS.

    The number is the one after wind and slope, in yards. Prepare before play.
    """
    from sgzone.clubs.green import green_of

    whole_range = given["from_"] is not None and given["to"] is not None
    if (yards is None) != whole_range:
        raise CallError(
            "give one number (sgzone number 97) or a range (sgzone number --from 60 --to 150)"
        )
    if yards is not None:
        refuse_idle("one number", ("step",))
    if given["out"] and not whole_range:
        raise CallError("--out writes a sheet: give a range too, such as --from 60 --to 150")
    reads = _check_out(given["out"], ask, chart)
    around = (given["short"], given["long_"], given["left_side"], given["right_side"])
    green = green_of(given["on"], given["deep"], given["left"], given["wide"], around)
    how = {"green": green, "lie": given["lie"], "firmness": given["firmness"], "source": source}
    with ask.store() as store:
        selection = the_player(store, ask.selection)
        check_selection(store, selection)
        if yards is not None:
            _number(store, selection, ask, chart, yards, how)
        else:
            _sheet(store, selection, ask, chart, given, how, reads)


def _number(
    store: Store, selection: Selection, ask: Ask, chart: Chart, yards: float, how: dict[str, Any]
) -> None:
    from sgzone.clubs.green import green_of
    from sgzone.clubs.number import plan_number
    from sgzone.words.cautions import RULES
    from sgzone.words.notes import options
    from sgzone.words.number import sentence

    table = plan_number(store, yards, ask.benchmark, selection, ask.level, **how)
    said = sentence(table, yards, ask.say)
    seen = options(table, ask.say)
    green = how["green"] or green_of()
    where = how["lie"], how["source"]
    chart.draw(store, selection, lambda pictures: pictures.green(seen, yards, green, *where))
    title = f"From the {how['lie']}, {how['source']} shots, against {ask.benchmark}"
    if ask.fmt == "table":
        tell(said)
    table = options(table, ask.say if ask.fmt == "table" else None)
    notes = (f"Interval {ask.level:.0%} of the difference: how well the swings are known.", RULES)
    emit(table, ask.fmt, "number", ask.say, title=title, notes=notes if len(table) else ())


def _check_out(file: Path | None, ask: Ask, chart: Chart) -> Reads:
    """Return what the call reads; raise before long work where no sheet can be written there."""
    from sgzone.benchmarks import files_of
    from sgzone.writing import Reads, refuse_twice

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
    from sgzone.words.cautions import RULES
    from sgzone.words.notes import options

    numbers = numbers_of(given["from_"], given["to"], given["step"])
    found = sheet = number_sheet(store, numbers, ask.benchmark, selection, ask.level, **how)
    chart.draw(
        store, selection, lambda pictures: pictures.numbers(found, how["lie"], how["source"])
    )
    if given["out"]:
        from sgzone.report.paper.pocket_card import write_sheet

        name = selection.player or "nobody"
        said = f"{name}, from the {how['lie']}, {how['source']} shots, against {ask.benchmark}"
        out: Path = given["out"]
        path = write_sheet(options(sheet), out, subtitle=said, units=ask.units, reads=reads)
        say(f"Wrote {named(path)}. {RULES}")
        return
    title = f"Numbers from the {how['lie']}, {how['source']} shots, against {ask.benchmark}"
    sheet = options(sheet, ask.say if ask.fmt == "table" else None)
    emit(sheet, ask.fmt, "number", ask.say, title=title, notes=(RULES,))
