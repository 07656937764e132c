"""What holds a blade to the hub and locks its pitch: collar, pins, screws."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.frames import applied, blade_to_rotor
from geomgen.materials.screws import LENGTHS_MM, SCREWS, length_as_sold
from geomgen.model.part import Bought, Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pitch_pattern import PitchPattern
from geomgen.root.root_face import RootFace, fixing_holes
from geomgen.root.seat import Seat, cap_to_blade

FloatArray = NDArray[np.float64]

GRIP_MM = 12.0  # of a pin, to pull it by, behind the fixed cap
BEYOND_NUT_MM = 1.0  # of a screw
SCREW_BAND = 0.1  # heads and lengths differ between makers; from memory


def small_parts(design: Design, face: RootFace, seat: Seat, pattern: PitchPattern, spec: HubSpec) -> list[Part]:
    """Collar, pitch pins and both caps' screws with what they weigh; bolts to the mast count with the mast."""
    return [
        _collar(design, spec),
        _pins(design, face, pattern, spec),
        _turning_screws(design, face),
        _fixed_screws(design, seat, spec),
    ]


def _collar(design: Design, spec: HubSpec) -> Part:
    collar = design.hub.collar
    middle = spec.collar_seat - collar.length / 2
    return Part(
        name="collar",
        role=Role.COLLAR,
        stock="",
        path="hub.collar",
        shape=Bought((collar.mass, collar.mass, collar.mass)),
        assembly=Assembly.BLADE,
        count=1,
        spread=point((middle, 0.0, 0.0)),
        r_mm=middle,
        notes=(f"fixed to the spar, it bears on the hub at r {spec.collar_seat:.1f} mm: it holds the blade in",),
        facts={"bears_at_r_mm": spec.collar_seat},
    )


def _pins(design: Design, face: RootFace, pattern: PitchPattern, spec: HubSpec) -> Part:
    inner, outer = spec.seat - GRIP_MM, face.r_mm
    pin = design.pitch.pin
    return Part(
        name="pitch pin",
        role=Role.PIN,
        stock=pin.stock,
        path="pitch.pin",
        shape=Length(outer - inner),
        assembly=Assembly.BLADE,
        count=pin.count,
        spread=_evenly(cap_to_blade((inner + outer) / 2), pattern.turning()),
        r_mm=(inner + outer) / 2,
        notes=(f"{GRIP_MM:g} mm stand out behind the fixed cap, to pull it by; secure it, so that it can't work out",),
    )


def _turning_screws(design: Design, face: RootFace) -> Part:
    size = design.pitch.fixing.screw
    screw, cap = SCREWS[size], design.pitch.turning_cap.thickness
    length = length_as_sold(cap + face.thickness_mm + screw.nut_height + BEYOND_NUT_MM)
    centres = face.to_cap([hole.center for hole in fixing_holes(design, face)])
    middle = face.r_mm - cap + length / 2
    name, note = f"turning cap screw {size} x {length:g}", "with a nut behind the root rib, which is weighed with it"
    return _screws(
        name, Assembly.BLADE, screw.mass_g(length) + screw.nut_g(), _evenly(cap_to_blade(middle), centres), note
    )


def _fixed_screws(design: Design, seat: Seat, spec: HubSpec) -> Part:
    size = seat.screw
    screw, cap = SCREWS[size], design.pitch.fixed_cap.thickness
    length = float(max(sold for sold in LENGTHS_MM if sold <= cap + spec.pilot_depth))
    one = _evenly(cap_to_blade(spec.seat + cap - length / 2), np.array(seat.screws))
    blades = [blade_to_rotor(k + 1, spec.blades, 0.0, spec.coning) for k in range(spec.blades)]
    spread = np.vstack([np.column_stack((one[:, 0] / spec.blades, applied(blade, one[:, 1:]))) for blade in blades])
    name = f"fixed cap screw {size} x {length:g}"
    return _screws(name, Assembly.HUB, screw.mass_g(length), spread, "cuts its own thread in the hub")


def _screws(name: str, assembly: Assembly, mass_g: float, spread: FloatArray, note: str) -> Part:
    return Part(
        name=name,
        role=Role.SCREW,
        stock="",
        path="pitch.fixing",
        shape=Bought((mass_g * (1 - SCREW_BAND), mass_g, mass_g * (1 + SCREW_BAND))),
        assembly=assembly,
        count=len(spread),
        spread=spread,
        notes=(f"countersunk; {note}; mass worked out from its shape in steel",),
    )


def _evenly(place: FloatArray, xy: FloatArray) -> FloatArray:
    """(n, 4) equal shares at places of the caps' frame, taken to the blade frame."""
    return np.column_stack((np.full(len(xy), 1.0 / len(xy)), applied(place, np.column_stack((xy, np.zeros(len(xy)))))))
