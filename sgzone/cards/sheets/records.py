"""The records of an old workbook's stream, and the texts that go on from one to the next."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import NamedTuple

CONTINUE = 0x003C
_HEAD = 4


class Record(NamedTuple):
    """One record: where it begins, its kind, its bytes."""

    place: int
    kind: int
    data: bytes


def records(stream: bytes, start: int = 0) -> Iterator[Record]:
    """Yield the records from a place on; a record that is cut short ends them."""
    place = start
    while place + _HEAD <= len(stream):
        kind, length = struct.unpack_from("<HH", stream, place)
        end = place + _HEAD + length
        if end > len(stream):
            return
        yield Record(place, kind, stream[place + _HEAD : end])
        place = end


class Pieces:
    """The bytes of a record and of those that continue it, read from the front."""

    def __init__(self, pieces: list[bytes]) -> None:
        self._pieces = pieces
        self._piece = self._place = 0

    def take(self, length: int) -> bytes:
        """Return the next bytes; ``ValueError`` where there are fewer."""
        found = b""
        while len(found) < length:
            there = self._here(length - len(found))
            if not there:
                raise ValueError("a text in it is cut short")
            found += there
        return found

    def _here(self, most: int) -> bytes:
        while self._piece < len(self._pieces):
            piece = self._pieces[self._piece]
            if self._place < len(piece):
                there = piece[self._place : self._place + most]
                self._place += len(there)
                return there
            self._piece, self._place = self._piece + 1, 0
        return b""

    def _letters(self, count: int, wide: bool) -> str:
        """Return so many letters; in a record that goes on they may have another width."""
        found: list[str] = []
        while count:
            here = self._left_here()
            if not here:
                self._piece, self._place = self._piece + 1, 0
                wide = bool(self.take(1)[0] & 1)
                continue
            letters = min(count, here // (2 if wide else 1))
            if not letters:
                raise ValueError("a letter in it is cut in two")
            text = self.take(letters * (2 if wide else 1))
            found.append(text.decode("utf-16-le" if wide else "latin-1", "replace"))
            count -= letters
        return "".join(found)

    def _left_here(self) -> int:
        there = self._piece < len(self._pieces)
        return len(self._pieces[self._piece]) - self._place if there else 0

    def text(self, count_size: int = 2) -> str:
        """Return a text: its count of letters, how wide they are, runs and sounds passed over."""
        count = int.from_bytes(self.take(count_size), "little")
        (flags,) = self.take(1)
        runs = int.from_bytes(self.take(2), "little") if flags & 8 else 0
        sounds = int.from_bytes(self.take(4), "little") if flags & 4 else 0
        found = self._letters(count, bool(flags & 1))
        self.take(4 * runs + sounds)
        return found
