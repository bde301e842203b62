"""The options that reading verbs share, gathered in one object."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from math import nan
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.bounds import BOUNDS, Bound
from sgzone.errors import CallError, did_you_mean
from sgzone.season.selection import Selection
from sgzone.terms import AUTO, BENCHMARK_NAMES, DEFAULT_LEVEL, WOMEN_NAMES
from sgzone.units import FT_PER_YD, M_PER_YD, Units, split_distance, to_ft
from sgzone.verbs.nearest import Game, each, settle, settled
from sgzone.verbs.person.settings import DB, Setting, blamed, set_in
from sgzone.verbs.progress import working
from sgzone.verbs.show import ASKED_OF_TABLES, EVERY_ROW, MOST_ROWS, say
from sgzone.words.say import METRIC, Say

if TYPE_CHECKING:
    from sgzone.season.store import Store

DEFAULT_DB = "sgzone.duckdb"
DEFAULT_BENCHMARK = "tour"
FORMATS = ("table", "csv", "json")
UNITS: tuple[Units, ...] = ("yards", "metric")
DAY = click.DateTime(formats=["%Y-%m-%d"])

Verb = Callable[..., Any]


class Number(click.FloatRange):
    """A number of one of ``BOUNDS``."""

    name = "number"

    def __init__(self, bound: Bound) -> None:
        super().__init__(bound.low, bound.high, min_open=bound.above)
        self.bound = bound

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the number; the complaint is that of the Python functions."""
        try:
            return self.bound.read(value) if isinstance(value, str) else self.bound.check(value)
        except CallError as wrong:
            self.fail(str(wrong), param, ctx)


def number(name: str) -> Number:
    """Return the kind of an option or argument that takes this quantity of ``BOUNDS``."""
    return Number(BOUNDS[name])


class Length(Number):
    """A length of one of ``BOUNDS``, which is in yards; a bare number is in the units asked for.

    ``96yd``, ``88 m`` and ``30 ft`` say their own. ``--units`` is known here: it is read first.
    """

    name = "length"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the yards; the complaint is in the unit that was typed."""
        if not isinstance(value, str):
            return super().convert(value, param, ctx)
        metric = ctx is not None and ctx.params.get("units") == METRIC
        amount, unit = _typed_length(value)
        unit = unit or ("m" if metric else "yd")
        yards = amount if unit == "yd" else to_ft(amount, unit) / FT_PER_YD
        if not self.bound.holds(yards):
            bound = self.bound if unit == "yd" else _in_metres(self.bound)
            self.fail(bound.wrong(value), param, ctx)
        return yards


def _typed_length(text: str) -> tuple[float, str | None]:
    """Return the number that was typed, NaN for none, and its unit, None where it has none."""
    try:
        return float(text), None
    except ValueError:
        pass
    try:
        return split_distance(text)
    except ValueError:
        return nan, None


def _in_metres(bound: Bound) -> Bound:
    """Return the bound of a length in metres instead of yards."""
    return replace(
        bound,
        noun=bound.noun.replace("yards", "metres"),
        low=bound.low * M_PER_YD,
        high=bound.high * M_PER_YD,
        example=f"{float(bound.example) * M_PER_YD:.0f}",
    )


def length(name: str) -> Length:
    """Return the kind of an option or argument that takes this length of ``BOUNDS``."""
    return Length(BOUNDS[name])


db_option = click.option(
    "--db",
    type=click.Path(path_type=Path, dir_okay=False),
    default=DEFAULT_DB,
    envvar=DB,
    show_default=True,
    show_envvar=True,
    is_eager=True,  # a person's settings stand beside it
    help="The season file to use, such as --db ned.duckdb.",
)
format_option = click.option(
    "--format",
    "fmt",
    type=click.Choice(FORMATS),
    default="table",
    show_default=True,
    help="csv and json: full numbers, for a spreadsheet or a script.",
)


def table_options(verb: Verb) -> Verb:
    """Give a verb the options of what it prints: format, wide, rows; it hears of format alone."""
    wide = click.option(
        "--wide",
        is_flag=True,
        expose_value=False,
        callback=_kept("wide"),
        help="Every column of the table, not only the short ones.",
    )
    rows = click.option(
        "--rows",
        type=Rows(),
        metavar="N|all",
        expose_value=False,
        callback=_kept("rows"),
        help=f"How many rows to print, such as --rows all; {MOST_ROWS} if not given.",
    )
    return format_option(wide(rows(verb)))


def _kept(name: str) -> Callable[[click.Context, click.Parameter, Any], Any]:
    def keep(context: click.Context, _: click.Parameter, value: Any) -> Any:
        """Keep what was typed for whatever prints the table."""
        if value is not None:
            context.meta[f"{ASKED_OF_TABLES}.{name}"] = value
        return value

    return keep


class Rows(click.ParamType[int]):
    """A number of rows, or ``all``."""

    name = "rows"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Return the number of rows; of ``all`` more than any table has."""
        return EVERY_ROW if value == "all" else number("rows").convert(value, param, ctx)


