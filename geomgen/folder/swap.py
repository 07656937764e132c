"""Puts a finished folder in another's place in one step, so that nobody ever sees half of it."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from pathlib import Path
from typing import Any

_AT_FDCWD = -100  # Linux <fcntl.h>: relative to the working directory
_RENAME_EXCHANGE = 2  # Linux <linux/fs.h>
_RENAME_SWAP = 2  # macOS <sys/stdio.h>
_NOT_HERE = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}


def put_in_place(new: Path, target: Path, old: Path) -> Path | None:
    """Make `target` the folder that `new` is now.

    new, target, old : on one file system; `old` is not there and is used only where the system can't swap two folders
    returns          : where the folder that was `target` lies now; None if there was none
    """
    if not target.exists():
        os.rename(new, target)
        return None
    if exchange(new, target):
        return new
    os.rename(target, old)
    os.rename(new, target)
    return old


def take_back(target: Path, old: Path) -> None:
    """After a run killed between two renames: the old folder is the folder again."""
    if old.exists() and not target.exists():
        os.rename(old, target)


def exchange(a: Path, b: Path) -> bool:
    """Swap two folders in one step; False, with nothing done, where the system has no such step."""
    libc: Any = ctypes.CDLL(None, use_errno=True) if sys.platform in ("linux", "darwin") else None
    names = os.fsencode(a), os.fsencode(b)
    if hasattr(libc, "renameat2"):
        failed = libc.renameat2(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _RENAME_EXCHANGE)
    elif hasattr(libc, "renamex_np"):
        failed = libc.renamex_np(*names, _RENAME_SWAP)
    else:
        return False
    if failed and ctypes.get_errno() not in _NOT_HERE:
        raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()), str(b))
    return not failed
