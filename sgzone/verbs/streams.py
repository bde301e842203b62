"""Standard streams: a card that is piped in, and output that nobody takes (closed pipes)."""

from __future__ import annotations

import functools
import os
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TextIO

import click

from sgzone.errors import CallError
from sgzone.inputs import MEGA, STANDARD_INPUT, read_standard_input
from sgzone.writing import Output

PIPED = Path("-")
"""The name of a file that stands for standard input."""
_MOST = 64 * MEGA


def takes_standard_input(verb: Callable[..., Any]) -> Callable[..., Any]:
    """Let a verb of files read what is piped in, where one of them is ``-``."""

    @functools.wraps(verb)
    def wrapper(*words: Any, files: Sequence[Path], **rest: Any) -> Any:
        with _with_standard_input(files) as there:
            return verb(*words, files=there, **rest)

    return wrapper


@contextmanager
def _with_standard_input(files: Sequence[Path]) -> Iterator[Sequence[Path]]:
    """Give the files of a call, what was piped in saved in a folder that only its owner reads.

    Whether that is a text card or a table its content says. Raises ``CallError`` where it is named
    twice, ``DataError`` for what is no text.
    """
    if PIPED not in files:
        yield files
        return
    if list(files).count(PIPED) > 1:
        raise CallError("Standard input (-) can be read once; name it once.")
    from sgzone.cards.text.file import decoded, ending_of

    if sys.stdin is not None and sys.stdin.isatty():
        click.echo("Type or paste the card, then press Ctrl-D on a line of its own.", err=True)
    held = read_standard_input(_MOST)
    with tempfile.TemporaryDirectory(prefix="sgzone-") as folder:
        ending = ending_of(decoded(Path(STANDARD_INPUT), held))
        saved = Path(folder, STANDARD_INPUT).with_suffix(ending)
        Output(saved, None).write(held)
        yield [saved if file == PIPED else file for file in files]


def drop(stream: TextIO) -> None:
    """Let what is still to be written go nowhere, or Python would complain when it ends."""
    with suppress(OSError, AttributeError):  # a test's output is no file
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


@contextmanager
def unheard_is_fine() -> Iterator[None]:
    """Write messages to standard error; where they cannot be written the work goes on.

    They are not the answer, and what was done is done: a load must not stop in the middle of its
    files because nobody listens.
    """
    try:
        yield
    except OSError:
        drop(sys.stderr)
