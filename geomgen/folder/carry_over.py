"""Carries over what lies in the old output folder and isn't ours to replace: nothing of it is ever lost."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, islice
from pathlib import Path, PurePosixPath

from geomgen.folder.manifest import MANIFEST, Manifest, digest


@dataclass(frozen=True)
class SetAside:
    """A file set aside, because the name it had is one of ours.

    was : its name in the folder before
    now : its name in the folder now
    why : "edited", a file of ours that was changed since we wrote it; "found", one that we never wrote
    """

    was: str
    now: str
    why: str


def carry_over(old: Path, new: Path, ours: Manifest) -> list[SetAside]:
    """Bring into `new`, where our new files lie already, all that is in `old` and isn't ours unchanged.

    old, new : folders on one file system
    ours     : manifest of `old`
    returns  : what had to go under another name. Doing it twice is the same as doing it once.
    """
    theirs = [(why, name) for name in _leaves(old) if (why := _why_kept(old / name, new / name, name, ours))]
    theirs.sort(key=lambda each: each[0] == "edited" or os.path.lexists(new / each[1]))  # free names first
    kept = []
    for why, name in theirs:
        now = _place(old / name, new, PurePosixPath(name), why)
        if now != name:
            kept.append(SetAside(name, now, why))
    return kept


def _why_kept(file: Path, made: Path, name: str, ours: Manifest) -> str:
    """ "edited" or "found" (see SetAside); "" for what is ours unchanged, or made again just so."""
    if os.path.lexists(made) and _same(file, made):
        return ""
    listed = (ours.intact or bool(ours.files)) if name == MANIFEST else name in ours.files
    if not listed or file.is_symlink() or not file.is_file():
        return "found"
    untouched = ours.intact if name == MANIFEST else digest(file.read_bytes()) == ours.digest(name)
    return "" if untouched else "edited"


def _leaves(folder: Path, under: str = "") -> Iterator[str]:
    """Names of all files, links and empty folders, sorted; links aren't followed."""
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        name = under + entry.name
        inner = list(_leaves(Path(entry.path), name + "/")) if entry.is_dir(follow_symlinks=False) else []
        yield from inner or [name]


def _place(source: Path, new: Path, name: PurePosixPath, why: str) -> str:
    """Put `source` under its own name if that is free, else under one that says why it isn't; return the name."""
    here = new
    for folder in name.parts[:-1]:
        here = next(p for p in _names(here, folder, "found") if _is_folder(p) or not os.path.lexists(p))
        here.mkdir(exist_ok=True)
    places = islice(_names(here, name.name, why), why == "edited", None)
    place = next(p for p in places if not os.path.lexists(p) or _same(source, p))
    if not os.path.lexists(place):
        _link(source, place)
    return place.relative_to(new).as_posix()


def _names(folder: Path, name: str, why: str) -> Iterator[Path]:
    """rib.dxf, rib.edited.dxf, rib.edited-2.dxf, ..."""
    plain = PurePosixPath(name)
    yield folder / name
    for n in count(1):
        yield folder / f"{plain.stem}.{why}{'' if n == 1 else f'-{n}'}{plain.suffix}"


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _same(a: Path, b: Path) -> bool:
    if a.is_symlink() or b.is_symlink():
        return a.is_symlink() and b.is_symlink() and os.readlink(a) == os.readlink(b)
    if a.is_dir() or b.is_dir():
        return a.is_dir() and b.is_dir()
    return a.samefile(b) or (a.is_file() and b.is_file() and a.read_bytes() == b.read_bytes())


def _link(source: Path, place: Path) -> None:
    """The same file under a second name; a copy where the file system or its owner won't have that."""
    if _is_folder(source):
        place.mkdir()
        return
    try:
        os.link(source, place, follow_symlinks=False)
    except OSError:
        shutil.copy2(source, place, follow_symlinks=False)
