"""The way in: Ctrl-C ends in one sentence, even while Python still gathers what it needs.

Nothing stands above ``start`` that takes time to import: before it runs, Ctrl-C is Python's own.
"""

from __future__ import annotations

import os
import sys

THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")
"""Where a user says on how many threads OpenBLAS, of numpy and scipy, may work."""


def start() -> None:
    """Run the command line, and let nothing interrupt the way out."""
    try:
        _open_what_is_closed()
        _calculate_on_one_thread()
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
        _leave_without_sweeping()


def _open_what_is_closed() -> None:
    """Let standard streams that were closed lead nowhere.

    Else the next file that is opened gets the number of the closed one: the season file would be
    standard error, and whatever a library prints there would be written into it.
    """
    for number, name, way in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest free number, which is this one
        if getattr(sys, name) is None:
            setattr(sys, name, open(number, way, closefd=False, encoding="utf-8"))  # noqa: SIM115


def _calculate_on_one_thread() -> None:
    """Keep OpenBLAS to one thread, unless the user said how many.

    Our matrices are small: its other threads mostly wait, and waiting costs processor time.
    """
    if not any(name in os.environ for name in THREADS):
        os.environ[THREADS[0]] = "1"


def _leave_without_sweeping() -> None:
    """Let Python end without looking through every object for what refers to itself.

    The libraries have made hundreds of thousands, and all of them end with the process.
    """
    import gc

    gc.freeze()


def _no_more_interruptions() -> None:
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _say_stopped() -> None:
    from sgzone.errors import INTERRUPTED, STOPPED

    sys.stderr.write(f"{STOPPED}\n")
    sys.exit(INTERRUPTED)
