"""Writes an output folder whole or not at all."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Mapping
from pathlib import Path, PurePosixPath
from typing import Any

from geomgen.errors import DesignError, Fault
from geomgen.folder.carry_over import SetAside, carry_over
from geomgen.folder.changes import Changes, compare
from geomgen.folder.lock import InUseError, held
from geomgen.folder.manifest import MANIFEST, manifest_bytes, read_manifest
from geomgen.folder.swap import put_in_place, take_back


def write_folder(target: Path, files: Mapping[str, bytes], about: Mapping[str, Mapping[str, Any]]) -> Changes:
    """Make `target` hold these files and their manifest, whole or not at all; killed, it is the old one or the new one.

    A complete folder is built beside it and swapped in, in one step where the system has one (Linux, macOS); elsewhere
    by two renames, and a run killed between them is put right by the next. Our files of the last run that are no longer
    made go away. Files that aren't ours stay; one of ours that was edited since, or one that we never wrote at one of
    our names, is set aside beside it under a name that says so.

    target  : folder to write; made, with its parents, if it isn't there
    files   : name in the folder, with "/" between folders -> bytes
    about   : name -> what the manifest says of that file; "part" names the part it belongs to
    returns : what changed since the last run
    raises  : DesignError where the folder can't be written; ValueError for names that no folder can hold
    """
    _check_names(files)
    manifest = manifest_bytes(files, about)
    refuse_unwritable(target)
    place = Path(os.path.realpath(target))
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with held(_beside(place, "lock")):
            return _write(place, {**files, MANIFEST: manifest})
    except InUseError:
        raise _cannot(target, "another run is writing this folder", "wait for it to end") from None
    except OSError as error:
        raise _cannot(target, f"can't be written: {error.strerror or error}") from error


def refuse_unwritable(target: Path) -> None:
    """Say before the work, not after it, that a folder can't be written: `write_folder` would refuse it later.

    raises : DesignError, as `write_folder`
    """
    place = Path(os.path.realpath(target))
    if place.exists() and not place.is_dir():
        raise _cannot(target, "is a file, and the output folder would have that name")
    there = next(folder for folder in place.parents if folder.exists())
    if not there.is_dir() or not os.access(there, os.W_OK):
        reason = errno.EACCES if there.is_dir() else errno.ENOTDIR
        raise _cannot(target, f"can't be written: {os.strerror(reason)}")


def _write(target: Path, files: Mapping[str, bytes]) -> Changes:
    new, old = _beside(target, "new"), _beside(target, "old")
    take_back(target, old)
    for left_over in (new, old):  # of a run that was killed
        _remove(left_over)
    before = read_manifest(target)
    if _is_there(target, files):
        return compare(before, before)
    try:
        _fill(new, files)
        after = read_manifest(new)
        kept: list[SetAside] = []
        if target.exists():
            shutil.copymode(target, new)
            kept = carry_over(target, new, before)
        _flush(new, files)
        replaced = put_in_place(new, target, old)
    except BaseException:
        take_back(target, old)
        _remove(new)
        raise
    if replaced:
        late = carry_over(replaced, target, before)  # saved there while we were writing
        kept += [each for each in late if each not in kept]
        _remove(replaced)
    return compare(before, after, kept)


def _is_there(target: Path, files: Mapping[str, bytes]) -> bool:
    """Whether every file, the manifest among them, lies there byte for byte: then nothing needs to be written."""
    try:
        return all((target / name).read_bytes() == data for name, data in files.items())
    except OSError:
        return False


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for name, data in files.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        with file.open("xb") as out:
            out.write(data)


def _flush(folder: Path, files: Mapping[str, bytes]) -> None:
    """Have the files and their folders on the disk before the whole gets its name."""
    if os.name != "posix":
        return
    names = [PurePosixPath(name) for name in files]
    folders = {parent for name in names for parent in name.parents}
    for path in [*names, *folders]:
        fd = os.open(folder / path, os.O_RDONLY)
        try:
            os.fsync(fd)
        finally:
            os.close(fd)


def _remove(folder: Path) -> None:
    """Take a folder of ours away, also where somebody made a folder in it read-only; what won't go waits."""
    for here, _, _ in os.walk(folder):
        os.chmod(here, 0o700)
    shutil.rmtree(folder, ignore_errors=True)


def _beside(target: Path, what: str) -> Path:
    return target.with_name(f".{target.name}.geomgen-{what}")


def _check_names(files: Mapping[str, bytes]) -> None:
    folders = {str(parent).casefold() for name in files for parent in PurePosixPath(name).parents}
    seen = {MANIFEST.casefold()}
    for name in files:
        path, folded = PurePosixPath(name), name.casefold()
        if path.is_absolute() or ".." in path.parts or "\\" in name or str(path) != name or folded in folders | seen:
            raise ValueError(f"not a name for a file in the output folder, or there twice: {name!r}")
        seen.add(folded)


def _cannot(target: Path, wrong: str, remedy: str = "name another folder with --out") -> DesignError:
    return DesignError(Fault("", str(target), wrong, remedy=remedy))
