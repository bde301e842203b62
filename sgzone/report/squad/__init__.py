"""A coach's squad: what is asked of it, the page of its week, and a file for each player."""

from sgzone.report.squad.each import file_stems, own_pages
from sgzone.report.squad.members import Squad
from sgzone.report.squad.team import team_report

__all__ = ["Squad", "file_stems", "own_pages", "team_report"]
