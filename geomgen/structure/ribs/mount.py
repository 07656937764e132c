"""How a fitting is fixed to the rib it stands on: holes for screws on a circle, one in the middle, and the screws."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design, Mount
from geomgen.materials.screws import SCREWS, length_as_sold
from geomgen.model.part import Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Circle, Loop
from geomgen.structure.ribs.blank import Blank

FloatArray = NDArray[np.float64]

FLANGE_MM = 3.0  # of the fitting, that its screws pass; common practice
BEYOND_NUT_MM = 1.0  # of a screw
SCREW_BAND = 0.1  # heads and lengths differ between makers; from memory


def mount_openings(design: Design, blank: Blank) -> list[tuple[str, Loop]]:
    """The holes that fittings on a rib are fixed with, each with the key path that asks for it, in the rib's frame.

    Screws get ISO 273 medium clearance holes on the mount's circle about the fitting's place.
    """
    found: list[tuple[str, Loop]] = []
    for name, mount in _mounts(design, blank):
        path, diameter = f"fitting.{name}.mount", SCREWS[mount.screw].clearance()
        found += [(path, Circle((float(x), float(y)), diameter / 2)) for x, y in _holes(design, blank, name, mount)]
        if mount.bore > 0.0:
            found.append((path, Circle(fitting_place(design, blank, name), mount.bore / 2)))
    return found


def mount_screws(design: Design, made: Sequence[Blank], doubled: Sequence[Blank] = ()) -> list[Part]:
    """The screws of every mount with their nuts, bought parts of one blade.

    made    : ribs
    doubled : blanks of the doublers, whose thickness the screws pass too; each bears its rib's name
    """
    found = []
    for blank in made:
        through = blank.place.thickness_mm
        through += sum(each.place.thickness_mm for each in doubled if each.place.name == blank.place.name)
        found += [_screws(design, blank, name, mount, through) for name, mount in _mounts(design, blank)]
    return found


def fitting_place(design: Design, blank: Blank, name: str) -> tuple[float, float]:
    """Where a fitting sits in its rib, in the station's own frame [mm]."""
    fitting, station = design.fitting[name], blank.station
    if fitting.chord is None and fitting.height is None:
        return station.axis_mm
    chord = station.axis_mm[0] / station.chord_mm if fitting.chord is None else fitting.chord
    return station.place(chord, "camber" if fitting.height is None else fitting.height)


def _mounts(design: Design, blank: Blank) -> list[tuple[str, Mount]]:
    some = [(name, design.fitting[name].mount) for name in blank.place.fittings]
    return [(name, mount) for name, mount in some if mount is not None]


def _holes(design: Design, blank: Blank, name: str, mount: Mount) -> FloatArray:
    """(n, 2) middles of the screw holes: the first `first` deg up from straight ahead, the rest evenly on upwards."""
    angle = np.radians(mount.first + 360.0 / mount.count * np.arange(mount.count))
    spokes = mount.circle * np.column_stack((-np.cos(angle), np.sin(angle)))
    return np.asarray(spokes + fitting_place(design, blank, name))


def _screws(design: Design, blank: Blank, name: str, mount: Mount, through_mm: float) -> Part:
    screw = SCREWS[mount.screw]
    length = length_as_sold(FLANGE_MM + through_mm + screw.nut_height + BEYOND_NUT_MM)
    mass = screw.mass_g(length) + screw.nut_g()
    at = blank.station.to_blade(_holes(design, blank, name, mount))
    return Part(
        name=f"screw of {name} {mount.screw} x {length:g}",
        role=Role.SCREW,
        stock="",
        path=f"fitting.{name}.mount",
        shape=Bought((mass * (1 - SCREW_BAND), mass, mass * (1 + SCREW_BAND))),
        assembly=Assembly.BLADE,
        count=mount.count,
        spread=np.column_stack((np.full(mount.count, 1.0 / mount.count), at)),
        r_mm=blank.place.r_mm,
        notes=(
            f"countersunk, through {through_mm:g} mm of rib {blank.place.name} and up to {FLANGE_MM:g} mm of the "
            "fitting, with a nut, which is weighed with it; mass worked out from its shape in steel",
        ),
    )
