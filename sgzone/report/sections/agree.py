"""What coach and player may agree on."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.page import Section
from sgzone.words import practice as words

AGREE_LINES = 3


def agree_section(review: Review) -> Section:
    """Return what to agree on, with room to write."""
    lead = words.agree_lead(review.parts, review.why, review.plan, review.say)
    return Section(
        "agree",
        "Three things to agree",
        lead,
        notes=words.level_note(review.parts, review.say),
        lines=AGREE_LINES,
    )
