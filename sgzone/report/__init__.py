"""Charts, words and pages: draws finished tables and computes nothing."""

from sgzone.report.write import write_report

__all__ = ["write_report"]
