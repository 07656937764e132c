"""Round pins: shear, bending, and what they do to what they cross."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

BRITTLE_HOLE_RISE = 2.5  # net tension beside a hole in a laminate or a print: from memory


def pin_shear_mpa(force_n: Values, diameter: Values, planes: Values = 2.0) -> FloatArray:
    """Even shear of a pin.

    force_n  : on the pin [N]
    diameter : of the pin [mm]
    planes   : places where it would be cut: 2 in double shear [-]
    source   : closed form, 4 F / (n pi d2)
    """
    return 4.0 * array(force_n) / (array(planes) * np.pi * array(diameter) ** 2)


def bearing_mpa(force_n: Values, diameter: Values, thickness: Values) -> FloatArray:
    """Pressure of a pin on its hole, spread over its diameter.

    force_n   : [N]
    diameter  : of the pin [mm]
    thickness : of what it bears on, along the pin [mm]
    source    : closed form, F / (d t)
    """
    return array(force_n) / (array(diameter) * thickness)


def shear_out_mpa(force_n: Values, diameter: Values, thickness: Values, edge: Values) -> FloatArray:
    """Shear of the two planes from a pin to the edge that it pulls at.

    force_n   : [N]
    diameter  : of the pin [mm]
    thickness : of what it pulls at [mm]
    edge      : from the pin's middle to that edge, more than half its diameter [mm]
    source    : closed form, F / (2 t (e - d/2))
    """
    return array(force_n) / (2.0 * array(thickness) * (array(edge) - array(diameter) / 2.0))


def net_tension_mpa(
    force_n: Values, width: Values, diameter: Values, thickness: Values, rise: Values = 1.0
) -> FloatArray:
    """Stress beside a hole in a bar that is pulled.

    force_n   : [N]
    width     : of the bar [mm]
    diameter  : of the hole [mm]
    thickness : of the bar [mm]
    rise      : greatest stress over the even one: 1 where it yields, `BRITTLE_HOLE_RISE` where it doesn't [-]
    source    : closed form; the rise from memory
    """
    return array(rise) * force_n / (array(thickness) * (array(width) - diameter))


def rod_bending_mpa(moment_nmm: Values, diameter: Values) -> FloatArray:
    """Greatest stress of a bent round rod.

    moment_nmm : [N mm]
    diameter   : [mm]
    source     : closed form, 32 M / (pi d3)
    """
    return 32.0 * array(moment_nmm) / (np.pi * array(diameter) ** 3)


def circle_pin_n(torque_nmm: Values, circle: Values, pins: Values) -> FloatArray:
    """Force on each of some pins round a circle that hold a twisting moment evenly.

    torque_nmm : [N mm]
    circle     : diameter of the circle of holes [mm]
    pins       : how many bear at once [-]
    returns    : [N]
    source     : equilibrium; evenly: common practice for a snug fit, else take fewer
    """
    return 2.0 * array(torque_nmm) / (array(circle) * pins)
