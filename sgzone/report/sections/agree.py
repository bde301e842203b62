"""What coach and player agreed on and how it goes, then what they may agree on next."""

from __future__ import annotations

from sgzone.report.asked import Asked
from sgzone.report.page import Section
from sgzone.words.agreed import proposals as words
from sgzone.words.agreed.going import line
from sgzone.words.digits import rows

AGREE_LINES = 3
"""To agree on at a time, open ones and new ones; so many lines to write on."""


def section(asked: Asked) -> Section:
    """Return the open agreements, a line each, and what else to agree on, with room to write.

    One proposal at least is new, whatever is open still. The newest agreements are told.
    """
    still = asked.agreements[asked.agreements["closed"].isna()]
    told = still.tail(AGREE_LINES)
    lead = words.proposals_lead(
        asked.parts,
        asked.why,
        asked.plan,
        asked.say,
        most=max(AGREE_LINES - len(told), 1),
        but=set(still["part"].dropna()),
    )
    return Section(
        lead,
        notes=words.level_note(asked.parts, asked.say),
        items=tuple(line(row, asked.say) for row in rows(told)),
        lines=max(AGREE_LINES - len(told), 1),
    )
