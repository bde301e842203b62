"""What share of the practice hours each part deserves."""

from sgzone.practice.blocks import block_change
from sgzone.practice.plan import Plan, practice_plan
from sgzone.practice.sessions import week_plan
from sgzone.practice.settings import Settings, read_settings
from sgzone.practice.whatif import what_if

__all__ = [
    "Plan",
    "Settings",
    "block_change",
    "practice_plan",
    "read_settings",
    "week_plan",
    "what_if",
]
