"""What locks a blade's pitch and holds its caps: pins with their clips, screws."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.frames import applied, blades_to_rotor
from geomgen.materials.screws import BAND, SCREWS
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.made import Made, together
from geomgen.model.part import Bought, Length, Part
from geomgen.model.role import Assembly
from geomgen.root.collar import collar
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root import (
    CLIP,
    FIXED_CAP,
    FIXED_SCREW,
    FLOOR_MM,
    GRIP_MM,
    HUB,
    MAST_BOLT,
    PIN,
    STOP_PIN,
    TURNING_CAP,
    TURNING_SCREW,
    Root,
    blind_mm,
)
from geomgen.root.seat import cap_to_blade
from geomgen.root.wedges import wedge_key

MAST_FLANGE_MM = 4.0  # of the mast, that its bolts pass; common practice


def small_parts(root: Root, hub: HubSpec) -> Made:
    """Collar with what fixes it, pitch pins, both caps' screws, and the bolts to the mast, with what they weigh."""
    screws = _turning_screws(root), _fixed_screws(root, hub), _mast_bolts(root, hub)
    return together(collar(root, hub), _pins(root), _stop_pin(root), *screws)


def _pins(root: Root) -> Made:
    """Pins, each ended by its blind hole, or by a clip behind the fixed cap; with neither, friction alone holds it."""
    pin, deep = root.design.pitch.pin, blind_mm(root.design)
    at_pins = root.pattern.pins(root.design.pitch.set)[0]
    inner, outer = root.seat_mm - GRIP_MM, root.face.r_mm - (FLOOR_MM if deep else 0.0)
    held = "its blind hole" if deep else "its clip" if pin.clip else "friction alone"
    part = Part(
        name="pitch pin",
        role=PIN.role,
        stock=pin.stock,
        path=PIN.path,
        shape=Length(outer - inner),
        assembly=Assembly.BLADE,
        count=pin.count,
        spread=_evenly((inner + outer) / 2, at_pins),
        r_mm=(inner + outer) / 2,
        notes=(
            f"{mm(GRIP_MM)} stand out behind the fixed cap, to pull it by; {held} keeps it from leaving outwards, and "
            "at rest nothing but its fit from sliding in: tie the ends together",
        ),
    )
    behind = wedge_key(root.design.pitch.set) if root.pattern.wedge else FIXED_CAP
    locked = touching(PIN, behind, Bond.PINNED, PIN.path, _evenly(root.fixed_mid_mm, at_pins)[:, 1:])
    ends = _evenly(outer if deep else root.turning_mid_mm, at_pins)[:, 1:]
    if pin.clip is None:
        bond = Bond.BEARING if deep else Bond.CLAMPED
        return Made((part,), (touching(PIN, TURNING_CAP, bond, PIN.path, ends), locked))
    clip, at = _clip(root), _evenly(root.seat_mm, at_pins)[:, 1:]
    clamped = touching(PIN, CLIP, Bond.CLAMPED, CLIP.path, at)
    bears = touching(CLIP, behind, Bond.BEARING, CLIP.path, at)
    turned = touching(PIN, TURNING_CAP, Bond.PINNED, PIN.path, ends)
    return Made((part, clip), (clamped, bears, turned, locked))


def _stop_pin(root: Root) -> Made:
    """The pin that ends the turning, where the pattern wants one: glued into the turning cap, flush behind the fixed
    cap."""
    if (stop := root.pattern.stop) is None:
        return Made()
    pin, outer = root.design.pitch.pin, root.face.r_mm - (FLOOR_MM if blind_mm(root.design) else 0.0)
    at, turning = np.array([stop.place()]), root.face.r_mm - root.design.pitch.turning_cap.thickness
    part = Part(
        name="stop pin",
        role=STOP_PIN.role,
        stock=pin.stock,
        path=STOP_PIN.path,
        shape=Length(outer - root.seat_mm),
        assembly=Assembly.BLADE,
        count=1,
        spread=_evenly((outer + root.seat_mm) / 2, at),
        r_mm=(outer + root.seat_mm) / 2,
        notes=(
            f"glued into its hole of the turning cap, over {mm(outer - turning)}; it runs in the fixed cap's slot and "
            f"keeps the pitch from {stop.turning_deg - stop.to_deg:.4g} to {stop.turning_deg - stop.from_deg:.4g} deg",
        ),
        mark=STOP_PIN.mark,
    )
    glued = np.column_stack(([np.pi * pin.diameter * (outer - turning)], _evenly((outer + turning) / 2, at)[:, 1:]))
    return Made((part,), (Joint(STOP_PIN, TURNING_CAP, Bond.GLUED, STOP_PIN.path, glued),))


