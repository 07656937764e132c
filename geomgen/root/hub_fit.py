"""What must fit in a printed hub: walls, wires, collars, bolts, and the height of the arms' axes."""

from __future__ import annotations

import numpy as np

from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.figures import at_least, at_most, mm
from geomgen.materials.screws import SCREWS
from geomgen.plane.polar import rotation
from geomgen.plane.turned_fit import angle_to_fit
from geomgen.root.hub_size import hub_corners, hub_extents
from geomgen.root.hub_spec import Duct, HubSpec
from geomgen.root.root_face import RootFace
from geomgen.root.seat import CLEARANCE_MM, Seat

BEARING_MM = 1.0  # least width of the ring on which a collar bears
SHORTEST_ARM_MM = 5.0  # between the thick root of an arm and its flange


def faults_before(
    design: Design, seat: Seat, *, ducts: tuple[Duct, ...], socket_mm: float, pocket_mm: float
) -> list[Fault]:
    """What is too narrow for a hub to be drawn at all.

    socket_mm, pocket_mm : diameters of socket and spot face [mm]
    """
    hub, faults = design.hub, []
    wall = hub.wall
    if hub.collar.outside < socket_mm + 2 * BEARING_MM:
        least = socket_mm + 2 * BEARING_MM
        wrong = f"a collar must bear on the hub round a socket of {mm(socket_mm, 1)}"
        faults.append(_fault("hub.collar.outside", hub.collar.outside, wrong, f"at least {at_least(least, 1)}"))
    reach = pocket_mm / 2 + wall
    for slot, duct in zip(seat.slots, ducts, strict=True):
        x0, _, x1, _ = duct.reach(wall)
        reach = max(reach, -x0, x1)
        least = pocket_mm / 2 + wall + slot.width_mm / 2
        if slot.radius_mm < least:
            wrong = (
                f"where it enters the bay, {mm(slot.radius_mm, 1)} from the feather axis, it comes too near the collar"
            )
            remedy = "move the channel away from the feather axis, or take a smaller collar"
            faults.append(Fault(f"{slot.path}.chord", "", wrong, f"at least {at_least(least, 1)}", remedy))
    if reach > hub.bay.radius:
        wrong = "the wires' ducts and the collar's room lie beside the bay, not in it"
        faults.append(_fault("hub.bay.radius", hub.bay.radius, wrong, f"at least {at_least(reach, 0)}"))
    return faults


def faults_of(design: Design, face: RootFace, *, spec: HubSpec) -> list[Fault]:
    """Everything else that is too thin, or doesn't go in."""
    return [
        *_arm(spec),
        *_walls(design, spec),
        *_spar_and_collar(design, face, spec=spec),
        *_between_arms(spec),
        *_bolting(design, spec),
        *_height(design, spec),
    ]


def _fault(path: str, value_mm: float, wrong: str, allowed: str) -> Fault:
    return Fault(path, mm(value_mm), wrong, allowed)


def _arm(spec: HubSpec) -> list[Fault]:
    least = spec.taper_end + SHORTEST_ARM_MM + spec.flange_thickness
    if spec.seat >= least:
        return []
    wrong = f"the hub's seat would lie at r {mm(spec.seat, 1)}; bay, collar and flange need {mm(least, 1)}"
    remedy = f"begin the section {at_least(least - spec.seat, 0)} further out, or make the bay smaller"
    return [Fault("rotor.root", "", wrong, remedy=remedy)]


def _walls(design: Design, spec: HubSpec) -> list[Fault]:
    least = 2 * design.printer.line
    wrong = f"a printed wall wants two lines of {mm(design.printer.line)} at least"
    walls = {"hub.wall": spec.wall, "hub.floor": spec.floor}
    return [
        _fault(path, wall, wrong, f"at least {at_least(least, 1)}")
        for path, wall in walls.items()
        if wall < least - 1e-9
    ]


def _spar_and_collar(design: Design, face: RootFace, *, spec: HubSpec) -> list[Fault]:
    """The spar goes through socket and collar, the collar goes in from the bay, and neighbours don't meet."""
    collar, faults = design.hub.collar, []
    through = spec.collar_seat - collar.length
    if face.spar_from_mm > through + 1e-9:
        wrong = (
            f"it isn't through the collar, which reaches in to r {at_most(through, 1)}: nothing would hold the blade"
        )
        faults.append(_fault(f"{face.spar_path}.from", face.spar_from_mm, wrong, f"at most {at_most(through, 1)}"))
    half = np.pi / spec.blades
    room = spec.pocket_from - collar.length
    needed = float((collar.outside / 2 + CLEARANCE_MM) / np.tan(half)) if spec.blades > 2 else CLEARANCE_MM
    if room < needed:
        wrong, least = f"the collars of {spec.blades} blades don't go in from the bay", spec.bay_radius + needed - room
        faults.append(_fault("hub.bay.radius", spec.bay_radius, wrong, f"at least {at_least(least, 0)}"))
    ends = float((face.spar_outside_mm / 2 + CLEARANCE_MM) / np.tan(half)) if spec.blades > 2 else CLEARANCE_MM
    if face.spar_from_mm < ends:
        wrong = f"the spars of {spec.blades} blades meet in the bay"
        faults.append(_fault(f"{face.spar_path}.from", face.spar_from_mm, wrong, f"at least {at_least(ends, 1)}"))
    return faults


