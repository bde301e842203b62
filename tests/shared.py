"""What is costly to make and the same for every test: made once in a run, however many processes.

``conftest.py`` names a folder for it; without one it is made once in each process.
"""

from __future__ import annotations

import fcntl
import os
import pickle
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")
FOLDER = "SGZONE_TESTS_SHARED"


def shared(make: Callable[P, T]) -> Callable[P, T]:
    """Let the first process that asks make a value, and the others read it.

    The arguments are words that can be part of a file's name. Nothing may change what is given.
    """

    @cache
    def ask(*given: P.args, **named: P.kwargs) -> T:
        folder = os.environ.get(FOLDER)
        if folder is None:
            return make(*given, **named)
        path = Path(folder, "-".join((make.__name__, *map(str, given), *map(str, named.values()))))
        with path.with_name(f"{path.name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)  # whoever comes later waits for the first
            if not path.exists():
                path.write_bytes(pickle.dumps(make(*given, **named)))
            value: T = pickle.loads(path.read_bytes())
        return value

    return ask
