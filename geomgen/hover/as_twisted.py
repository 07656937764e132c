"""What hover makes of a blade that its own loads twist."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.hovering import Hovering
from geomgen.hover.rotor import Rotor, Setting, setting


@dataclass(frozen=True)
class AsTwisted:
    """The pitch to fly at, with the twist of hover's own loads.

    turned_deg : how far the blade is turned at the station whose chord line a pitch is told of, + nose up [deg]
    rpm        : that carries then; None where none does [1/min]
    stiff_rpm  : that carries a blade that nothing twists [1/min]
    """

    turned_deg: float
    rpm: float | None
    stiff_rpm: float


def as_twisted(
    rotor: Rotor | None, found: Hovering | None, r_mm: FloatArray, twist_deg: FloatArray, zero_at_mm: float
) -> AsTwisted | None:
    """Hover once more with the twist added to that of the blade; None where hover has no figures.

    r_mm, twist_deg : (k,) radii, rising [mm], and how far the blade is turned there, + nose up [deg]
    zero_at_mm      : station whose chord line is meant by a pitch [mm]
    The loads of the twisted blade differ little from those that twisted it: no second round.
    """
    at = found.flown.setting if found is not None else None
    if rotor is None or not isinstance(at, Setting):
        return None
    panels_mm = rotor.wake.blade.r * rotor.radius_m * 1e3
    more = np.radians(np.interp(panels_mm, r_mm, twist_deg))
    again = setting(replace(rotor, twist_rad=rotor.twist_rad + more), at.pitch_deg, at.weight_n)
    turned = float(np.interp(zero_at_mm, r_mm, twist_deg))
    return AsTwisted(turned, again.rpm if isinstance(again, Setting) else None, at.rpm)
