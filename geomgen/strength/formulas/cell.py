"""Closed cells that are twisted, by Bredt."""

from __future__ import annotations

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


def cell_flow_n_mm(torque_nmm: Values, area_mm2: Values) -> FloatArray:
    """Shear flow round a closed cell: what its seam's glue carries as well.

    torque_nmm : [N mm]
    area_mm2   : within the middle line of its walls [mm2]
    returns    : [N/mm]; over a wall's thickness it is the wall's shear stress
    source     : Bredt, closed form, T / (2 A)
    """
    return array(torque_nmm) / (2.0 * array(area_mm2))


def cell_gj_nmm2(area_mm2: Values, lengths: Values, thicknesses: Values, shear_mpa: Values) -> FloatArray:
    """Twisting stiffness of one closed cell.

    area_mm2    : (...,) within the middle line of its walls [mm2]
    lengths     : (..., n) of each wall's middle line [mm]
    thicknesses : (..., n) of each wall [mm]
    shear_mpa   : (..., n) shear modulus of each wall [MPa]
    returns     : (...,) [N mm2]
    source      : Bredt, closed form, 4 A2 / sum(s / (G t)); thin walls
    """
    around = (array(lengths) / (array(shear_mpa) * thicknesses)).sum(axis=-1)
    return array(4.0 * array(area_mm2) ** 2 / around)
