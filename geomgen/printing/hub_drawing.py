"""The hub with its caps, spars, collars and pins, drawn a little apart."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.cache import Cache
from geomgen.design.schema import Design, LengthStock, Pin, Stock
from geomgen.frames import blade_to_rotor, blades_to_rotor, hub_to_rotor, shift
from geomgen.model.part import Flat, Part, Solid
from geomgen.plane.path import Circle
from geomgen.plane.polar import on_circle
from geomgen.plane.region import Region
from geomgen.printing.faces import located, prism
from geomgen.printing.line_drawing import Shown, line_drawing
from geomgen.printing.solid import solid_of
from geomgen.root.hub_spec import HubSpec
from geomgen.root.pattern import PitchPattern
from geomgen.root.root import FLOOR_MM, blind_mm
from geomgen.root.root_face import RootFace
from geomgen.root.seat import cap_to_blade

Body = tuple[str, HubSpec | Flat, FloatArray]  # kind; what it is; (4, 4) from its own frame to the world

APART_MM = 16.0  # between seat and fixed cap, and between the caps
CLIP_MM = 1.5  # thick, as a clip is drawn
AZIMUTH_DEG, HEIGHT_DEG = -54.0, 36.0  # where the eye stands: from where a cap shows its face


def hub_drawing(bodies: list[Body], cache: Cache | None = None) -> list[Shown]:
    """What is seen of the hub, as made, and of everything that goes to it.

    bodies : see `hub_bodies`
    cache  : where hubs are kept
    raises : MakeError, see `solid_of`
    """
    return line_drawing([(kind, placed(shape, place, cache)) for kind, shape, place in bodies], AZIMUTH_DEG, HEIGHT_DEG)


def hub_bodies(
    design: Design,
    face: RootFace,
    pattern: PitchPattern,
    parts: tuple[Part, Part, Part],
    wedge: Part | None = None,
) -> list[Body]:
    """What is drawn, and where.

    parts : hub, turning cap, fixed cap
    wedge : that of the pitch to fly at, where there are any: half way out of the fixed cap
    """
    hub, turning, fixed = parts
    assert isinstance(hub.shape, Solid)
    spec: HubSpec = hub.shape.spec
    hand = hub_to_rotor(spec.clockwise)
    bodies: list[Body] = [("hub", spec, hand @ hub.places[0])]
    for k, blade in enumerate(blades_to_rotor(spec.blades, coning_deg=spec.coning)):
        halfway, out = (blade @ shift((far, 0.0, 0.0)) @ np.linalg.inv(blade) for far in (APART_MM / 2, APART_MM))
        at_pitch = blade @ blade_to_rotor(1, 1, design.pitch.set)
        bodies.append(("fixed-cap", _bare(fixed), hand @ out @ fixed.places[k]))
        bodies += [("wedge", _bare(part), hand @ halfway @ place) for part, place in _of_arm(wedge, k, spec.blades)]
        bodies.append(("turning-cap", _bare(turning), hand @ out @ out @ at_pitch @ turning.places[0]))
        bodies += [
            (kind, flat, hand @ blade @ cap_to_blade(r)) for kind, flat, r in _extras(design, face, pattern, spec)
        ]
    return bodies


def _of_arm(wedge: Part | None, arm: int, arms: int) -> list[tuple[Part, FloatArray]]:
    """A wedge at each of its places on one arm."""
    if wedge is None:
        return []
    each = len(wedge.places) // arms
    return [(wedge, place) for place in wedge.places[arm * each : (arm + 1) * each]]


def _bare(part: Part) -> Flat:
    assert isinstance(part.shape, Flat)
    return Flat(part.shape.region, part.shape.thickness_mm, pockets=part.shape.pockets)


def _extras(design: Design, face: RootFace, pattern: PitchPattern, spec: HubSpec) -> list[tuple[str, Flat, float]]:
    """Spar, collar and pins with their clips of one blade, each with the radius of its middle [mm]."""
    long = face.r_mm + 3.2 * APART_MM - face.spar_from_mm
    collar, spar, pin = design.hub.collar, face.spar_outside_mm, design.pitch.pin
    rod = face.r_mm - (FLOOR_MM if blind_mm(design) else 0.0) + 2 * APART_MM - spec.seat
    stock = design.stock[design.blade.spar[design.main_spar].stock]
    ring = Region(_disc(collar.outside), (_disc(spar + 0.04),))
    at = pattern.pins(design.pitch.set)[1]
    return [
        ("spar", Flat(_round(stock), long), face.spar_from_mm + long / 2),
        ("collar", Flat(ring, collar.length), spec.collar_seat - collar.length / 2),
        *(("pin", Flat(Region(_disc(pin.diameter, x, y)), rod), spec.seat + rod / 2) for x, y in at),
        *_stop(design, pattern, inner=spec.seat + APART_MM, outer=spec.seat + rod),
        *((("pin", _clip(pin, x, y), spec.seat + APART_MM - CLIP_MM) for x, y in at) if pin.clip else ()),
    ]


def _stop(design: Design, pattern: PitchPattern, *, inner: float, outer: float) -> list[tuple[str, Flat, float]]:
    """The stop pin at the pitch to fly at, between two radii; nothing where there is none."""
    if (stop := pattern.stop) is None:
        return []
    x, y = on_circle(stop.circle_mm, stop.turning_deg - design.pitch.set).tolist()
    return [("pin", Flat(Region(_disc(design.pitch.pin.diameter, x, y)), outer - inner), (inner + outer) / 2)]


def _round(stock: Stock) -> Region:
    """Cross-section of a rod, or of a tube with its bore."""
    assert isinstance(stock, LengthStock) and stock.outside is not None  # the rules see to it
    return Region(_disc(stock.outside), (_disc(stock.inside),) if stock.inside else ())


def _clip(pin: Pin, x: float, y: float) -> Flat:
    assert pin.clip is not None
    return Flat(Region(_disc(pin.clip.outside, x, y), (_disc(pin.diameter + 0.04, x, y),)), CLIP_MM)


def _disc(diameter: float, x: float = 0.0, y: float = 0.0) -> Circle:
    return Circle((x, y), diameter / 2)


def placed(shape: HubSpec | Flat, place: FloatArray, cache: Cache | None) -> Any:
    """The kernel's solid in the world; a place that mirrors mirrors it."""
    if isinstance(shape, HubSpec):
        solid = solid_of(shape, cache)
    else:
        top = shape.thickness_mm / 2
        solid = prism(shape.region, -top, top)
        for pocket in shape.pockets:
            solid = solid.cut(prism(Region(pocket.loop), top - pocket.depth_mm, top))
    if np.linalg.det(place[:3, :3]) < 0.0:
        solid, place = solid.mirror("XZ"), place @ np.diag((1.0, -1.0, 1.0, 1.0))
    return solid.moved(located(place))
