"""A loose pin that crosses from one plate into another: it tilts in both."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


def tilted_length(thickness: Values, gap: Values) -> FloatArray:
    """How much of a plate bears, counted as if evenly, on a pin that tilts in two plates alike.

    thickness : of each plate, or how deep the pin goes into it [mm]
    gap       : between the plates [mm]
    returns   : [mm]; force over diameter and this is the pressure that it comes to
    source    : equilibrium of a rigid pin, each plate pressing evenly on one side of it and then on the other; without
                a gap EN 1995-1-1 8.2.2 (c), .414 t
    """
    t, both = array(thickness), array(thickness) + gap
    return np.sqrt(both**2 + t**2) - both


def tilted_bending_nmm(force_n: Values, thickness: Values, gap: Values) -> FloatArray:
    """Greatest bending of that pin, inside a plate where nothing is left of the force.

    force_n   : from plate to plate [N]
    thickness : of each plate, or how deep the pin goes into it [mm]
    gap       : between the plates [mm]
    returns   : [N mm]
    source    : as `tilted_length`: F (gap + length it takes to carry F) / 2
    """
    # pressure is as great as the plate stands: it has taken F up after `tilted_length` of depth
    return array(force_n) * (array(gap) + tilted_length(thickness, gap)) / 2.0
