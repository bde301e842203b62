"""Lines without a stroke that a card often has: totals, times, holes that were not played."""

from __future__ import annotations

import re
from collections.abc import Iterable

_TOTAL = re.compile(
    r"(in|out|total|tot|score|gross|net|nett|thru|front|back|front nine|back nine|front 9|back 9"
    r"|f9|b9|1st nine|2nd nine|first nine|second nine|hin|rück|aller|retour)"
    r"\s*[:=]?[\s\d/+=-]*",
    re.IGNORECASE,
)
_NOT_PLAYED = re.compile(
    r"(holes?\s+)?\d{1,2}(\s*([-,&+]|to|and)\s*\d{1,2}){0,17}\s*[:-]?\s*"
    r"(not (recorded|played|kept|written down|finished)|no card|skipped|missing|did not play|dnp)",
    re.IGNORECASE,
)
_ALONE = re.compile(r"(hole\s+)?\d{1,2}\s*[.:)-]?", re.IGNORECASE)
_TIME = re.compile(
    r"(tee(d off)? ?(time|off)?( at)?:? ?)?\d{1,2}[:.]\d\d( ?[ap]m)?( tee( time)?)?", re.I
)


def is_passed_over(text: str) -> bool:
    """Return whether a clean line is one of those that say nothing of a stroke.

    >>> is_passed_over("In 41"), is_passed_over("7-9 not recorded"), is_passed_over("7 18 2")
    (True, True, False)
    """
    return any(form.fullmatch(text) for form in (_TOTAL, _NOT_PLAYED, _ALONE, _TIME))


def lines_in_words(numbers: Iterable[int]) -> str:
    """Return the numbers of lines in words, neighbours together.

    >>> lines_in_words([3, 4, 5, 9]), lines_in_words([2])
    ('lines 3-5, 9', 'line 2')
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1] = [runs[-1][0], number]
        else:
            runs.append([number])
    told = ", ".join("-".join(map(str, run)) for run in runs)
    return f"line{'s' if runs and (len(runs) > 1 or len(runs[0]) > 1) else ''} {told}"