def _between_arms(spec: HubSpec) -> list[Fault]:
    """Openings of neighbouring arms in the bay's wall keep a wall between them."""
    aft, forward = _sideways(spec, spec.pocket / 2 + spec.wall / 2, spec.wall / 2)
    angle = float(np.degrees(np.arcsin(aft / spec.bay_radius) + np.arcsin(forward / spec.bay_radius)))
    share = 360.0 / spec.blades
    if angle <= share:
        return []
    wrong = (
        f"socket and ducts of one blade take {angle:.0f} deg of the bay's wall; {spec.blades} blades leave {share:.0f}"
    )
    return [_fault("hub.bay.radius", spec.bay_radius, wrong, "a larger bay, or channels nearer the feather axis")]


def _sideways(spec: HubSpec, half: float, more: float) -> tuple[float, float]:
    """How far an arm reaches aft and forward: what is round by its half width, and ducts grown all round [mm]."""
    reaches = [duct.reach(more) for duct in spec.ducts]
    return max([half, *(x1 for _, _, x1, _ in reaches)]), max([half, *(-x0 for x0, *_ in reaches)])


def _bolting(design: Design, spec: HubSpec) -> list[Fault]:
    hub, circle = design.hub, design.hub.bolt_circle
    least = (spec.bore + spec.bolt) / 2 + spec.wall
    if hub.bolts > 1:
        least = max(least, float((spec.bolt + spec.wall) / (2 * np.sin(np.pi / hub.bolts))))
    most = spec.bay_radius - SCREWS[hub.bolt].washer / 2
    if least - 1e-9 <= circle <= most + 1e-9:
        return []
    wrong = f"{hub.bolts} {hub.bolt} bolts with their washers don't go between bore and bay's wall"
    allowed = (
        f"from {at_least(least, 1)} to {at_most(most, 1)}"
        if least <= most
        else "a larger bay, a smaller bore, fewer bolts"
    )
    return [_fault("hub.bolt_circle", circle, wrong, allowed)]


def _height(design: Design, spec: HubSpec) -> list[Fault]:
    low, high = axis_heights(spec, design.hub.collar.length)
    if low <= high:
        return []
    wrong = "arms, collars and ducts don't go between floor and rim"
    return [_fault("hub.bay.height", spec.bay_height, wrong, f"at least {at_least(spec.bay_height + low - high, 0)}")]


def axis_heights(spec: HubSpec, collar_length: float) -> tuple[float, float]:
    """Least and greatest height of the arms' axes above the underside, where they meet the rotor axis [mm].

    Collar and ducts keep off the floor, and their openings a wall's breadth off the rim; arms and flanges don't
    reach below the underside, so that the hub stands flat on the printer's bed.
    collar_length : [mm]
    """
    inside, free = (spec.floor, spec.rim - spec.wall), (0.0, np.inf)
    collar, boss, flange = spec.pocket / 2, spec.boss / 2, spec.flange / 2
    # what reaches so far below and above the axis, from s to s, stays between two heights [mm]
    rows = [
        (collar, collar, spec.pocket_from - collar_length, spec.collar_seat, *inside),
        (boss, 0.0, spec.pocket_from, spec.taper_end, *free),
        (flange, 0.0, spec.seat - spec.flange_thickness, spec.seat, *free),
    ]
    for duct in spec.ducts:
        _, y0, _, y1 = duct.reach()
        rows.append((-y0, y1, spec.duct_from(duct), spec.collar_seat, *inside))
        rows.append((spec.wall - y0, 0.0, spec.duct_from(duct), spec.seat, *free))
    below, above, start, end, low, high = np.array(rows).T
    rise, level = np.sin(np.radians(spec.coning)), np.cos(np.radians(spec.coning))
    lows = low + below * level - np.minimum(start * rise, end * rise)
    highs = high - above * level - np.maximum(start * rise, end * rise)
    return float(lows.max()), float(highs.min())


def notes_of(design: Design, face: RootFace, *, spec: HubSpec) -> tuple[str, ...]:
    """What the maker should know of the hub."""
    notes = [
        "print it standing on its underside, with support under the arms",
        f"the feather axes meet the rotor axis {mm(spec.axis_height, 1)} above the underside",
        f"pilot holes of {mm(spec.pilot, significant=3)} take {design.pitch.fixing.screw} screws that cut their own "
        "thread",
    ]
    reach = design.hub.collar.outside / 2 + SCREWS[design.hub.bolt].washer / 2
    azimuths = 360.0 / spec.blades * np.arange(spec.blades)
    places = np.array(spec.bolts)
    for azimuth in azimuths:
        along, across = (places @ rotation(azimuth)).T
        if ((along > face.spar_from_mm - reach) & (np.abs(across) < reach)).any():
            notes.append("a spar or collar stands over a bolt: put the bolts in before the blades")
            break
    return tuple(notes + _bed(design, spec))


def _bed(design: Design, spec: HubSpec) -> list[str]:
    """Whether the printer's bed takes the hub, if need be turned."""
    if design.printer.bed is None:
        return []
    angle = angle_to_fit(hub_corners(spec)[:, :2], design.printer.bed)
    if angle in (0.0, 90.0):
        return []
    x, y, _ = hub_extents(spec)
    what = f"the hub is {mm((x, y), 0, ' x ')}"
    where = f"the printer's bed of {mm(design.printer.bed, words=' x ')}"
    if angle is None:
        return [f"{what}: it does not go on {where}, not even turned"]
    return [f"{what}: it goes on {where} turned by {angle:g} deg"]
