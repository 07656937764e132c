"""A small craft by which whole pitches are tested: three blades, a fan or two on each, one pack."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.air import standard_air
from geomgen.hover.panels import panels
from geomgen.hover.power.chain import Chain
from geomgen.hover.power.fan import class_fan
from geomgen.hover.power.pack import Pack
from geomgen.hover.power.wire import Wire
from geomgen.hover.rotor import FanPlace, Rotor
from geomgen.hover.wake.influence import Wake, wake
from geomgen.materials.figure import Figure
from geomgen.section.polar.forces import CappedLine, SectionForces, SectionPolar

RADIUS, CHORD, ROOT, BLADES = 1.5, 0.09, 0.15, 3  # [m], [R], [R], [-]
SLOPE, DRAG = 5.7, 0.02
WEIGHT, FAN_AT, DRAG_AREA = 10.0, 1.4, 6e-4  # [N], [m], [m2]
POLAR = CappedLine(SLOPE, 1.2, 0.0, DRAG, 0.0)


@cache
def table() -> Wake:
    return wake(panels([ROOT, 1.0], [CHORD, CHORD], BLADES, 16))


@dataclass(frozen=True)
class ByReynolds:
    """Lift that grows with the Reynolds number, so that thrust depends on rpm."""

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        slope = 4.0 + np.clip(np.log10(reynolds / 1e4), 0.0, 2.0)
        return SectionForces(slope * alpha_rad, slope, np.full_like(alpha_rad, DRAG))


def rotor(tilt_deg: float = 0.0, coning_rad: float = 0.0, fans: int = 1, polar: SectionPolar = POLAR) -> Rotor:
    place = FanPlace(fans, FAN_AT, tilt_deg, DRAG_AREA)
    return Rotor(table(), np.zeros(16), polar, RADIUS, coning_rad, standard_air(0), place)


def chain(power_w: float = 130.0, *, at_tip: bool = True, cell_ohm: float = 0.008, fans: int = 1) -> Chain:
    fan = replace(class_fan("40 mm", standard_air(0), power_w, 11.1), drag_area_m2=DRAG_AREA)
    pack = Pack(3, 2.2, Figure(cell_ohm, cell_ohm, cell_ohm, "ohm", "stated"), 3.3)
    return Chain(fan, fans * BLADES, pack, Wire(0.3, 1.7, 1.4, 2 if at_tip else 3, 6), at_tip)
