"""Kept by content: what was made once from the same figures, by the same code, isn't made again."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from importlib import metadata
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geomgen.tolerances import Tolerances

MOST = 200  # entries kept; the oldest go first
BUILDERS = (
    "cutting", "frames.py", "root/hub_spec.py", "marking/lettering.py", "model/part.py", "root/root_face.py",
    "root/seat.py", "plane", "printing",
)  # fmt: skip
PACKAGES = ("cadquery", "cadquery-ocp", "ezdxf", "numpy", "shapely")


def keep_folder(environ: Mapping[str, str] | None = None, windows: bool = os.name == "nt") -> Path | None:
    """Where solids are kept: GEOMGEN_KEEP if set (None where it is empty), else the user's own cache.

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
    return (Path(base) if base else Path(home or "", ".cache")) / "geomgen" / "solids"


def key_of(spec: Any, tol: Tolerances) -> str:
    """Digest of all that decides what is made: figures, tolerances, the code that makes it, and its libraries."""
    words = json.dumps([_plain(spec), _plain(tol)], sort_keys=True, allow_nan=False)
    return hashlib.sha256(words.encode() + _code()).hexdigest()


def key_of_bytes(parts: Iterable[bytes]) -> str:
    """Digest of anything else made by this code."""
    digest = hashlib.sha256(_code())
    for part in parts:
        digest.update(hashlib.sha256(part).digest())
    return digest.hexdigest()


def fetch(folder: Path | None, key: str) -> dict[str, NDArray[Any]] | None:
    """The entry of a key; None where there is none that can be read whole."""
    if folder is None:
        return None
    try:
        with np.load(folder / f"{key}.npz", allow_pickle=False) as entry:
            return {name: entry[name] for name in entry.files}
    except (OSError, ValueError, EOFError, zipfile.BadZipFile, zlib.error, NotImplementedError):
        return None


def store(folder: Path | None, key: str, entry: Mapping[str, NDArray[Any]]) -> None:
    """Keep an entry. A store that can't be written to is as good as none: that is no fault."""
    if folder is None:
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=folder, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                np.savez(file, allow_pickle=False, **entry)
            os.replace(name, folder / f"{key}.npz")
        except BaseException:
            os.unlink(name)
            raise
        _prune(folder)
    except OSError:
        return


def _prune(folder: Path) -> None:
    entries = sorted(folder.glob("*.npz"), key=lambda file: file.stat().st_mtime, reverse=True)
    for file in entries[MOST:]:
        file.unlink(missing_ok=True)


def _plain(value: Any) -> Any:
    """Records, arrays, tuples and tables as lists of plain values, in the order of their fields."""
    if is_dataclass(value) and not isinstance(value, type):
        return [type(value).__name__, *(_plain(getattr(value, field.name)) for field in fields(value))]
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, dict):
        return [[key, _plain(item)] for key, item in sorted(value.items())]
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


@cache
def _code() -> bytes:
    """Digest of the building code and of the versions of what it builds with."""
    digest = hashlib.sha256()
    here = files("geomgen")
    for name in BUILDERS:
        place = here / name
        modules = [place] if place.is_file() else sorted(place.iterdir(), key=lambda module: module.name)
        for module in modules:
            if module.name.endswith(".py"):
                digest.update(f"{name}/{module.name}\0".encode() + module.read_bytes())
    for package in PACKAGES:
        try:
            digest.update(f"{package} {metadata.version(package)}\0".encode())
        except metadata.PackageNotFoundError:
            digest.update(f"{package} ?\0".encode())
    return digest.digest()
