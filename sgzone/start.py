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
        from sgzone.errors import is_interruption

        # errors of ours end in SystemExit and never get here
        if not is_interruption(wrong):
            raise
        _no_more_interruptions()
        _say_stopped()
    finally:
        _no_more_interruptions()


def _no_more_interruptions() -> None:
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _say_stopped() -> None:
    from sgzone.errors import INTERRUPTED, STOPPED

    sys.stderr.write(f"{STOPPED}\n")
    sys.exit(INTERRUPTED)
