"""A sign of life on standard error while long work runs; nothing where that is no terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

from sgzone.harmless import one_line

_running: list[Callable[[], None]] = []
PATIENCE = 1.0  # seconds before it shows: short work needs no sign


@contextmanager
def working(what: str) -> Iterator[None]:
    """Show ``what`` with the time it has taken, until the work inside is done."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    shown = Progress(
        SpinnerColumn(),
        TextColumn(escape(one_line(what))),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
        redirect_stdout=False,  # data go straight where they are sent
    )
    shown.add_task(what, total=None)
    later = Timer(PATIENCE, shown.start)

    def stop() -> None:
        later.cancel()
        later.join()
        shown.stop()

    _running.append(stop)
    later.start()
    try:
        yield
    finally:
        _running.remove(stop)
        stop()


def finished() -> None:
    """Take the sign away: what follows is the answer."""
    for stop in _running:
        stop()