def _clip(root: Root) -> Part:
    pin = root.design.pitch.pin
    assert pin.clip is not None
    return Part(
        name="clip of a pitch pin",
        role=CLIP.role,
        stock="",
        path=CLIP.path,
        shape=Bought.about(pin.clip.mass),
        assembly=Assembly.BLADE,
        count=pin.count,
        spread=_evenly(root.seat_mm, root.pattern.pins(root.design.pitch.set)[0]),
        notes=("fixed round the pin behind the fixed cap, against it",),
        facts={"outside_mm": pin.clip.outside},
    )


def _turning_screws(root: Root) -> Made:
    design, face, size = root.design, root.face, root.design.pitch.fixing.screw
    screw, cap = SCREWS[size], design.pitch.turning_cap.thickness
    length = screw.length_with_nut(cap + face.thickness_mm)
    part = _screws(
        TURNING_SCREW,
        f"turning cap screw {size} x {screw.lengths.text(length)}",
        assembly=Assembly.BLADE,
        diameter_mm=screw.diameter,
        mass_g=screw.mass_g(length) + screw.nut_g(),
        spread=_evenly(face.r_mm - cap + length / 2, root.fixing()),
        note="with a nut behind the root rib, which is weighed with it",
    )
    return Made((part,), (touching(part.key, face.rib, Bond.SCREWED, part.path, part.spread[:, 1:]),))


def _fixed_screws(root: Root, hub: HubSpec) -> Made:
    size = root.seat.screw
    screw, cap = SCREWS[size], root.design.pitch.fixed_cap.thickness
    length = screw.lengths.at_most(cap + hub.pilot_depth)
    one = _evenly(hub.seat + cap - length / 2, np.array(root.seat.screws))
    blades = blades_to_rotor(hub.blades, coning_deg=hub.coning)
    part = _screws(
        FIXED_SCREW,
        f"fixed cap screw {size} x {screw.lengths.text(length)}",
        assembly=Assembly.HUB,
        diameter_mm=screw.diameter,
        mass_g=screw.mass_g(length),
        spread=np.vstack([np.column_stack((one[:, 0] / hub.blades, applied(blade, one[:, 1:]))) for blade in blades]),
        note="cuts its own thread in the hub",
    )
    return Made((part,), (touching(part.key, HUB, Bond.SCREWED, part.path, part.spread[:, 1:]),))


def _mast_bolts(root: Root, hub: HubSpec) -> Made:
    """Bolts down through the hub's floor, heads in the bay, with their nuts below the mast's flange."""
    size = root.design.hub.bolt
    screw, middle = SCREWS[size], hub.floor - hub.axis_height
    length = screw.length_with_nut(hub.floor + MAST_FLANGE_MM)
    at = np.array(hub.bolts)
    part = Part(
        name=f"mast bolt {size} x {screw.lengths.text(length)}",
        role=MAST_BOLT.role,
        stock="",
        path=MAST_BOLT.path,
        shape=Bought.about(screw.bolt_g(length) + screw.nut_g(), BAND),
        assembly=Assembly.HUB,
        count=len(at),
        spread=np.column_stack((np.full(len(at), 1 / len(at)), at, np.full(len(at), middle - length / 2))),
        notes=(
            f"through {mm(hub.floor)} of floor and up to {mm(MAST_FLANGE_MM)} of the mast's flange, with a nut, which "
            "is weighed with it; mass worked out from its shape in steel",
        ),
        facts={"diameter_mm": screw.diameter},
    )
    return Made((part,), (touching(MAST_BOLT, HUB, Bond.SCREWED, MAST_BOLT.path, part.spread[:, 1:]),))


def _screws(
    key: Key, name: str, *, assembly: Assembly, diameter_mm: float, mass_g: float, spread: FloatArray, note: str
) -> Part:
    return Part(
        name=name,
        role=key.role,
        stock="",
        path=key.path,
        shape=Bought.about(mass_g, BAND),
        assembly=assembly,
        count=len(spread),
        spread=spread,
        notes=(f"countersunk; {note}; mass worked out from its shape in steel",),
        facts={"diameter_mm": diameter_mm},
        mark=key.mark,
    )


def _evenly(r_mm: float, xy: FloatArray) -> FloatArray:
    """(n, 4) equal shares at places of the caps' frame in the plane at r, taken to the blade frame."""
    places = applied(cap_to_blade(r_mm), np.column_stack((xy, np.zeros(len(xy)))))
    return np.column_stack((np.full(len(xy), 1.0 / len(xy)), places))
