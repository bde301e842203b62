"""This process without room on the disk, or without the right to write."""

from __future__ import annotations

import ctypes
import os
import resource
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

_VERSION_3 = 0x20080522  # of the kernel's capability sets: two words each
_MAY_WRITE_ANYWHERE = 1 << 1  # CAP_DAC_OVERRIDE, in the first word
_libc = ctypes.CDLL(None, use_errno=True)


@contextmanager
def no_room(most: int) -> Iterator[None]:
    """Let no file grow over ``most`` bytes, whoever writes it in this process."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


@contextmanager
def no_rights(folder: Path) -> Iterator[None]:
    """Take the right to write into a folder and to its files; root's right to do so anyway too.

    Skips the test where root cannot let go of that right (elsewhere than on Linux).
    """
    modes = {path: path.stat().st_mode for path in (folder, *folder.iterdir())}
    for path, mode in modes.items():
        path.chmod(mode & ~0o222)
    held = _capabilities()
    try:
        if os.geteuid() == 0:
            _set_capabilities(held[0] & ~_MAY_WRITE_ANYWHERE, *held[1:])
        if os.access(folder, os.W_OK) and _can_write(folder):
            pytest.skip("root may write anywhere here")
        yield
    finally:
        _set_capabilities(*held)
        for path, mode in modes.items():
            path.chmod(mode)


def _can_write(folder: Path) -> bool:
    try:
        (folder / "probe").touch()
    except OSError:
        return False
    (folder / "probe").unlink()
    return True


def _capabilities() -> list[int]:
    """Return what this thread may: effective, permitted, inheritable; low words, then high ones."""
    head, data = (ctypes.c_uint32 * 2)(_VERSION_3, 0), (ctypes.c_uint32 * 6)()
    if _libc.capget(head, data):
        pytest.skip("this system has no capabilities to let go of")
    return list(data)


def _set_capabilities(*words: int) -> None:
    head, data = (ctypes.c_uint32 * 2)(_VERSION_3, 0), (ctypes.c_uint32 * 6)(*words)
    if _libc.capset(head, data):
        pytest.skip("root cannot let go of its rights here")
