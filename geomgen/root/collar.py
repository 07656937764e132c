"""The collar that holds a blade in against its pull, and what fixes it to the spar: glue, a pin, or screws."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Clamped, Collar, Glued, Pinned
from geomgen.figures import mm
from geomgen.materials.catalogue import find_glue
from geomgen.materials.screws import BAND, SCREWS
from geomgen.model.joint import Bond, Joint, touching
from geomgen.model.made import Made, together
from geomgen.model.part import Bought, Length, Part
from geomgen.model.role import Assembly
from geomgen.model.spread import of_sides, point
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root import COLLAR, COLLAR_PIN, COLLAR_SCREW, HUB, Root


def collar(root: Root, hub: HubSpec) -> Made:
    """One blade's collar behind the socket, and its fixing; where none is named, it is taken to be clamped."""
    table = root.design.hub.collar
    middle = hub.collar_seat - table.length / 2
    part = Part(
        name="collar",
        role=COLLAR.role,
        stock="",
        path=COLLAR.path,
        shape=_mass(table, root.face.spar_outside_mm),
        assembly=Assembly.BLADE,
        count=1,
        spread=point((middle, 0.0, 0.0)),
        r_mm=middle,
        notes=(f"{_words(table)}; it bears on the hub at r {mm(hub.collar_seat, 1)}: it holds the blade in",),
        facts={"bears_at_r_mm": hub.collar_seat},
        second=_ring(table, root.face.spar_outside_mm),
    )
    bearing = touching(COLLAR, HUB, Bond.BEARING, COLLAR.path, [(hub.collar_seat, 0.0, 0.0)])
    return together(Made((part,), (bearing,)), _fixed(root, middle))


def glue_area_mm2(table: Glued, spar_outside_mm: float) -> float:
    """Area of the glue line round the spar [mm2]."""
    return float(np.pi * spar_outside_mm * table.length)


def _mass(table: Collar, spar_outside_mm: float) -> Bought:
    """Of the collar, its glue included."""
    if not isinstance(table.fixing, Glued):
        return Bought.about(table.mass)
    coat, m2 = find_glue(table.fixing.glue).dry, glue_area_mm2(table.fixing, spar_outside_mm) * 1e-6
    return Bought((table.mass + coat.low * m2, table.mass + coat.typical * m2, table.mass + coat.high * m2))


def _ring(table: Collar, spar_outside_mm: float) -> FloatArray:
    """(3, 3) how a ring on the spar lies round its middle, see `Part.second` [mm2]."""
    across = (table.outside**2 + spar_outside_mm**2) / 16.0
    return of_sides(np.diag([table.length, 0.0, 0.0])) + np.diag([0.0, across, across])


def _words(table: Collar) -> str:
    match table.fixing:
        case Glued(length=length, glue=glue):
            return f"glued on the spar over {mm(length)} with {glue}, weighed with it; both sanded and degreased"
        case Pinned(diameter=diameter):
            return f"a pin of {mm(diameter)} goes through it and the spar"
        case Clamped(screw=screw, count=count):
            return f"split, and clamped on the spar by {count} {screw}"
        case None:
            return "fixed to the spar"


def _fixed(root: Root, middle_mm: float) -> Made:
    """What fixes it, and its joint with the spar."""
    table, spar, at = root.design.hub.collar, root.face.spar, [(middle_mm, 0.0, 0.0)]
    match table.fixing:
        case Glued() as glued:
            area = glue_area_mm2(glued, root.face.spar_outside_mm)
            return Made((), (Joint(spar, COLLAR, Bond.GLUED, COLLAR_PIN.path, np.array([[area, *at[0]]])),))
        case Pinned() as pinned:
            pin = _cross_pin(table, pinned, middle_mm)
            through = touching(spar, pin.key, Bond.PINNED_ACROSS, pin.path, at)
            return Made((pin,), (through, touching(pin.key, COLLAR, Bond.PINNED_ACROSS, pin.path, at)))
        case Clamped() as clamped:
            screws = _screws(table, clamped, middle_mm)
            clamp = touching(spar, COLLAR, Bond.CLAMPED, screws.path, at)
            return Made((screws,), (clamp, touching(screws.key, COLLAR, Bond.SCREWED, screws.path, at)))
        case None:
            return Made((), (touching(spar, COLLAR, Bond.CLAMPED, COLLAR.path, at),))


def _cross_pin(table: Collar, pinned: Pinned, middle_mm: float) -> Part:
    return Part(
        name="pin of the collar",
        role=COLLAR_PIN.role,
        stock=pinned.stock,
        path=COLLAR_PIN.path,
        shape=Length(table.outside),
        assembly=Assembly.BLADE,
        count=1,
        spread=point((middle_mm, 0.0, 0.0)),
        r_mm=middle_mm,
        notes=("across collar and spar, its ends flush and glued, so that it can't leave",),
    )


def _screws(table: Collar, clamped: Clamped, middle_mm: float) -> Part:
    screw = SCREWS[clamped.screw]
    length = screw.lengths.at_least(table.outside / 2)
    return Part(
        name=f"screw of the collar {clamped.screw} x {screw.lengths.text(length)}",
        role=COLLAR_SCREW.role,
        stock="",
        path=COLLAR_SCREW.path,
        shape=Bought.about(screw.mass_g(length), BAND),
        assembly=Assembly.BLADE,
        count=clamped.count,
        spread=point((middle_mm, 0.0, 0.0)),
        notes=("draws the split collar together; mass worked out from its shape in steel",),
        facts={"diameter_mm": screw.diameter},
    )
