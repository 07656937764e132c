"""How a fitting is fixed to the rib it stands on: holes for screws on a circle, one in the middle, and the screws."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import Design, Mount
from geomgen.figures import mm
from geomgen.materials.screws import BAND, SCREWS
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made
from geomgen.model.part import Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Circle
from geomgen.structure.fitting import place_in_section
from geomgen.structure.openings import Opening
from geomgen.structure.ribs.blank import Blank

FLANGE_MM = 3.0  # of the fitting, that its screws pass; common practice


def mount_openings(layout: Layout, blank: Blank) -> list[Opening]:
    """The holes that fittings on a rib are fixed with, each with the key path that asks for it.

    Screws get medium (in inches: normal) clearance holes on the mount's circle about the fitting's place.
    """
    found = list[Opening]()
    for name, mount in _mounts(layout.design, blank):
        path, diameter = _path(name), SCREWS[mount.screw].clearance()
        places = _holes(layout.design, blank, name, mount).tolist()
        found += [Opening(path, Circle((x, y), diameter / 2)) for x, y in places]
        if mount.bore > 0.0:
            found.append(Opening(path, Circle(place_in_section(layout.design, name, blank.station), mount.bore / 2)))
    return found


def turned_deg(design: Design, name: str, station: Station) -> float:
    """How far a fitting's mount is turned, nose down against the chord line [deg]: so far that the fitting points along
    the tangent at the pitch that it is levelled at; 0 where it follows the chord line."""
    level_at = design.fitting[name].level_at
    return 0.0 if level_at is None else level_at + station.angle_deg


def mount_notes(layout: Layout, blank: Blank) -> list[str]:
    """What to know of mounts that are turned."""
    return [note for name, _ in _mounts(layout.design, blank) for note in _turned(layout.design, blank, name)]


def _turned(design: Design, blank: Blank, name: str) -> list[str]:
    level_at, turned = design.fitting[name].level_at, turned_deg(design, name, blank.station)
    if level_at is None:
        return []
    way = "down" if turned >= 0.0 else "up"
    return [
        f"the mount of {name} is turned {abs(turned):.2f} deg nose {way} against the chord line: it pulls along the "
        f"tangent at {level_at:g} deg of pitch"
    ]


def mounts(layout: Layout, ribs: Sequence[Blank]) -> Made:
    """The screws of every mount with their nuts, bought parts of one blade; and what fittings on ribs are held by.

    A fitting that has no mount only lies against its rib.
    """
    design, parts, joints = layout.design, list[Part](), list[Joint]()
    for blank in ribs:
        rib, mounted, through = rib_key(blank.place), dict(_mounts(design, blank)), layout.through_mm(blank.place)
        for name in blank.place.fittings:
            fitting = Key(Role.FITTING, f"fitting.{name}")
            if name not in mounted:
                middle = blank.station.to_blade(np.array([place_in_section(design, name, blank.station)]))
                joints.append(touching(fitting, rib, Bond.BEARING, fitting.path, middle))
                continue
            screws = _screws(design, blank, name, mounted[name], through)
            places = screws.spread[:, 1:]
            joints.append(touching(screws.key, rib, Bond.SCREWED, screws.path, places))
            joints.append(touching(fitting, rib, Bond.SCREWED, screws.path, places))
            parts.append(screws)
    return Made(tuple(parts), tuple(joints))


def _path(name: str) -> str:
    return f"fitting.{name}.mount"


def _mounts(design: Design, blank: Blank) -> list[tuple[str, Mount]]:
    some = [(name, design.fitting[name].mount) for name in blank.place.fittings]
    return [(name, mount) for name, mount in some if mount is not None]


def _holes(design: Design, blank: Blank, name: str, mount: Mount) -> FloatArray:
    """(n, 2) middles of the screw holes: the first `first` deg up from where the fitting points, the rest evenly on
    upwards."""
    first = mount.first - turned_deg(design, name, blank.station)
    angle = np.radians(first + 360.0 / mount.count * np.arange(mount.count))
    spokes = mount.circle * np.column_stack((-np.cos(angle), np.sin(angle)))
    return np.asarray(spokes + place_in_section(design, name, blank.station))


def _screws(design: Design, blank: Blank, name: str, mount: Mount, through_mm: float) -> Part:
    screw = SCREWS[mount.screw]
    length = screw.length_with_nut(FLANGE_MM + through_mm)
    at = blank.station.to_blade(_holes(design, blank, name, mount))
    return Part(
        name=f"screw of {name} {mount.screw} x {screw.lengths.text(length)}",
        role=Role.SCREW,
        stock="",
        path=_path(name),
        shape=Bought.about(screw.mass_g(length) + screw.nut_g(), BAND),
        assembly=Assembly.BLADE,
        count=mount.count,
        spread=np.column_stack((np.full(mount.count, 1.0 / mount.count), at)),
        r_mm=blank.place.r_mm,
        facts={"diameter_mm": screw.diameter},
        notes=(
            f"countersunk, through {mm(through_mm)} of rib {blank.place.name} and up to {mm(FLANGE_MM)} of the "
            "fitting, with a nut, which is weighed with it; mass worked out from its shape in steel",
            *_turned(design, blank, name),
        ),
    )
