"""What coach and player may agree on."""

from __future__ import annotations

from sgzone.report.asked import Asked
from sgzone.report.page import Section
from sgzone.words import practice as words

AGREE_LINES = 3


def section(asked: Asked) -> Section:
    """Return what to agree on, with room to write."""
    lead = words.agree_lead(asked.parts, asked.why, asked.plan, asked.say)
    return Section(lead, notes=words.level_note(asked.parts, asked.say), lines=AGREE_LINES)
