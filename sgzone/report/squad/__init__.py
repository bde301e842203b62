"""A coach's squad: what is asked of it, the page of its week, and a file for each player."""

from sgzone.report.squad.members import Squad
from sgzone.report.squad.team import team_report

__all__ = ["Squad", "team_report"]
