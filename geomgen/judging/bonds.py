"""What pulls on each rib and on the collar, and what the glue line that holds it carries, where a figure is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, Glued
from geomgen.mass.lines import Line
from geomgen.materials.bond_strength import Surface, glue_strength
from geomgen.materials.catalogue import known
from geomgen.materials.strength import Property
from geomgen.materials.strength_table import strength_of
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.made import Made
from geomgen.model.role import Assembly, Role
from geomgen.root.collar import glue_area_mm2
from geomgen.strength.load_path import LoadPath, pull_n
from geomgen.strength.shares import Areas


@dataclass(frozen=True)
class Hold:
    """A glue line of which it is known what it carries.

    name    : of the part that it holds
    r_mm    : where it lies [mm]
    pull_n  : on it, at the highest speed and mass [N]
    holds_n : what it carries at the least [N]
    """

    name: str
    r_mm: float
    pull_n: float
    holds_n: float

    @property
    def share(self) -> float:
        """How much of what it carries is used up [-]."""
        return self.pull_n / self.holds_n


@dataclass(frozen=True)
class RibHold:
    """One rib on its spars.

    rib    : which
    name   : what it is called
    stock  : of its sheet
    r_mm   : where it stands [mm]
    pull_n : of the rib, what is fixed to it, and its part of the cover, at the highest speed and mass [N]
    holds_n : what its glue lines on the spars carry at the weakest end of the wood's shear [N]; None where no figure is
             known
    source : of the shear
    """

    rib: Key
    name: str
    stock: str
    r_mm: float
    pull_n: float
    holds_n: float | None
    source: str


def tightest(ribs: Sequence[RibHold], collar: Hold | None) -> Hold | None:
    """Of the glue lines of which it is known what they carry, the one that is used most; None where there is none."""
    known_ones = [Hold(rib.name, rib.r_mm, rib.pull_n, rib.holds_n) for rib in ribs if rib.holds_n is not None]
    return max([*known_ones, *([collar] if collar else [])], key=lambda one: one.share, default=None)


def collar_hold(design: Design, path: LoadPath, *, spar_outside_mm: float) -> Hold | None:
    """A collar that is glued round its spar, by the low end of what its glue carries there; None where it isn't glued,
    or no figure is known.

    path            : its link to the collar is read
    spar_outside_mm : of the round spar [mm]
    """
    fixing = design.hub.collar.fixing
    shear = glue_strength(fixing.glue, Surface.TUBE)[0] if isinstance(fixing, Glued) else None
    if not isinstance(fixing, Glued) or shear is None:
        return None
    holds = shear.low * glue_area_mm2(fixing, spar_outside_mm)
    return Hold("the collar", design.hub.bay.radius, path.to_collar.pull_n[2], holds)


def rib_holds(design: Design, flying: Made, held: Mapping[Key, Key], lines: Sequence[Line]) -> tuple[RibHold, ...]:
    """How each rib is held, from the root out.

    design : stocks and the highest speed
    flying : all that turns, and where it touches
    held   : what each part hangs on
    lines  : what each part weighs

    What lies over several ribs is shared among them by area (`strength/shares.py`). A glue line carries the area of its
    joint times the wood's shear along the grain: wood glue outlasts balsa (handbook rows, read). What glue carries on
    tube and foam isn't judged.
    """
    loads = _loads(lines, held, flying.joints, design.duty.rpm_max)
    ribs = [line for line in lines if line.role is Role.RIB]
    return tuple(_hold(design, rib, loads.get(rib.key, 0.0), flying.joints) for rib in ribs)


def _hold(design: Design, rib: Line, pull: float, joints: Sequence[Joint]) -> RibHold:
    bonds = [each for each in joints if each.bond is Bond.LET_IN and rib.key in (each.a, each.b)]
    area = sum(each.area_mm2 for each in bonds if Role.SPAR in (each.a.role, each.b.role))
    sheet = design.sheet(rib.stock)
    material = known(sheet.of)
    strength = strength_of(sheet.of, density=rib.figure.figure, thickness_mm=sheet.thickness)
    shear = strength.of(Property.SHEAR) if material is not None and material.kind == "wood" else None
    if shear is None or area <= 0.0:
        return RibHold(rib.key, rib.name, rib.stock, rib.place_mm[0], pull, None, "")
    return RibHold(rib.key, rib.name, rib.stock, rib.place_mm[0], pull, area * shear.low, shear.source)


def _loads(lines: Sequence[Line], held: Mapping[Key, Key], joints: Sequence[Joint], rpm: float) -> dict[Key, float]:
    """Pull on each rib [N], every mass at its high end."""
    pulls = dict[Key, FloatArray]()
    for line in lines:
        if line.assembly is Assembly.BLADE:
            pull = np.array(pull_n(line.set_g[2], line.place_mm[0], rpm))
            pulls[line.key] = pulls.get(line.key, 0.0) + pull
    return {rib: float(pull) for rib, pull in Areas(joints, held).on_ribs(pulls).items()}
