"""Reading a file that somebody names: only what is a regular file, and never waiting for it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

_OPEN = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOCTTY", 0)
_KINDS = (
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
    (stat.S_ISSOCK, "a socket"),
)


def read_bytes(path: Path, most: int) -> bytes:
    """The first bytes of a regular file.

    most   : no more than these are read
    raises : OSError, IsADirectoryError for a folder; its `strerror` says what a file is that is no regular one
    """
    if path.is_dir():
        raise IsADirectoryError(0, "Is a folder", str(path))
    descriptor = os.open(path, _OPEN)  # a pipe opens at once, and is then told from a file
    with os.fdopen(descriptor, "rb") as file:
        mode = os.fstat(descriptor).st_mode
        if not stat.S_ISREG(mode):
            what = next((name for is_one, name in _KINDS if is_one(mode)), "no plain file")
            raise OSError(0, f"it is {what}, not a file", str(path))
        return file.read(most)
