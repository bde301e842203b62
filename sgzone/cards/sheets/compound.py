"""The compound file that an old workbook is packed in: the bytes of one stream by its name."""

from __future__ import annotations

import struct
from collections.abc import Iterator

SIGNATURE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_HEAD = 512
_ENTRY = 128  # bytes of one entry of the directory
_LAST = 0xFFFFFFFA  # from here on a sector's number is a mark
_FIRST_MASTER = 76  # where the header's own list of sectors of the table begins
_MASTERS = 109
_SHIFTS = (9, 12)
_MINI = 64  # bytes of a small sector


def stream_of(data: bytes, *names: str) -> bytes:
    """Return the stream that has one of some names; ``ValueError`` where there is none, or no end.

    No sector is read twice in one chain, so nothing is longer than the file.
    """
    if len(data) < _HEAD or not data.startswith(SIGNATURE):
        raise ValueError("it is no old workbook")
    (shift,) = struct.unpack_from("<H", data, 30)
    if shift not in _SHIFTS:
        raise ValueError("its sectors have no usual size")
    sectors = _Sectors(data, 1 << shift)
    directory = sectors.chain(_at(data, 48))
    root = directory[:_ENTRY]
    for entry in _entries(directory):
        name = entry[:64].decode("utf-16-le", "replace").partition("\0")[0]
        if name in names:
            start, length = _at(entry, 116), _at(entry, 120)
            if length >= _at(data, 56):
                return sectors.chain(start)[:length]
            return _small(sectors, data, root, start)[:length]
    raise ValueError("it holds no sheets")


def _at(data: bytes, place: int) -> int:
    (number,) = struct.unpack_from("<I", data, place)
    return int(number)


def _entries(directory: bytes) -> Iterator[bytes]:
    for place in range(0, len(directory) - _ENTRY + 1, _ENTRY):
        yield directory[place : place + _ENTRY]


class _Sectors:
    """The sectors of a file, and which follows which."""

    def __init__(self, data: bytes, size: int) -> None:
        self._data, self._size = data, size
        masters = list(struct.unpack_from(f"<{_MASTERS}I", data, _FIRST_MASTER))
        following, seen = _at(data, 68), set[int]()
        while following < _LAST and following not in seen:
            seen.add(following)
            numbers = self._numbers(following)
            masters += numbers[:-1]
            following = numbers[-1]
        self._next: list[int] = []
        for sector in dict.fromkeys(sector for sector in masters if sector < _LAST):
            self._next += self._numbers(sector)

    def _sector(self, number: int) -> bytes:
        start = (number + 1) * self._size
        return self._data[start : start + self._size]

    def _numbers(self, sector: int) -> list[int]:
        there = self._sector(sector)
        if len(there) < self._size:
            raise ValueError("it is cut short")
        return list(struct.unpack(f"<{self._size // 4}I", there))

    def chain(self, first: int) -> bytes:
        """Return the bytes of a chain of sectors."""
        return b"".join(self._sector(number) for number in followed(self._next, first))


def followed(following: list[int], first: int) -> Iterator[int]:
    """Yield the numbers of a chain; ``ValueError`` where it turns back or leaves the list."""
    number, seen = first, set[int]()
    while number < _LAST:
        if number >= len(following) or number in seen:
            raise ValueError("its sectors make no chain")
        seen.add(number)
        yield number
        number = following[number]


def _small(sectors: _Sectors, data: bytes, root: bytes, first: int) -> bytes:
    """Return a small stream: it stands in small sectors within the stream of the root."""
    held = sectors.chain(_at(root, 116))
    table = sectors.chain(_at(data, 60))
    following = list(struct.unpack(f"<{len(table) // 4}I", table))
    return b"".join(held[n * _MINI : (n + 1) * _MINI] for n in followed(following, first))
