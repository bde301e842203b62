"""What a mapping that was written says of a table, and what is still to be said."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sgzone.cards.mapping.draft import Draft
from sgzone.harmless import named
from sgzone.words.digits import count, listed

_MOST = 8  # names in one sentence


def written(file: Path, target: Path, draft: Draft) -> list[str]:
    """Return what was mapped, what was not, and what to do next: a sentence each."""
    found = len(draft.sure) + len(draft.guesses)
    lines = [f"Wrote {named(target)}: {count(found, 'column')} found."]
    for names, sentence in (
        (draft.places, "Distance, depth and side come from the positions of {}."),
        (draft.guesses, "Look at these guesses: {}."),
        (draft.left, "Not mapped: {}."),
        (draft.words, "Words without a meaning yet: {}."),
        (draft.asked, "To fill in there: {}."),
        (draft.lacking, "Needed and not found: {}."),
    ):
        if names:
            lines.append(sentence.format(_some(names)))
    return [*lines, f"Read it through, then: sgzone check {named(file)}"]


def _some(names: Sequence[str]) -> str:
    if len(names) > _MOST:
        return f"{', '.join(names[:_MOST])} and {len(names) - _MOST} more"
    return listed(names)
