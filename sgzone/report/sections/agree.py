"""What coach and player may agree on."""

from __future__ import annotations

from sgzone.report.asked import Asked
from sgzone.report.page import Place, Section
from sgzone.report.sections.chapter import Chapter
from sgzone.words import practice as words

AGREE_LINES = 3


def agree_section(asked: Asked) -> Section:
    """Return what to agree on, with room to write."""
    lead = words.agree_lead(asked.parts, asked.why, asked.plan, asked.say)
    return Section(lead, notes=words.level_note(asked.parts, asked.say), lines=AGREE_LINES)


AGREE = Chapter("agree", "Three things to agree", agree_section, place=Place.PLAYER)
