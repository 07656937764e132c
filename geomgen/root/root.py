"""One blade's root, worked out: what caps, pins and screws are drawn from, and what its parts are to one another."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, VolumeStock
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.root.fixing_holes import fixing_holes
from geomgen.root.pattern import PitchPattern
from geomgen.root.root_face import RootFace
from geomgen.root.seat import Seat, seat_mm

TURNING_CAP = Key(Role.TURNING_CAP, "pitch.turning_cap")
FIXED_CAP = Key(Role.FIXED_CAP, "pitch.fixed_cap")
PIN = Key(Role.PIN, "pitch.pin")
STOP_PIN = Key(Role.PIN, "pitch.pin", ("stop",))
TURNING_SCREW = Key(Role.SCREW, "pitch.fixing", ("turning cap",))
FIXED_SCREW = Key(Role.SCREW, "pitch.fixing", ("fixed cap",))
COLLAR = Key(Role.COLLAR, "hub.collar")
HUB = Key(Role.HUB, "hub")
MAST_BOLT = Key(Role.SCREW, "hub.bolt")
CLIP = Key(Role.CLIP, "pitch.pin.clip")
COLLAR_PIN = Key(Role.PIN, "hub.collar.fixing")
COLLAR_SCREW = Key(Role.SCREW, "hub.collar.fixing")

GRIP_MM = 12.0  # of a pin, to pull it by, behind the fixed cap
FLOOR_MM = 1.0  # of a blind hole: two layers and more; common practice


@dataclass(frozen=True, eq=False)
class Root:
    """What holds one blade to the hub and locks its pitch, of the anticlockwise twin.

    design  : pitch, hub, rotor and stocks are read
    face    : the root rib's inboard face
    seat    : the hub's face behind the fixed cap
    pattern : the index holes
    """

    design: Design
    face: RootFace
    seat: Seat
    pattern: PitchPattern

    def fixing(self) -> FloatArray:
        """(n, 2) the turning cap's screws in the caps' frame [mm]. raises : MakeError where they have no room"""
        return self.face.to_cap([hole.center for hole in fixing_holes(self.design, self.face)])

    @property
    def turning_mid_mm(self) -> float:
        """r of the turning cap's mid-plane [mm]."""
        return self.face.r_mm - self.design.pitch.turning_cap.thickness / 2

    @property
    def seat_mm(self) -> float:
        """r of the hub's seat, on which the fixed cap lies [mm]."""
        return seat_mm(self.design, self.face)

    @property
    def fixed_mid_mm(self) -> float:
        """r of the fixed cap's mid-plane [mm]."""
        return self.seat_mm + self.design.pitch.fixed_cap.thickness / 2


def blind_mm(design: Design) -> float:
    """How deep the turning cap's holes for the pins are; 0 where they go through: in a sheet, or where clips hold the
    pins [mm]."""
    cap, printed = design.pitch.turning_cap, isinstance(design.stock[design.pitch.turning_cap.stock], VolumeStock)
    return cap.thickness - FLOOR_MM if printed and design.pitch.pin.clip is None else 0.0
