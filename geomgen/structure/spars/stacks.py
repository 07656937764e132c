"""Where spar caps lie: strips laminated on one another under the upper and over the lower edge of a rib."""

from __future__ import annotations

from geomgen.design.schema import HALVES, CapSpar
from geomgen.model.layout import Slice
from geomgen.plane.biarc import unit
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.lying import Oblong, seated


def layer_ends(member: Member[CapSpar]) -> tuple[float, ...]:
    """r at which each lamination ends, never beyond the spar's own end, the outermost in the section first [mm]."""
    design, spar = member.layout.design, member.spar
    return tuple(min(design.r(end), design.r(spar.to)) for end in spar.layers)


def stacks(member: Member[CapSpar], at: Slice, layers: int) -> tuple[Oblong, Oblong] | None:
    """Upper and lower cap at one radius, from their outer faces inwards; None where the inside doesn't reach over them.

    layers : laminations there
    """
    (width, height), x = member.strip_mm, member.x_mm(at.station)
    upper, lower = (seated(at.outline, half, x, width) for half in HALVES)
    if upper is None or lower is None:
        return None
    return Oblong(*upper, width, layers * height), Oblong(*lower, width, layers * height)


def between_mm(upper: Oblong, lower: Oblong) -> float:
    """Least depth between the inner faces of two caps; negative where they run into one another [mm]."""
    up = unit(upper.at - lower.at)
    return float((upper.corners()[2:] @ up).min() - (lower.corners()[2:] @ up).max())
