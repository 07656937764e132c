"""The hub as a record of numbers: all that its solid is made from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

OPEN_MM = 1.0  # a cut that opens into the bay begins this much inside it


@dataclass(frozen=True)
class Duct:
    """An arc slot about an arm's axis, in the caps' frame, carried inward from the seat into the bay.

    radius   : of its middle line [mm]
    width    : its width [mm]
    from_deg, to_deg : where the middles of its round ends lie, anticlockwise [deg]
    """

    radius: float
    width: float
    from_deg: float
    to_deg: float

    def reach(self, more: float = 0.0) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y of the slot, grown all round by `more` [mm]."""
        quarters = 90.0 * np.arange(np.ceil(self.from_deg / 90.0), np.floor(self.to_deg / 90.0) + 1)
        angles = np.radians(np.concatenate([[self.from_deg, self.to_deg], quarters]))
        x, y, r = self.radius * np.cos(angles), self.radius * np.sin(angles), self.width / 2 + more
        return float(x.min() - r), float(y.min() - r), float(x.max() + r), float(y.max() + r)


@dataclass(frozen=True)
class HubSpec:
    """A cup with a bay, and for each blade an arm with a socket, a seat for the fixed cap, and ducts.

    The hub's frame: Z up along the rotor axis from the underside, blade 1 along +X. An arm's own frame is the caps':
    seen from the rotor axis, x aft and y up, with s the distance along the coned axis. Lengths [mm], angles [deg].

    clockwise       : the solid is the mirror image (y -> -y) of what the other figures describe
    blades, coning  : number of arms, and how far their axes rise
    wall, floor     : thicknesses
    bore            : diameter of the hole through the floor
    bay_radius, bay_height : of the room in the cup
    axis_height     : where the arms' axes meet the rotor axis
    socket          : diameter of the spar's bore
    pocket          : diameter of the spot face in the bay's wall, on which the collar bears
    collar_seat     : s of that face
    boss, boss_end  : diameter of an arm's thick root, and s from which it tapers at 45 deg
    arm             : diameter of the arm round the socket
    flange, flange_thickness : of the disc that carries the screws of the seat
    seat            : s of the face on which the fixed cap lies
    pilot, pilot_depth : diameter and depth of the holes for the cap's screws
    pilots          : (x, y) of each, in the arm's frame
    ducts           : ways for the wires
    bolt            : diameter of the holes for the bolts
    bolts           : (x, y) of each, in the hub's frame
    """

    clockwise: bool
    blades: int
    coning: float
    wall: float
    floor: float
    bore: float
    bay_radius: float
    bay_height: float
    axis_height: float
    socket: float
    pocket: float
    collar_seat: float
    boss: float
    boss_end: float
    arm: float
    flange: float
    flange_thickness: float
    seat: float
    pilot: float
    pilot_depth: float
    pilots: tuple[tuple[float, float], ...]
    ducts: tuple[Duct, ...]
    bolt: float
    bolts: tuple[tuple[float, float], ...]

    @property
    def rim(self) -> float:
        """Height of the cup's rim above the underside [mm]."""
        return self.floor + self.bay_height

    @property
    def taper_end(self) -> float:
        """s at which the thick root has tapered to the arm [mm]."""
        return self.boss_end + (self.boss - self.arm) / 2

    def opening(self, across: float, above: float) -> float:
        """s at which a cut along the arm, this half width and half height, lies wholly inside the bay [mm]."""
        b = np.radians(self.coning)
        return float((np.sqrt(self.bay_radius**2 - across**2) - above * abs(np.sin(b)) - OPEN_MM) / np.cos(b))

    @property
    def pocket_from(self) -> float:
        """s at which spot face and socket open into the bay [mm]."""
        return self.opening(self.pocket / 2, self.pocket / 2)

    def duct_from(self, duct: Duct) -> float:
        """s at which a duct opens into the bay [mm]."""
        x0, y0, x1, y1 = duct.reach()
        return self.opening(max(-x0, x1), max(-y0, y1))
