"""The charts' JavaScript as one script, kept between calls: making it takes a second.

It is the same text for every report, so a copy is kept in the user's folder for such things. The
copy is a convenience: where it cannot be read, is not as it was written, or could have been written
by another user, the script is made anew, and where it cannot be kept nothing is said.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
from contextlib import suppress
from functools import cache
from importlib.metadata import version
from pathlib import Path

import platformdirs
import vl_convert

from sgzone.errors import SgzoneError
from sgzone.inputs import UnreadError, opened
from sgzone.writing import Kind, Output

CACHE = "SGZONE_CACHE"
"""Environment variable that names the folder of the copy; an empty text keeps none."""

_MOST_BYTES = 8_000_000
_COPY = Kind("a copy of the charts' script", lambda _: True)  # a damaged one is made anew
_ENDS_OR_HIDES = re.compile(r"</script|<!--", re.IGNORECASE)  # as a browser reads it
_OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH
_DIGEST = 64  # hexadecimal signs of SHA-256


@cache
def vega_bundle() -> str:
    """Return Vega, Vega-Lite and Vega-Embed as one script that sets ``window.vegaEmbed``."""
    place = _place()
    text = _kept(place) if place else None
    if text is None:
        text = _made()
        if place:
            _keep(place, text)
    return text


def _made() -> str:
    text: str = vl_convert.javascript_bundle()  # type: ignore[call-arg]
    if not _fits_an_element(text):
        raise ValueError("the script that draws charts would end its element before its own end")
    return text


def _fits_an_element(text: str) -> bool:
    """Return whether a script element that holds this text ends where the text does."""
    return not _ENDS_OR_HIDES.search(text)


def _place() -> Path | None:
    """Return where the copy of this version's script stands; None where none is kept."""
    name = f"vega-{version('vl-convert-python')}.js"
    folder = os.environ.get(CACHE)
    if folder is not None:
        return Path(folder, name) if folder else None
    with suppress(RuntimeError, OSError):  # a user without a home, which is also told by a "~"
        place = platformdirs.user_cache_path("sgzone") / name
        return place if place.is_absolute() else None
    return None


def _kept(place: Path) -> str | None:
    """Return the copy, None unless this user alone can have written it and it is whole."""
    try:
        with opened(place, _MOST_BYTES, links=False) as file:
            if not _own(os.fstat(file.fileno())):
                return None
            return _checked(file.read(_MOST_BYTES + 1))
    except (UnreadError, OSError, ValueError):
        return None


def _own(state: os.stat_result) -> bool:
    """Return whether a file is this user's and nobody else may write it."""
    if not hasattr(os, "getuid"):  # a system without such rights
        return True
    return state.st_uid == os.getuid() and not state.st_mode & _OTHERS_WRITE


def _checked(held: bytes) -> str | None:
    """Return the script of a copy whose first line, its SHA-256, is that of the rest."""
    digest, script = held[:_DIGEST], held[_DIGEST + 1 :]
    if hashlib.sha256(script).hexdigest().encode() != digest:
        return None
    text = script.decode()
    return text if _fits_an_element(text) else None


def _keep(place: Path, text: str) -> None:
    script = text.encode()
    with suppress(OSError, ValueError, SgzoneError):
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if place.is_symlink() or not place.is_file():
            place.unlink(missing_ok=True)  # never written through
        digest = hashlib.sha256(script).hexdigest().encode()
        Output(place, _COPY, private=True).write(digest + b"\n" + script)
