"""The way in: Ctrl-C ends in one sentence, even while Python still gathers what it needs.

Nothing stands above ``start`` that takes time to import: before it runs, Ctrl-C is Python's own.
"""

from __future__ import annotations

import sys


def start() -> None:
    """Run the command line, and let nothing interrupt the way out."""
    try:
        from sgzone.cli import main

        main()
    except (KeyboardInterrupt, Exception) as wrong:
        if not _interrupted(wrong):
            raise
        _no_more_interruptions()
        _say_stopped()
    finally:
        _no_more_interruptions()


def _interrupted(wrong: BaseException | None) -> bool:
    """Return whether Ctrl-C is behind an error: a library in the middle of something makes it one.

    DuckDB keeps no more of it than its name in the text. Errors of ours end in ``SystemExit`` and
    never get here.
    """
    while wrong is not None and not isinstance(wrong, KeyboardInterrupt):
        if KeyboardInterrupt.__name__ in str(wrong):
            return True
        wrong = wrong.__cause__ or wrong.__context__
    return wrong is not None


def _no_more_interruptions() -> None:
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _say_stopped() -> None:
    from sgzone.errors import INTERRUPTED, STOPPED

    sys.stderr.write(f"{STOPPED}\n")
    sys.exit(INTERRUPTED)
