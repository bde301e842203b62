"""What can go wrong because of a file or a call, and how it is said.

Every message has four parts: what is wrong, where, what it means, what to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong (or worth noting) in one place of one input file."""

    file: str
    row: int | None  # as a spreadsheet numbers it: the header is row 1; None: the whole file
    column: str
    value: str
    wrong: str
    fix: str
    severity: str = "error"  # "error" refuses the file, "note" does not


class SgzoneError(Exception):
    """A user can cause it; the command line prints it without a traceback."""

    exit_code = 1


class CallError(SgzoneError):
    """The call is at fault (exit 2): an unknown name, two players where one is needed."""

    exit_code = 2


class DataError(SgzoneError):
    """The data or a file is at fault (exit 1).

    ``problems`` holds every problem of the file, in the file's own order.
    """

    def __init__(self, message: str, problems: Sequence[Problem] = ()) -> None:
        super().__init__(message)
        self.problems = tuple(problems)
