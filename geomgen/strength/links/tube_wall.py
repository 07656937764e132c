"""A tube's wall under bending: the stress at which it buckles, the moment at which the tube goes flat."""

from __future__ import annotations

from geomgen.arrays import FloatArray
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.strength import Property, Strength
from geomgen.strength.formulas.shell import (
    mean_radius,
    ovalising_nmm,
    wall_buckling_along_mpa,
    wall_buckling_mpa,
    wall_thickness,
)

KNOCK_DOWN = "NASA SP-8007's knock-down for a real wall"


def buckles_mpa(of: Strength, outside: float, inside: float, *, of_fibres: bool) -> Figure | None:
    """Stress at which the wall of such a tube buckles [MPa]; None where a modulus isn't known.

    outside, inside : diameters [mm]
    of_fibres       : whether it has other moduli across than along
    """
    along, across, shear = map(of.of, (Property.MODULUS, Property.MODULUS_ACROSS, Property.SHEAR_MODULUS))
    radius, wall = mean_radius(outside, inside), wall_thickness(outside, inside)
    if along is None:
        return None
    if not of_fibres:
        source = f"{along.source}; thin wall, {KNOCK_DOWN}"
        return worked_out(lambda e: wall_buckling_mpa(e, radius, wall), along, unit="MPa", source=source)
    if across is None or shear is None:
        return None

    def buckles(e: float, round_: float, g: float) -> FloatArray:
        return wall_buckling_along_mpa(e, round_, g, radius, wall)

    source = f"{along.source}; thin wall of fibres along, {KNOCK_DOWN}"
    return worked_out(buckles, along, across, shear, unit="MPa", source=source)


def flattens_nm(of: Strength, outside: float, inside: float, *, of_fibres: bool) -> Figure | None:
    """Bending at which such a tube goes flat [N m]; None where a modulus isn't known."""
    along = of.of(Property.MODULUS)
    across = of.of(Property.MODULUS_ACROSS) if of_fibres else along
    if along is None or across is None:
        return None
    radius, wall = mean_radius(outside, inside), wall_thickness(outside, inside)

    def flattens(e: float, round_: float) -> FloatArray:
        return 1e-3 * ovalising_nmm(e, round_, radius, wall)

    return worked_out(flattens, along, across, unit="N m", source=f"{along.source}; a long tube, closed form")