units_option = click.option(
    "--units",
    cls=Setting,
    type=click.Choice(UNITS),
    default="yards",
    show_default=True,
    is_eager=True,  # what lengths are typed in hangs on it
    help="Yards and feet or metres, as you type and read; csv and json keep yards.",
)


benchmark_option = click.option(
    "--benchmark",
    cls=Setting,
    default=DEFAULT_BENCHMARK,
    show_default=True,
    help=f"Compare with {', '.join((*BENCHMARK_NAMES, *WOMEN_NAMES))}, a fitted curve or your "
    f"own csv. Or with {AUTO}, the standard nearest to your game.",
)
level_option = click.option(
    "--level",
    type=number("level"),
    default=DEFAULT_LEVEL,
    show_default=True,
    help="How often a range is right, such as --level 0.9.",
)


@dataclass(frozen=True, slots=True)
class Ask:
    """What a reading verb was asked. ``against``: the benchmark as typed, maybe ``auto``."""

    db: Path
    selection: Selection
    against: str
    level: float
    units: Units
    fmt: str

    @property
    def benchmark(self) -> str:
        """The benchmark by name: of ``auto`` the standard it is, known in ``one_player``."""
        return settled(self.against)

    @property
    def say(self) -> Say:
        """How the answer is said."""
        return Say(self.units, self.level)

    @property
    def in_notes(self) -> Say:
        """How notes are said: those of csv and json in the units of their column names."""
        return self.say if self.fmt == "table" else Say(level=self.level)

    @contextmanager
    def store(self) -> Iterator[Store]:
        """Open the season file for reading; long work on it shows that it goes on."""
        from sgzone.benchmarks.saved import in_store
        from sgzone.season.store import open_store

        with (
            working(f"Reading {self.db.name}"),
            open_store(self.db, read_only=True, create=False) as store,
        ):
            if self.against != AUTO and set_in("benchmark"):
                with blamed("benchmark"):
                    in_store(store, self.against)
            yield store

    @property
    def of_all(self) -> Selection:
        """The selection of an answer about all players: a player who was set, not typed, is out."""
        return replace(self.selection, player=None) if set_in("player") else self.selection

    @contextmanager
    def everybody(self) -> Iterator[Store]:
        """Open the season file for an answer about all it holds; ``check_selection`` is done."""
        with self.store() as store:
            check_selection(store, self.selection)
            yield store

    @contextmanager
    def one_player(self) -> Iterator[tuple[Store, Selection]]:
        """Open the season file for an answer about ``the_player``; ``check_selection`` is done."""
        with self.store() as store:
            selection = the_player(store, self.selection)
            check_selection(store, selection)
            if self.against == AUTO:
                say(*settle(store, selection, self.say))
            yield store, selection

    def games(self, store: Store) -> list[Game]:
        """Return whose rounds are held against what: all against one, or each player's own."""
        if self.against != AUTO:
            return [Game(self.selection, self.against)]
        games, said = each(store, self.selection, self.say)
        say(*said)
        return games


