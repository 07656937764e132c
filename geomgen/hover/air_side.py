"""What the air asks of a design's rotor, put together from blade and sections: panels, twist, polars, fans' places."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.planform import planform
from geomgen.design.schema import Design
from geomgen.hover.doubt import EVEN, Doubts, Draw
from geomgen.hover.panels import Panels, panels
from geomgen.hover.power.throttle import THRUST_AT_SPEED
from geomgen.materials.figure import Figure
from geomgen.section.polar.forces import SectionPolar
from geomgen.section.polar.record import AlongBlade, Doubted, Polar

LEAST_CHORD = 0.02  # of the greatest; a shaped tip runs out to nothing, which no panel can
REYNOLDS = 1.5e5  # at which the sections' bands are taken
FOLDED_LOOKS = 5  # places at which a folded board's section is taken


def panels_of(design: Design, blade: Blade) -> Panels | None:
    """The panels of one blade, by R; None where blades overlap at the root or hardly reach beyond it."""
    r, chord = planform(design, blade)
    radius = design.rotor.radius
    try:
        return panels(r / radius, np.maximum(chord, LEAST_CHORD * chord.max()) / radius, design.rotor.blades)
    except ValueError:
        return None


def looks_mm(blade: Blade) -> FloatArray:
    """(k,) radii whose sections' polars are taken; between them polars are blended as shapes are [mm]."""
    if blade.fold is not None:
        return np.linspace(blade.root_mm, blade.radius_mm, FOLDED_LOOKS)
    return np.array([r for r, _ in blade.sections])


def along_blade(r_mm: FloatArray, at_mm: FloatArray, polars: tuple[Polar, ...]) -> AlongBlade:
    """The polars of a blade's panels, straight between those of the entries, constant beyond.

    r_mm   : (n,) where panels are [mm]
    at_mm  : (k,) where polars are, rising [mm]
    polars : (k,) of the sections there; one and the same may stand at several
    """
    different = list(dict.fromkeys(polars))
    at_each = np.array([[float(polar is other) for other in different] for polar in polars])
    share = np.column_stack([np.interp(r_mm, at_mm, column) for column in at_each.T])
    return AlongBlade(tuple(different), share)


def doubts_of(
    polars: Sequence[tuple[float, Polar]], weight: float, pitch_deg: float, efficiency: Figure | None = None
) -> Doubts:
    """What goes into hover and isn't known, as standard deviations: all within its limit is as likely.

    polars    : radius and polar; the widest band of them counts
    weight    : half the likely range, as a share [-]
    pitch_deg : half that of one blade, taken of all alike [deg]
    efficiency: of a fan standing; at speed the doubt of its pull comes on top. None where no fan is known [-]
    """
    bands = [polar.band_at(REYNOLDS) for _, polar in polars]
    greatest = [float(b.greatest_lift[0]) / p.greatest_lift(REYNOLDS) for b, (_, p) in zip(bands, polars, strict=True)]
    drag = max(math.log(float(band.drag_high[0]) / float(band.drag_low[0])) / 2.0 for band in bands)
    slope, zero = (max(float(getattr(b, name)[0]) for b in bands) for name in ("slope", "zero_lift_rad"))
    limits = (weight, pitch_deg, slope, math.degrees(zero), max(greatest), drag)
    fan = 0.0
    if efficiency is not None:
        own = (efficiency.high - efficiency.low) / 2.0 / efficiency.typical
        fan = math.hypot(own, (THRUST_AT_SPEED.high - THRUST_AT_SPEED.low) / 2.0)
    return Doubts(*(EVEN * limit for limit in (*limits, fan)))


def moved(polar: SectionPolar, draw: Draw, about_rad: FloatArray | float = 0.0) -> SectionPolar:
    """The sections' polar for one draw; about_rad: their angles without lift, one or (n,) [rad]."""
    return Doubted(
        polar,
        slope=max(1.0 + draw.slope, 0.1),
        zero_lift_rad=math.radians(draw.zero_lift_deg),
        greatest=draw.greatest,
        drag=math.exp(draw.drag),
        about_rad=about_rad,
    )
