"""`--chart`: the answer of a verb as a picture, in a file of its own."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sgzone.harmless import named
from sgzone.verbs.options import Ask, Verb
from sgzone.verbs.progress import finished
from sgzone.verbs.show import say
from sgzone.writing import Output, Reads

if TYPE_CHECKING:
    from sgzone.report.pictures import Drawn, Pictures
    from sgzone.season.selection import Selection
    from sgzone.season.store import Store

_option = click.option(
    "--chart",
    "chart",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Draw the answer too: FILE ends in .svg, .png, .html or .json.",
)


@dataclass(frozen=True, slots=True)
class Chart:
    """Where the chart of an answer goes, and where nowhere does."""

    ask: Ask
    file: Path | None
    reads: Reads

    def output(self) -> tuple[Output, ...]:
        """Return what will be written, none where no chart was asked for.

        Raises where it may not be written there.
        """
        if self.file is None:
            return ()
        from sgzone.report.charts.file import chart_output

        return (chart_output(self.file, self.reads),)

    def draw(
        self, store: Store, selection: Selection, picture: Callable[[Pictures], Drawn]
    ) -> None:
        """Write what ``picture`` draws, and say so; or say why there is nothing to draw."""
        if self.file is None:
            return
        from sgzone.benchmarks.saved import in_store
        from sgzone.report.asked import Asked
        from sgzone.report.charts.file import write_chart
        from sgzone.report.pictures import Pictures

        curve = in_store(store, self.ask.benchmark)
        made = picture(Pictures(Asked(store, curve, selection, self.ask.say)))
        if isinstance(made, str):
            finished()
            say(f"No chart: {made}")
            return
        write_chart(made, self.file, self.reads)
        finished()
        say(f"Chart: {named(self.file)}")


def chart_option(*read: str) -> Callable[[Verb], Verb]:
    """Give a verb ``--chart``; it receives a ``Chart`` as its argument ``chart``.

    ``read``: the arguments that may name further files which the verb reads. Where no chart can
    be written is refused before the verb begins.
    """

    def given(verb: Verb) -> Verb:
        @functools.wraps(verb)
        def wrapper(ask: Ask, chart: Path | None, **rest: Any) -> Any:
            from sgzone.benchmarks import files_of

            files = files_of(ask.benchmark, *(rest[name] for name in read))
            drawn = Chart(ask, chart, Reads(ask.db, files))
            drawn.output()
            return verb(ask, chart=drawn, **rest)

        return _option(wrapper)

    return given
