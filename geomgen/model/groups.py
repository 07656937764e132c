"""Roles taken together: what a comparison's bars show as one, and what is told apart by more than one room."""

from __future__ import annotations

from enum import StrEnum

from geomgen.model.role import Role


class Group(StrEnum):
    """Roles that a chart shows as one, in the order of its bars. Its value is the word beside a bar."""

    RIBS = "ribs"
    SKIN = "skin"
    EDGES = "edges"
    SPARS = "spars"
    WIRES = "wires"
    GLUE = "glue"
    FITTINGS = "fittings"
    FASTENERS = "caps, pins, screws"
    OTHER = "other"


def group(role: Role) -> Group:
    """Which group a role belongs to."""
    match role:
        case Role.RIB | Role.DOUBLER | Role.TIP:
            return Group.RIBS
        case Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN | Role.FILM | Role.CORE:
            return Group.SKIN
        case Role.NOSE_STRIP | Role.TAIL_STRIP | Role.CAP_STRIP:
            return Group.EDGES
        case Role.SPAR | Role.WEB | Role.SLEEVE:
            return Group.SPARS
        case Role.WIRE | Role.TIE:
            return Group.WIRES
        case Role.GLUE:
            return Group.GLUE
        case Role.FITTING:
            return Group.FITTINGS
        case Role.TURNING_CAP | Role.FIXED_CAP | Role.WEDGE | Role.COLLAR | Role.PIN | Role.CLIP | Role.SCREW:
            return Group.FASTENERS
        case Role.HUB | Role.JIG_BOARD | Role.GAUGE | Role.WIRE_TEMPLATE | Role.COUPON:
            return Group.OTHER


def is_cover(role: Role) -> bool:
    """Whether it covers the blade: the outermost that air meets, sheet, board or film."""
    match role:
        case Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN | Role.FILM:
            return True
        case Role.RIB | Role.DOUBLER | Role.TIP | Role.CORE | Role.CAP_STRIP | Role.NOSE_STRIP | Role.TAIL_STRIP:
            return False
        case Role.SPAR | Role.WEB | Role.SLEEVE | Role.WIRE | Role.TIE | Role.GLUE | Role.FITTING:
            return False
        case Role.TURNING_CAP | Role.FIXED_CAP | Role.WEDGE | Role.COLLAR | Role.PIN | Role.CLIP | Role.SCREW:
            return False
        case Role.HUB | Role.JIG_BOARD | Role.GAUGE | Role.WIRE_TEMPLATE | Role.COUPON:
            return False
