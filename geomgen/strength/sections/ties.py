"""Which pieces of a cross-section bend as one: by the joints between them along the blade, and how stiff these are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.role import Role
from geomgen.strength.cross_section import Piece
from geomgen.strength.sections.shapes import Shape

TYPICAL: Final = 1  # of (low, typical, high)
STIFF_MPA: Final = 20.0  # shear modulus from which a wall makes wood glued to it bend with it; foam 2-15, balsa 60-110
# By 1/(1 + pi^2 E A h/(G t l^2)) (EN 1995-1-1 annex B, from memory), on blades of half a metre and more, caps of spruce
# have a tenth or two of full composite action through a skin of foam, and more than two thirds through a web of balsa
SOFT: Final = 20.0  # foam holds what is as soft as itself: E up to so many times its shear modulus
SLACK: Final = (5.0, 0.1)  # a joint may reach so far beyond its own ends: [mm], and share of its length


@dataclass(frozen=True)
class Tie:
    """A glue line along the blade.

    a, b     : what it joins; one and the same where a part meets itself
    bond     : how
    path     : key path of its joint
    ends_mm  : from where to where it runs [mm]
    wide_mm  : how wide it is along the section [mm]
    """

    a: Key
    b: Key
    bond: Bond
    path: str
    ends_mm: tuple[float, float]
    wide_mm: float

    def at(self, r_mm: float) -> bool:
        """Whether it runs over a radius [mm]."""
        low, high = self.ends_mm
        slack = SLACK[0] + SLACK[1] * (high - low)
        return low - slack <= r_mm <= high + slack


def ties(joints: Iterable[Joint]) -> list[Tie]:
    """The glue lines along the blade among joints: how far each runs follows from how its area lies along r."""
    found = []
    for joint in joints:
        if not (joint.bond.wants_glue and runs_along(joint.a.role) and runs_along(joint.b.role)):
            continue
        area, r = joint.contact[:, 0], joint.contact[:, 1]
        total = float(area.sum())
        if total <= 0.0:
            continue
        middle = float(area @ r) / total
        own = joint.second[:, 0, 0] if joint.second is not None else np.zeros(len(r))
        half = float(np.sqrt(3.0 * (area @ ((r - middle) ** 2 + own)) / total))
        if half > 0.0:
            ends = middle - half, middle + half
            found.append(Tie(joint.a, joint.b, joint.bond, joint.path, ends, total / (2.0 * half)))
    return found


def runs_along(role: Role) -> bool:
    """Whether it carries along the blade: film carries nothing that is pressed or sheared, a sleeve is in its tube."""
    match role:
        case Role.SPAR | Role.WEB | Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN | Role.CORE:
            return True
        case Role.NOSE_STRIP | Role.TAIL_STRIP:
            return True
        case Role.RIB | Role.DOUBLER | Role.FILM | Role.CAP_STRIP | Role.TIP | Role.SLEEVE | Role.WIRE | Role.TIE:
            return False
        case Role.GLUE | Role.FITTING | Role.TURNING_CAP | Role.FIXED_CAP | Role.WEDGE | Role.COLLAR | Role.PIN:
            return False
        case Role.CLIP | Role.SCREW | Role.HUB | Role.JIG_BOARD | Role.GAUGE | Role.WIRE_TEMPLATE | Role.COUPON:
            return False


def numbered(pieces: Sequence[Piece], shapes: Mapping[Key, Shape], tied: Iterable[Tie]) -> Iterator[int]:
    """A number for each piece, the same for those that bend as one.

    shapes : of the pieces
    tied   : glue lines there
    """
    by_key, leads = {piece.key: piece for piece in pieces}, {piece.key: piece.key for piece in pieces}

    def lead(key: Key) -> Key:
        while leads[key] != key:
            key = leads[key]
        return key

    for tie in tied:
        a, b = by_key.get(tie.a), by_key.get(tie.b)
        if a and b and _holds(a, shapes[a.key], b) and _holds(b, shapes[b.key], a):
            leads[lead(tie.a)] = lead(tie.b)
    numbers: dict[Key, int] = {}
    for piece in pieces:
        yield numbers.setdefault(lead(piece.key), len(numbers))


def _holds(web: Piece, shape: Shape, other: Piece) -> bool:
    """Whether a wall is stiff enough in shear for what is glued to it to bend with it; what is solid is."""
    shear = web.shear_mpa[TYPICAL]
    return shape.thin_mm is None or shear >= STIFF_MPA or other.modulus_mpa[TYPICAL] <= SOFT * shear
