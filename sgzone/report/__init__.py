"""Charts, words and pages: draws finished tables and computes nothing."""

import sys

from sgzone.errors import CallError

if sys.flags.optimize > 1:
    try:
        import altair  # noqa: F401
    except AttributeError as wrong:
        raise CallError(
            "charts cannot be drawn under python -OO: the chart library needs the docstrings that "
            "it takes away. Run it as python, or as python -O."
        ) from wrong

from sgzone.report.write import write_report

__all__ = ["write_report"]
