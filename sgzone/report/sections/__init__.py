"""The chapters of a player's report, in their order; a new one is a file here and a line below."""

from sgzone.report.sections.agree import AGREE
from sgzone.report.sections.clubs import CLUBS
from sgzone.report.sections.counts import COUNTS
from sgzone.report.sections.grid import GRID
from sgzone.report.sections.method import CAUTIONS, METHOD, SOURCES
from sgzone.report.sections.misses import MISSES
from sgzone.report.sections.practice import PRACTICE
from sgzone.report.sections.proximity import PROXIMITY
from sgzone.report.sections.sides import AGAINST
from sgzone.report.sections.trend import TREND
from sgzone.report.sections.where import WHERE
from sgzone.report.sections.why import WHY

FINE_PRINT = (METHOD, SOURCES, CAUTIONS)
"""What closes every report."""
CHAPTERS = (
    AGREE,
    WHERE,
    AGAINST,
    GRID,
    PROXIMITY,
    WHY,
    MISSES,
    COUNTS,
    CLUBS,
    PRACTICE,
    TREND,
    *FINE_PRINT,
)
