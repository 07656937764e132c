"""What was made once isn't made again: values in memory by key, arrays on disk by content, both bounded by bytes."""

from __future__ import annotations

import gc
import os
import sys
import tempfile
import time
import types
import zipfile
import zlib
from collections import OrderedDict
from collections.abc import Hashable, Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from geomgen.digest import digest

MB: Final = 1 << 20
MISSING: Final = object()  # what stands for a value that isn't remembered
STALE_S = 3600.0  # a half-written entry older than this is nobody's any more
CODE = (type, types.ModuleType, types.FunctionType, types.BuiltinFunctionType, types.CodeType)


class Cache:
    """Values in memory, and entries in a folder; of each the longest unused go first.

    Any file of the folder, or all of it, may be deleted at any time, also while it is in use.

    folder       : of the entries on disk, made when first needed; None for none on disk
    memory_bytes : most that values in memory may take, as `size_of` has it
    disk_bytes   : most that entries on disk may take; a second process may add an eighth of it before it looks
    """

    digest = staticmethod(digest)

    def __init__(self, folder: Path | None = None, memory_bytes: int = 256 * MB, disk_bytes: int = 256 * MB) -> None:
        self.folder = folder
        self.memory_bytes = memory_bytes
        self.disk_bytes = disk_bytes
        self._values: OrderedDict[Hashable, tuple[Any, int]] = OrderedDict()
        self._used = 0  # bytes in memory
        self._room = 0  # bytes that may be written before the folder is looked over again

    # In memory

    def remembered(self, key: Hashable) -> Any:
        """The value of a key, or `MISSING`."""
        if key not in self._values:
            return MISSING
        self._values.move_to_end(key)
        return self._values[key][0]

    def remember(self, key: Hashable, value: Any, size: int | None = None) -> None:
        """Remember a value; one larger than all there is room for is not.

        size : bytes it takes; measured where left out
        """
        self.forget(key)
        size = size_of(value) if size is None else size
        if size > self.memory_bytes:
            return
        self._values[key] = value, size
        self._used += size
        while self._used > self.memory_bytes:
            self._used -= self._values.popitem(last=False)[1][1]

    def forget(self, key: Hashable) -> None:
        """Drop a value, if it is remembered."""
        self._used -= self._values.pop(key, (None, 0))[1]

    # On disk

    def fetch(self, key: str) -> dict[str, NDArray[Any]] | None:
        """The arrays stored by a key; None where there are none that can be read whole.

        key : a digest
        """
        if self.folder is None:
            return None
        file = self.folder / f"{key}.npz"
        try:
            with np.load(file, allow_pickle=False) as entry:
                arrays = {name: entry[name] for name in entry.files}
        except (OSError, ValueError, EOFError, zipfile.BadZipFile, zlib.error, NotImplementedError):
            return None
        _touch(file)
        return arrays

    def store(self, key: str, arrays: Mapping[str, NDArray[Any]]) -> None:
        """Store arrays, whole or not at all. A folder that can't be written to is as good as none: that is no fault."""
        if self.folder is None:
            return
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=self.folder, suffix=".part")
            try:
                with os.fdopen(handle, "wb") as file:
                    _write(file, arrays)
                size = os.path.getsize(name)
                if size > self.disk_bytes:
                    raise OSError("larger than all there is room for")
                os.replace(name, self.folder / f"{key}.npz")
            except BaseException:
                Path(name).unlink(missing_ok=True)
                raise
            self._room -= size
            if self._room < 0:
                self._room = min(_bounded(self.folder, self.disk_bytes), self.disk_bytes // 8)
        except OSError:
            return

    def empty(self) -> None:
        """Drop everything, in memory and on disk; no file that isn't the cache's own."""
        self._values.clear()
        self._used = 0
        if self.folder is not None:
            _bounded(self.folder, 0)


@cache
def cache_in(folder: Path | None) -> Cache:
    """The cache of this process in a folder."""
    return Cache(folder)


def default() -> Cache:
    """The cache of this process in the folder that the environment names now."""
    return cache_in(cache_folder())


def cache_folder(environ: Mapping[str, str] | None = None, windows: bool = os.name == "nt") -> Path | None:
    """Folder of the entries on disk: GEOMGEN_KEEP if set (None where it is empty), else in the user's own cache.

    environ : environment; that of this process if left out
    returns : None where there is no such place
    """
    environ = os.environ if environ is None else environ
    if "GEOMGEN_KEEP" in environ:
        return Path(environ["GEOMGEN_KEEP"]) if environ["GEOMGEN_KEEP"] else None
    base = environ.get("LOCALAPPDATA" if windows else "XDG_CACHE_HOME")
    home = environ.get("USERPROFILE" if windows else "HOME")
    if not base and not home:
        return None
    return (Path(base) if base else Path(home or "", ".cache")) / "geomgen" / "results"


def size_of(value: Any, besides: Iterable[Any] = ()) -> int:
    """About how many bytes a value takes with all it holds, things held twice counted once; code counts nothing.

    besides : what is counted elsewhere already, with what lies directly in it or one step deeper
    """
    seen: set[int] = set()
    others = list(besides)
    for _ in range(3):
        seen.update(map(id, others))
        others = gc.get_referents(*others)
    level, total = [value], 0
    shapely: Any = sys.modules.get("shapely")
    while level:
        fresh = list({id(item): item for item in level if id(item) not in seen and not isinstance(item, CODE)}.values())
        seen.update(map(id, fresh))
        total += sum(map(sys.getsizeof, fresh))
        arrays = [item for item in fresh if isinstance(item, np.ndarray)]
        if shapely:
            shapes = [item for item in fresh if isinstance(item, shapely.Geometry)]
            total += 32 * int(np.sum(shapely.get_num_coordinates(shapes)))
        level = gc.get_referents(*fresh)
        level += [array.base for array in arrays if array.base is not None]
        level += [item for array in arrays if array.dtype == object for item in array.flat]
    return total


def _touch(file: Path) -> None:
    try:
        os.utime(file)
    except OSError:  # another's, or gone
        return


def _write(file: Any, arrays: Mapping[str, NDArray[Any]]) -> None:
    """As numpy's own `savez`, but for any names."""
    with zipfile.ZipFile(file, "w") as archive:
        for name, array in arrays.items():
            with archive.open(f"{name}.npy", "w", force_zip64=True) as member:
                np.lib.format.write_array(member, np.asanyarray(array), allow_pickle=False)


def _bounded(folder: Path, most: int) -> int:
    """Drop the longest unused entries until `most` bytes are kept to with an eighth to spare; the room left [bytes]."""
    entries = []
    for file in folder.glob("*.*"):
        try:
            state = file.stat()
        except OSError:  # gone meanwhile
            continue
        if file.suffix == ".npz":
            entries.append((state.st_mtime_ns, file, state.st_size))
        elif file.suffix == ".part" and state.st_mtime < time.time() - STALE_S:
            file.unlink(missing_ok=True)
    total = sum(size for _, _, size in entries)
    if total > most:
        for _, file, size in sorted(entries):
            if total <= most - most // 8:
                break
            file.unlink(missing_ok=True)
            total -= size
    return most - total
