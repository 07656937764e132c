"""One run at a time for one output folder."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class InUseError(Exception):
    """Another run holds the lock."""


@contextmanager
def held(lock: Path) -> Iterator[None]:
    """Hold a lock file; the system lets go of it when the process ends, however it ends. Raises InUseError."""
    fd = _take(lock)
    try:
        yield
    finally:
        if sys.platform != "win32":  # there the file goes with its handle
            lock.unlink(missing_ok=True)
        os.close(fd)


if sys.platform == "win32":

    def _take(lock: Path) -> int:
        try:
            return os.open(lock, os.O_CREAT | os.O_EXCL | os.O_RDWR | os.O_TEMPORARY)
        except FileExistsError:
            raise InUseError from None

else:
    import fcntl

    def _take(lock: Path) -> int:
        while True:
            fd = os.open(lock, os.O_CREAT | os.O_RDWR, 0o644)
            try:
                fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                os.close(fd)
                raise InUseError from None
            if _still_there(lock, fd):
                return fd
            os.close(fd)  # the run before took its lock file away just now

    def _still_there(lock: Path, fd: int) -> bool:
        try:
            return os.path.samestat(os.stat(lock), os.fstat(fd))
        except FileNotFoundError:
            return False
