"""Standard output and error where nobody takes what is written: closed pipes, full disks."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO


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
