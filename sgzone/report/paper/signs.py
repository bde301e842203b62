"""Signs that no font at hand can print, such as a picture in a player's name: a star instead."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from functools import cache

import typst

from sgzone.report.fonts import FAMILY, FOLDER

FONTS = ("Libertinus Serif", "DejaVu Sans", "Noto Color Emoji")
"""Of a printed report. Typst brings the first; for signs it lacks the machine's are asked."""
INSTEAD = "*"

_SURE = 0x17F  # letters of western and central Europe, which the first font has
_JOINERS = "\ufe0e\ufe0f\u200d"  # they make one picture of several signs
_SHEET = b"""#set text(font: json(bytes(sys.inputs.fonts)))
#for sign in json(bytes(sys.inputs.signs)) [#text(sign) ]"""


def printable(text: str) -> str:
    """Return the text, each run of signs that no font has as one star."""
    missing = unprintable(_unsure(text))
    if not missing:
        return text
    run = f"(?:[{re.escape(''.join(sorted(missing)))}][{_JOINERS}]*)+"
    return re.sub(run, INSTEAD, text)


@cache
def fonts_at_hand(*, own: bool) -> typst.Fonts:
    """Return the fonts of the package and Typst; unless ``own``, those of the machine too."""
    return typst.Fonts(include_system_fonts=not own, font_paths=[FOLDER])


def own_fonts_do(text: str) -> bool:
    """Return whether the fonts that travel with the package have every sign of a text."""
    signs = sorted(_unsure(text))
    return not signs or _prints(signs, (FONTS[0], FAMILY), own=True)


def _unsure(text: str) -> set[str]:
    return {sign for sign in text if ord(sign) > _SURE}


def unprintable(signs: Iterable[str]) -> set[str]:
    """Return the signs that no font has; all of them are tried at once, then one by one."""
    tried = sorted(signs)
    if not tried or _prints(tried):
        return set()
    return {sign for sign in tried if not _prints([sign])}


def _prints(signs: list[str], fonts: tuple[str, ...] = FONTS, *, own: bool = False) -> bool:
    """Return whether every sign has a glyph: the standard for archives refuses one that has not.

    What else that standard may say of a font is no matter here: the report does not ask for it.
    """
    inputs = {"fonts": json.dumps(fonts), "signs": json.dumps(signs)}
    try:
        typst.compile(
            _SHEET,
            sys_inputs=inputs,
            font_paths=fonts_at_hand(own=own),
            pdf_standards=["a-2b"],
        )
    except typst.TypstError as wrong:
        return "could not be displayed" not in str(wrong)
    return True
