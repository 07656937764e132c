"""The section that a design asks for."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

import numpy as np

from geomgen.design.near import near
from geomgen.errors import DesignError, Fault
from geomgen.section import coordinates, known_files
from geomgen.section.families import naca
from geomgen.section.listing import Origin
from geomgen.section.reshape import closed, flattened, scaled
from geomgen.section.section import Section

LEAST_FLAT, MOST_FLAT = 0.02, 0.98  # a section can be flattened from between these [chord]


class Spec(Protocol):
    """What `find` reads of a design's section table."""

    @property
    def naca(self) -> str | None: ...
    @property
    def file(self) -> str | None: ...
    @property
    def profile(self) -> str | None: ...
    @property
    def tail(self) -> str: ...
    @property
    def flat_from(self) -> float | None: ...
    @property
    def thickness_times(self) -> float: ...
    @property
    def camber_times(self) -> float: ...


def find(spec: Spec, folder: Path | None, path: str) -> Section:
    """The section that a design asks for: found, scaled, then flattened below.

    spec   : one of a designation, a file's name, a profile's name; and what is done to it
    folder : where the design file is; None for the built-in demo
    path   : key path of the section in the design file
    raises : DesignError with that path; for a coordinate file at fault also with its name and line
    """
    if spec.naca is not None:
        section = naca(spec.naca, spec.tail, path)
    elif spec.file is not None:
        section = coordinates.read(_file(spec.file, folder, path), Origin(spec.file, path, spec.file))
    elif spec.profile is not None:
        file = _profile(spec.profile, folder, path)
        section = coordinates.read(file, Origin(f"{file.parent.name}/{file.name}", path, spec.profile))
    else:
        raise DesignError(Fault(path, "", "names no section", "one of naca, file, profile"))
    if spec.tail == "closed" and spec.naca is None:
        section = closed(section)
    section = scaled(section, spec.thickness_times, spec.camber_times)
    return section if spec.flat_from is None else _flattened(section, spec.flat_from, f"{path}.flat_from")


def file_of(spec: Spec, folder: Path | None) -> Path | None:
    """The coordinate file that a section is read from; None where it needs none, or there is none."""
    try:
        if spec.naca is None and spec.file is not None:
            return _file(spec.file, folder, "")
        if spec.naca is None and spec.profile is not None:
            return _profile(spec.profile, folder, "")
    except DesignError:  # `find` tells it
        return None
    return None


def _flattened(section: Section, from_x: float, path: str) -> Section:
    if not LEAST_FLAT <= from_x <= MOST_FLAT:
        wrong, allowed = "no section can be flattened from there", f"{LEAST_FLAT:g} to {MOST_FLAT:g} of the chord"
        raise DesignError(Fault(path, f"{from_x:g}", wrong, allowed))
    flat = flattened(section, from_x)
    depth = flat.depth(np.linspace(from_x, 0.99, 100))
    if np.min(depth) <= 0.0:
        wrong = f"the straight line from there to the tail comes through the upper surface of {section.name}"
        raise DesignError(Fault(path, f"{from_x:g}", wrong, "", "begin the flat elsewhere"))
    return flat


def _file(name: str, folder: Path | None, path: str) -> Path:
    """The coordinate file of a name, which may lead into folders beside the design."""
    for place in known_files.places(folder):
        try:
            if (place / name).exists():
                return place / name
        except OSError as error:
            raise DesignError(Fault(path, name, f"can't be looked for: {error.strerror}")) from error
    raise _missing(name, "no coordinate file of that name", sorted(known_files.available(folder)), path)


def _profile(name: str, folder: Path | None, path: str) -> Path:
    """The coordinate file of a profile's name."""
    known = {known_files.plain(found): file for found, file in reversed(known_files.available(folder).items())}
    if known_files.plain(name) in known:
        return known[known_files.plain(name)]
    raise _missing(name, "no profile of that name", sorted(known), path)


def _missing(name: str, wrong: str, known: list[str], path: str) -> DesignError:
    there = ", ".join(known[:30]) + (f" and {len(known) - 30} more" if len(known) > 30 else "")
    allowed = f"there is: {there}" if known else "there is none beside the design, in profiles/ beside it, or shipped"
    return DesignError(Fault(path, name, wrong, allowed, near(name, known)))
