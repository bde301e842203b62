"""What can go wrong because of a file or a call, and how it is said.

Every message has four parts: what is wrong, where, what it means, what to do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import islice

INTERRUPTED = 130  # the exit code after Ctrl-C
STOPPED = "Stopped. Each file is in the season file whole or not at all; sgzone rounds shows which."
# as a library says it, not as a file's or a column's name says it
_SIGN = re.compile(r"(?:^|: )(?:KeyboardInterrupt|Query interrupted)(?![\w.'\"])")
_LIKENESS = 0.72  # difflib ratio from which an unknown word counts as a slip of a known one
_SWAPPED_FROM = 3  # letters of the shortest word whose letters may have changed places
_LONGEST = 200  # letters of a word that may be a slip
MOST_OF_A_KIND = 1000  # told one by one; the rest is counted: a million objects fill the memory


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong (or worth noting) in one place of one input file."""

    file: str
    row: int | None  # as a spreadsheet numbers it (a frame's from 0); None: the whole file
    column: str
    value: str
    wrong: str
    fix: str
    severity: str = "error"  # "error" refuses the file, "note" does not
    times: int = 1  # over 1: it stands for so many of its kind, of which it is the first


def number_of(problems: Iterable[Problem]) -> int:
    """Return how many problems there are, those that are only counted included."""
    return sum(problem.times for problem in problems)


def first_of_a_kind(problems: Iterable[Problem], total: int) -> list[Problem]:
    """Return the first ``MOST_OF_A_KIND`` of ``total`` problems of one kind, given in file order.

    One more follows where there are more: the next one, which stands for all the rest. Only so
    many are taken from ``problems``.
    """
    kept = list(islice(problems, MOST_OF_A_KIND + 1))
    if total > len(kept) > MOST_OF_A_KIND:
        kept[-1] = replace(kept[-1], times=total - MOST_OF_A_KIND)
    return kept


class SgzoneError(Exception):
    """A user can cause it; the command line prints it without a traceback."""

    exit_code = 1


class CallError(SgzoneError):
    """The call is at fault: an unknown name, two players where one is needed.

    The command line ends with exit code 2.
    """

    exit_code = 2


class DataError(SgzoneError):
    """The data or a file is at fault; the command line ends with exit code 1.

    ``problems`` holds every problem of the file, in the file's own order; of each kind the first
    1000, and one that stands for the rest. ``beside``: the message where a table of
    the problems is at hand, which need not name the first again.
    """

    def __init__(
        self, message: str, problems: Sequence[Problem] = (), *, beside: str | None = None
    ) -> None:
        super().__init__(message)
        self.problems: tuple[Problem, ...] = tuple(problems)
        self.beside: str = message if beside is None else beside


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that ``word`` is likely a slip of, or None.

    Capitals and whether blanks, hyphens or underscores part the words make no difference.

    >>> nearest("penalties", ["penalty", "hole"]), nearest("wedge 50-100", ["wedge_50_100"])
    ('penalty', 'wedge_50_100')
    >>> nearest("dym", ["dmy", "mdy"])
    'dmy'
    """
    if len(word) > _LONGEST:  # a book is no slip, and takes long to hold against words
        return None
    plain = {_plain(name): name for name in sorted(known, reverse=True)}
    close = get_close_matches(_plain(word), sorted(plain), n=1, cutoff=_LIKENESS)
    if close:
        return plain[close[0]]
    return next((name for key, name in sorted(plain.items()) if _swapped(_plain(word), key)), None)


def _swapped(word: str, known: str) -> bool:
    """Return whether two neighbouring letters changed places: of a short word that is a lot.

    Figures are no letters: a 45 is no slip of a 54.
    """
    if len(word) != len(known) or len(word) < _SWAPPED_FROM:
        return False
    off = [place for place, (a, b) in enumerate(zip(word, known, strict=True)) if a != b]
    if len(off) != 2 or off[1] - off[0] != 1:
        return False
    pair = word[off[0] : off[1] + 1]
    return pair.isalpha() and pair == known[off[1]] + known[off[0]]


def _plain(word: str) -> str:
    return re.sub(r"[\s_-]+", "_", word.strip().lower())


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return the question after an unknown word, with a blank before it; empty where none is near.

    >>> did_you_mean("sumary", ["summary", "why"])
    ' Did you mean summary?'
    """
    guess = nearest(word, known)
    return f" Did you mean {guess}?" if guess else ""


def is_interruption(wrong: BaseException | None) -> bool:
    """Return whether Ctrl-C is behind an error: a library in the middle of something makes it one.

    DuckDB keeps no more of it than its name in the text.
    """
    while wrong is not None and not isinstance(wrong, KeyboardInterrupt):
        if _SIGN.search(str(wrong)):
            return True
        wrong = wrong.__cause__ or wrong.__context__
    return wrong is not None
