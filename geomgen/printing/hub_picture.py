"""The hub with its caps, spars, collars and pins, drawn a little apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.frames import blade_to_rotor, hub_to_rotor, shift
from geomgen.model.part import Flat, Part, Solid
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.printing.mesh import Mesh
from geomgen.printing.picture import Body, picture
from geomgen.printing.plate import plate_mesh
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pitch_pattern import PitchPattern
from geomgen.root.root_face import RootFace
from geomgen.root.seat import cap_to_blade
from geomgen.tolerances import STANDARD, Tolerances

FloatArray = NDArray[np.float64]

APART_MM = 16.0  # between seat and fixed cap, and between the caps
AZIMUTH_DEG, HEIGHT_DEG = -54.0, 36.0  # where the eye stands
HUB, FIXED, TURNING = (0.36, 0.52, 0.68), (0.93, 0.66, 0.30), (0.60, 0.73, 0.47)
SPAR, COLLAR, PIN = (0.24, 0.25, 0.28), (0.80, 0.76, 0.66), (0.72, 0.74, 0.78)


def hub_picture(
    design: Design,
    face: RootFace,
    pattern: PitchPattern,
    parts: tuple[Part, Part, Part],
    meshes: tuple[Mesh, Mesh, Mesh],
    tol: Tolerances = STANDARD,
    width_px: int = 900,
) -> bytes:
    """PNG of the hub, as made, with everything that goes to it; seen from above, from where a cap shows its face.

    parts  : hub, turning cap, fixed cap
    meshes : theirs
    """
    hub, turning, fixed = parts
    assert isinstance(hub.shape, Solid)
    spec: HubSpec = hub.shape.spec
    hand = hub_to_rotor(spec.clockwise)
    hub_mesh, turning_mesh, fixed_mesh = meshes
    bodies = [Body(hub_mesh, hand @ hub.places[0], HUB)]
    extras = _extras(design, face, pattern, spec, tol)
    for k in range(spec.blades):
        blade = blade_to_rotor(k + 1, spec.blades, 0.0, spec.coning)
        out = blade @ shift((APART_MM, 0.0, 0.0)) @ np.linalg.inv(blade)
        bodies.append(Body(fixed_mesh, hand @ out @ fixed.places[k], FIXED))
        bodies.append(Body(turning_mesh, hand @ out @ out @ blade @ _at_pitch(design) @ turning.places[0], TURNING))
        bodies += [Body(body.mesh, hand @ blade @ body.place, body.colour) for body in extras]
    return picture(bodies, AZIMUTH_DEG, HEIGHT_DEG, width_px)


def _at_pitch(design: Design) -> FloatArray:
    return blade_to_rotor(1, 1, design.pitch.set)


def _extras(design: Design, face: RootFace, pattern: PitchPattern, spec: HubSpec, tol: Tolerances) -> list[Body]:
    """Spar, collar and pins of one blade, in the blade frame."""
    cap = design.pitch.fixed_cap.thickness + design.pitch.turning_cap.thickness
    outer = face.r_mm + 3.2 * APART_MM
    collar, length = design.hub.collar, outer - face.spar_from_mm
    tube = Region(Circle((0.0, 0.0), face.spar_outside_mm / 2), (Circle((0.0, 0.0), 0.4 * face.spar_outside_mm),))
    ring = Region(Circle((0.0, 0.0), collar.outside / 2), (Circle((0.0, 0.0), face.spar_outside_mm / 2 + 0.02),))
    solids = [
        (tube, length, face.spar_from_mm + length / 2, SPAR),
        (ring, collar.length, spec.collar_seat - collar.length / 2, COLLAR),
    ]
    at = pattern.fixed()[int(np.argmin(np.abs(np.array(pattern.settings_deg) - design.pitch.set)))]
    rod = 2.2 * APART_MM + cap
    solids += [(Region(Circle((x, y), design.pitch.pin.diameter / 2)), rod, spec.seat + rod / 2, PIN) for x, y in at]
    return [Body(plate_mesh(Flat(region, long), tol, ""), cap_to_blade(r), tint) for region, long, r, tint in solids]
