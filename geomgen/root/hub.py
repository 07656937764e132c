"""The printed hub: its figures worked out from the design, and the part."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.errors import MakeError
from geomgen.frames import shift
from geomgen.materials.screws import SCREWS
from geomgen.model.joint import Bond, touching
from geomgen.model.made import Made
from geomgen.model.part import Part, Solid
from geomgen.model.role import Assembly
from geomgen.model.spread import point
from geomgen.plane.polar import on_circle
from geomgen.root.hub_fit import axis_heights, faults_before, faults_of, notes_of
from geomgen.root.hub_size import hub_extents
from geomgen.root.hub_spec import Duct, HubSpec
from geomgen.root.root import HUB, Root
from geomgen.root.root_face import RootFace
from geomgen.root.seat import CLEARANCE_MM, Seat, seat_mm, socket_mm

PILOT_BEYOND_MM = 1.0  # pilot holes go this much deeper than the screw's grip


def hub_spec(design: Design, face: RootFace, seat: Seat) -> HubSpec:
    """The hub that carries these seats, in the design's own hand.

    raises : MakeError with every wall that gets too thin and everything that doesn't go in
    """
    hub, coning = design.hub, np.radians(design.rotor.coning)
    screw = SCREWS[seat.screw]
    socket, pocket = socket_mm(design, face), hub.collar.outside + 2 * CLEARANCE_MM
    ducts = tuple(Duct(slot.radius_mm, slot.width_mm, slot.from_deg, slot.to_deg) for slot in seat.slots)
    if faults := faults_before(design, seat, ducts=ducts, socket_mm=socket, pocket_mm=pocket):
        raise MakeError(faults)
    collar_seat = float((hub.bay.radius + pocket / 2 * abs(np.sin(coning))) / np.cos(coning))
    spec = HubSpec(
        clockwise=design.rotor.turn == "clockwise",
        blades=design.rotor.blades,
        coning=design.rotor.coning,
        wall=hub.wall,
        floor=hub.floor,
        bore=hub.bore,
        bay_radius=hub.bay.radius,
        bay_height=hub.bay.height,
        axis_height=0.0,
        socket=socket,
        pocket=pocket,
        collar_seat=collar_seat,
        boss=pocket + 2 * hub.wall,
        boss_end=collar_seat + 2 * hub.wall,
        arm=socket + 2 * hub.wall,
        flange=2 * seat.radius_mm,
        flange_thickness=screw.grip,
        seat=seat_mm(design, face),
        pilot=screw.pilot,
        pilot_depth=screw.grip + PILOT_BEYOND_MM,
        pilots=seat.screws,
        ducts=ducts,
        bolt=SCREWS[hub.bolt].clearance(hub.clearance),
        bolts=_bolts(hub.bolts, hub.bolt_circle, design.rotor.blades),
    )
    if faults := faults_of(design, face, spec=spec):
        raise MakeError(faults)
    low, high = axis_heights(spec, hub.collar.length)
    middle = spec.floor + spec.bay_height / 2 - spec.collar_seat * float(np.sin(coning))
    return replace(spec, axis_height=float(np.clip(middle, low, high)))


def _bolts(count: int, circle_mm: float, blades: int) -> tuple[tuple[float, float], ...]:
    """Bolts evenly round the axis, as far from the arms as that goes."""
    first = 180.0 / np.lcm(count, blades)
    places = on_circle(np.full(count, circle_mm), first + 360.0 / count * np.arange(count))
    return tuple((float(x), float(y)) for x, y in places)


def hub_to_rotor(spec: HubSpec) -> FloatArray:
    """(4, 4) from the hub's frame, as made, to the rotor frame of the anticlockwise twin."""
    hand = np.diag((1.0, -1.0 if spec.clockwise else 1.0, 1.0, 1.0))
    return shift((0.0, 0.0, -spec.axis_height)) @ hand


def hub_part(root: Root, hub: HubSpec) -> Made:
    """The hub, once for the craft.

    Its spread puts the whole on the rotor axis, where an evenly bladed hub's centre is, at the height of the arms'
    axes: the solid's own height is known once it is built.
    """
    design, spar = root.design, root.face.spar
    x, y, height = hub_extents(hub)
    part = Part(
        name="hub",
        role=HUB.role,
        stock=design.hub.stock,
        path=HUB.path,
        shape=Solid(hub),
        assembly=Assembly.HUB,
        count=1,
        spread=point((0.0, 0.0, 0.0)),
        places=(hub_to_rotor(hub),),
        notes=notes_of(design, root.face, spec=hub),
        facts={
            "axis_height_mm": hub.axis_height,
            "floor_mm": hub.floor,
            "seat_r_mm": hub.seat,
            "collar_seat_r_mm": hub.collar_seat,
            "socket_mm": hub.socket,
            "along_x_mm": x,
            "along_y_mm": y,
            "height_mm": height,
        },
    )
    socket = [(hub.collar_seat, 0.0, 0.0), (hub.seat, 0.0, 0.0)]
    return Made((part,), (touching(spar, HUB, Bond.TURNING, "hub.socket", socket),))
