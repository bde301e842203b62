"""A page for each player of a squad, with nothing on it of anybody else."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator

from sgzone.report.asked import Asked
from sgzone.report.page import Page, Place, Section
from sgzone.report.player import summary_of
from sgzone.report.sections import in_order
from sgzone.report.squad.members import Squad
from sgzone.report.squad.week import own_lead
from sgzone.words import method as method_words
from sgzone.words import season as season_words
from sgzone.words import squad as words

SHOWN = ("where", "practice", "agree", "counts", "method", "sources", "cautions")
"""The chapters of a season's report that a player is sent after a meeting."""
_MOST_LETTERS = 40
_RESERVED = re.compile(r"con|prn|aux|nul|(com|lpt)\d")  # no file's name on Windows
_MARKED = re.compile(r"-[0-9a-f]{8}")  # ends like a name that was marked


def own_pages(squad: Squad) -> Iterator[tuple[str, Page]]:
    """Yield every player of the squad, by name, with the page that is theirs alone.

    Full names, as each is sent to its own player. The day of the meeting is the squad's.
    """
    for own in squad.members:
        yield own.player, _page(squad, own)


def _page(squad: Squad, own: Asked) -> Page:
    first, last = own.days or (None, None)
    shown = [chapter for chapter in in_order(own) if chapter.id in SHOWN]
    sections = [section for chapter in shown if (section := chapter.section(own))]
    return Page(
        title=season_words.title(own.player, own.say),
        subtitle=season_words.subtitle(first, last, own.rounds, own.holes, own.curve.name),
        summary=summary_of(own),
        sections=(*_since(squad, own), *sections),
        colophon=method_words.COLOPHON,
    )


def _since(squad: Squad, own: Asked) -> tuple[Section, ...]:
    """Return what happened since the meeting and what is agreed on; no section where nothing is."""
    lead = own_lead(squad, own, alone=True)
    made = Section(lead, id="since", title=words.SINCE, place=Place.PLAYER)
    return (made,) if lead else ()


def file_stems(players: Iterable[str]) -> dict[str, str]:
    """Return a harmless file name without its ending for each player, all of them different.

    Small Latin letters, digits and hyphens. Where two names come out alike, or nothing is left of
    one, a mark of the name itself follows: whoever else is in the squad, a player's file does not
    become another one's.

    >>> file_stems(["Ada Lowry", "Al/../Lime", "Bo"])
    {'Ada Lowry': 'ada-lowry', 'Al/../Lime': 'al-lime', 'Bo': 'bo'}
    """
    plain = {player: _plain(player) for player in players}
    often = Counter(plain.values())
    return {
        player: stem if often[stem] == 1 and _stands_alone(stem) else f"{stem}-{_mark(player)}"
        for player, stem in plain.items()
    }


def _plain(player: str) -> str:
    letters = unicodedata.normalize("NFKD", player).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_MOST_LETTERS].strip("-") or "player"


def _stands_alone(stem: str) -> bool:
    taken = _RESERVED.fullmatch(stem) or _MARKED.search(stem[-9:]) or stem == "player"
    return not taken


def _mark(player: str) -> str:
    return hashlib.sha256(player.encode("utf-8", "surrogatepass")).hexdigest()[:8]
