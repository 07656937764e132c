"""The blade's stages: what each reads of a design."""

from __future__ import annotations

import pathlib
from dataclasses import dataclass

from geomgen.blade.blade import Blade, loft
from geomgen.blade.rib_places import RibPlace, rib_places
from geomgen.design.schema import Design
from geomgen.plain_file import read_bytes
from geomgen.section.find import file_of, find
from geomgen.section.fold_difference import Difference, difference
from geomgen.section.listing import MOST_BYTES
from geomgen.section.measures import Measures, measures
from geomgen.section.section import Section
from geomgen.stages import reads

PLACES = (  # all that the r of a place may depend on
    "rotor.radius", "rotor.root", "hub.bay.radius", "fitting.*.at", "blade.tip.kind", "blade.tip.depth",
)  # fmt: skip


@dataclass(frozen=True)
class Files:
    """Where a design's own section files are taken from, and what is in them.

    folder : beside the design; None where it has none
    texts  : name and content of each file that the design names
    """

    folder: pathlib.Path | None
    texts: tuple[tuple[str, bytes], ...]

    @classmethod
    def of(cls, design: Design, folder: pathlib.Path | None) -> Files:
        """Those of a design as they lie there now."""
        specs = [entry.section for entry in design.blade.along if entry.section is not None]
        polars = {folder / spec.polar for spec in specs if spec.polar is not None and folder is not None}
        found = {file_of(spec, folder) for spec in specs} | polars
        return cls(folder, tuple(sorted((str(file), _content(file)) for file in found if file is not None)))


def _content(file: pathlib.Path) -> bytes:
    """What is in a section file; nothing where it can't be read, which `find` tells."""
    try:
        return read_bytes(file, MOST_BYTES + 1)
    except OSError:
        return b""


@reads(
    *PLACES, "pitch.zero_at", "blade.along", "blade.feather", "blade.construction.folds",
    "blade.construction.nose_radius",
)  # fmt: skip
def lofted(design: Design, *, files: Files) -> Blade:
    """Chord, angle and section along r."""
    return loft(design, lambda spec, path: find(spec, files.folder, path))


@reads(*PLACES, "blade.ribs", "fitting.*.on", "fitting.*.rib", "fitting.*.rib_stock", "stock.*.thickness")
def ribs_placed(design: Design) -> tuple[RibPlace, ...]:
    """Where ribs stand."""
    return rib_places(design)


def sections(blade: Blade) -> tuple[tuple[float, Section, Measures], ...]:
    """Radius [mm], section and its measures of each entry of the design that names one."""
    return tuple((r, section, measures(section)) for r, section in blade.sections)


def fold_differences(blade: Blade) -> tuple[tuple[float, Difference], ...]:
    """Radius [mm], and what a folded board makes against the section asked for there; none for other constructions."""
    if blade.fold is None:
        return ()
    radii = blade.breaks().tolist()
    pairs = zip(blade.unfolded().stations(radii), blade.stations(radii), strict=True)
    return tuple((made.r_mm, difference(asked.section, made.section)) for asked, made in pairs)