def the_player(store: Store, selection: Selection) -> Selection:
    """Return the selection with its one player named.

    Raises ``CallError`` where several players are in the file and none was chosen: what one
    player should do cannot be read off two players' strokes.
    """
    players = store.players()
    if selection.player is None and len(players) > 1:
        raise CallError(
            f"the season file holds {len(players)} players ({', '.join(players)}) and this answer "
            f'is for one; add --player "{players[0]}"'
        )
    name = players[0] if selection.player is None and players else selection.player
    return Selection(name, selection.since, selection.until, selection.event)


def check_selection(store: Store, selection: Selection) -> None:
    """Refuse a player of whom the file knows nothing; say where it has no round of these days.

    A misspelt name raises ``CallError``. Days without a round have an empty answer, which is true,
    and so has a season file without a round.
    """
    with blamed("player"):
        store.refuse_unknown(selection.player)
    if not store.players():
        say("No round in the season file yet. Write a card (sgzone template card.xlsx), load it.")
        return
    asked = selection != Selection(selection.player)
    if asked and not store.listed(selection)["date"]:
        rounds = store.listed(Selection(selection.player))
        days, events = rounds["date"], {event for event in rounds["event"] if event is not None}
        there = (
            f"{len(days)} round{'' if len(days) == 1 else 's'}, {min(days)} to {max(days)}, "
            f"events: {', '.join(sorted(events)) or 'none named'}"
            if days
            else "none of this player"
        )
        hint = did_you_mean(selection.event, events) if selection.event else ""
        say(f"No round of these days and events in the season file (there: {there}).{hint}")


def chosen(
    player: str | None, since: datetime | None, until: datetime | None, event: str | None
) -> Selection:
    """Return the rounds that were asked for; ``CallError`` where the days stand in no order."""
    if since and until and since > until:
        raise CallError(
            f"--since {since.date()} is after --until {until.date()}, so no round is between "
            "them; swap the two."
        )
    return Selection(
        player, since.date() if since else None, until.date() if until else None, event
    )


def day_options(verb: Verb) -> Verb:
    """Give a verb the options that choose rounds of whoever it is: since, until, event."""
    for option in (
        click.option(
            "--event", help="Only rounds of this kind: competition, practice or your word."
        ),
        click.option("--until", type=DAY, help="Last day to count, such as 2026-09-30."),
        click.option("--since", type=DAY, help="First day to count, such as 2026-05-14."),
    ):
        verb = option(verb)
    return verb


def selection_options(verb: Verb) -> Verb:
    """Give a verb the options that choose rounds: player, since, until, event."""
    player = click.option("--player", cls=Setting, help='One player, such as "Ned Farrow".')
    return player(day_options(verb))


def reading_options(verb: Verb) -> Verb:
    """Give a verb the shared reading options; it receives them as its argument ``ask``."""
    return reading_options_but()(verb)


def reading_options_but(*without: str) -> Callable[[Verb], Verb]:
    """Give a verb the shared reading options but for those that can never act on its answer."""

    def given(verb: Verb) -> Verb:
        @functools.wraps(verb)
        def wrapper(
            db: Path,
            player: str | None,
            since: datetime | None,
            until: datetime | None,
            event: str | None,
            benchmark: str = DEFAULT_BENCHMARK,
            level: float = DEFAULT_LEVEL,
            units: Units = "yards",
            fmt: str = FORMATS[0],
            **rest: Any,
        ) -> Any:
            selection = chosen(player, since, until, event)
            say_not_claimed(benchmark)
            return verb(Ask(db, selection, benchmark, level, units, fmt), **rest)

        offered: Verb = wrapper
        for name, option in reversed(_READING.items()):
            if name not in without:
                offered = option(offered)
        return offered

    return given


_READING: dict[str, Callable[[Verb], Verb]] = {
    "db": db_option,
    "selection": selection_options,
    "benchmark": benchmark_option,
    "level": level_option,
    "units": units_option,
    "format": table_options,
}


def say_not_claimed(*names: str) -> None:
    """Say on standard error what of the curves for women is no women's curve."""
    if not set(names) & set(WOMEN_NAMES):
        return
    from sgzone.words.benchmark import not_claimed

    say(*not_claimed(names, Say()))
