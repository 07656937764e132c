"""A polar for any section, stated from its outline: potential flow, taken down by what measured sections show.

Measurements are those of Lyon, Broeren, Giguere, Gopalarathnam and Selig, Summary of Low-Speed Airfoil Data, vol. 3,
1998: four sections, 19 polars, Reynolds numbers 6e4 to 5e5. What is called fitted here is fitted to these four by least
squares, and to nothing else; what is set by eye is set to the same four. Drag of one section can't be foretold from the
others: it is a band. What becomes of a section left out of the fit: tests/section/polar/README.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import percent
from geomgen.section.polar.cells import GRID_RAD
from geomgen.section.polar.plate import SOURCE, blended
from geomgen.section.polar.potential import PotentialFlow, potential_flow
from geomgen.section.polar.record import Band, Polar
from geomgen.section.section import Section

REYNOLDS: FloatArray = np.array([3e4, 4.5e4, 6e4, 8e4, 1e5, 1.4e5, 2e5, 3e5, 4e5, 5e5, 7e5, 1e6])
MEASURED_REYNOLDS = (6e4, 5e5)
MEASURED_THICKNESS = (0.05, 0.121)
MEASURED_CAMBER = 0.057

_KNEE = 8.0  # how sharply lift bends over to its greatest; by eye
_STALL = 1.2  # of the angle at which the straight line would meet the greatest lift: stall begins; by eye
_LEAST_GREATEST = 0.3  # by eye
_MOMENT = 0.95  # of potential flow's, fitted
_FLOOR = np.array(  # Reynolds number, middle of the measured sections' least drag, by eye; beyond as a plate's friction
    [
        (3e4, 0.0325),
        (6e4, 0.0230),
        (1e5, 0.0162),
        (2e5, 0.0126),
        (3e5, 0.0114),
        (4e5, 0.0108),
        (5e5, 0.0103),
        (1e6, 0.0090),
    ]
)
_GROWTH = 1.2  # of drag with the square of lift off the section's own, by its floor; by eye
_DRAG_BAND = np.array(
    [(3e4, 0.5, 2.5), (6e4, 0.6, 2.0), (1e5, 0.65, 2.0), (2e5, 0.65, 1.5), (5e5, 0.6, 1.5), (1e6, 0.5, 1.5)]
)
_LIFT_BAND = np.array(  # Reynolds number, share of slope, angle without lift [deg], greatest lift
    [
        (3e4, 0.3, 2.5, 0.45),
        (6e4, 0.25, 2.0, 0.40),
        (1e5, 0.20, 1.6, 0.35),
        (2e5, 0.15, 1.3, 0.25),
        (1e6, 0.15, 1.3, 0.25),
    ]
)
_BY_EYE = (
    "least drag, its growth with lift, how lift bends over and where stall begins: set by eye to the same four sections"
)
_LEFT_OUT = (  # tests/section/polar/left_out.py
    "a section left out of the fit had its slope up to 18 % off, angle without lift 1.6 deg, of the thin one 3 deg, "
    "Re 200 000 and above"
)
_BEYOND_BAND = (  # nothing of these is in the band of drag; what was measured attached, Re 1e5 to 5e5
    "the band of drag holds where blades work; near the greatest lift, and of cambered sections at little or no lift, "
    "drag was measured up to four times as high"
)
_OPEN_BAYS = np.array([(1e5, 1.0), (2e5, 1.125)])  # factor on drag: measured -5 % at 1e5, +8 to +17 % from 2e5


@dataclass(frozen=True)
class _Lift:
    """Lift at one Reynolds number.

    slope_per_rad  : [1/rad]
    zero_lift_rad  : [rad]
    least, greatest: [-]
    """

    slope_per_rad: float
    zero_lift_rad: float
    least: float
    greatest: float

    def attached(self, alpha_rad: FloatArray) -> FloatArray:
        """Lift coefficient before stall: a line that bends over to the greatest or the least lift."""
        line = self.slope_per_rad * (alpha_rad - self.zero_lift_rad)
        top = (1.0 + _STALL**-_KNEE) ** (1.0 / _KNEE)  # so that the bend is through the greatest where stall begins
        share = np.abs(line) / (top * np.where(line < 0.0, -self.least, self.greatest))
        return np.asarray(line / (1.0 + share**_KNEE) ** (1.0 / _KNEE))

    @property
    def stall_rad(self) -> tuple[float, float]:
        """Where stall begins, below and above [rad]."""
        low, high = (self.zero_lift_rad + _STALL * most / self.slope_per_rad for most in (self.least, self.greatest))
        return low, high


def stated_polar(section: Section, *, open_bays: bool = False) -> Polar:
    """What a section does in the air, as far as its outline says it.

    section   : as it flies, folded if it is
    open_bays : whether ribs show through film
    returns   : with bands in which slope, angle without lift, greatest lift and least drag of each measured section
                lie from Re 1e5, and its drag from lift 0.15 below 4 pi camber to 0.3 below the greatest
    """
    flow = potential_flow(section)
    tables = np.stack([_row(flow, float(reynolds)) for reynolds in REYNOLDS], axis=1)
    words = [
        f"stated from the outline of {section.name}: potential flow, lift taken down as fitted to four sections of "
        "Lyon et al. 1998, Re 60 000 to 500 000; beyond these lift holds and drag goes on as a plate's friction",
        "drag: the middle of a band of measured sections at each Reynolds number; no section's own drag is foretold",
        _BY_EYE,
        _BEYOND_BAND,
        _LEFT_OUT,
        SOURCE,
    ]
    if open_bays:
        words.append(
            "ribs show through film: drag 8 to 17 % higher from Re 200 000, as the one measured wing of Lyon et al."
        )
        tables[1] *= _along(REYNOLDS, _OPEN_BAYS)[:, None]
    outside = _outside(flow)
    band = _band(1.5 if outside else 1.0)
    words += [*outside, _widths(band)]
    return Polar(REYNOLDS, GRID_RAD, tables[0], tables[1], tables[2], band, tuple(words))


def _row(flow: PotentialFlow, reynolds: float) -> FloatArray:
    """(3, 1441) lift, drag and moment at one Reynolds number."""
    lift = _lift(flow, reynolds)
    attached = lift.attached(GRID_RAD)
    own = 4.0 * math.pi * flow.camber  # lift of a parabolic mean line that meets the stream; thin-aerofoil theory
    drag = float(_along(np.array([reynolds]), _FLOOR, by_log=True)[0]) * (1.0 + _GROWTH * (attached - own) ** 2)
    ideal = flow.zero_lift_rad + attached / flow.slope_per_rad
    return blended(GRID_RAD, np.stack([attached, drag, _MOMENT * flow.moment(ideal)]), lift.stall_rad)


def _lift(flow: PotentialFlow, reynolds: float) -> _Lift:
    """Slope, angle without lift and greatest lift as fitted; beyond the measured Reynolds numbers they hold.

    Errors where fitted, from Re 2e5: slope 6 % in the mean, 13 % at worst; angle without lift 0.7 and 1.3 deg, the
    weakest part; greatest lift 0.04 and 0.12.
    """
    tens = math.log10(min(max(reynolds, MEASURED_REYNOLDS[0]), MEASURED_REYNOLDS[1]) / 2e5)
    below, thick = min(tens, 0.0), flow.thickness - 0.1
    slope = flow.slope_per_rad * (0.804 + 0.183 * tens - 0.536 * below - 1.776 * thick)
    zero = flow.zero_lift_rad * (0.655 + 0.348 * tens + 0.391 * below)
    level = 1.05 + 0.41 * tens - 0.22 * below + 1.1 * thick
    least, greatest = (max(level + sign * 6.9 * flow.camber, _LEAST_GREATEST) for sign in (-1.0, 1.0))
    return _Lift(slope, zero, -least, greatest)


def _along(reynolds: FloatArray, table: FloatArray, *, by_log: bool = False) -> FloatArray:
    """(k,) the second column of a table, straight by the logarithm of its first; by_log: also of its second."""
    values = np.log(table[:, 1]) if by_log else table[:, 1]
    found = np.interp(np.log(reynolds), np.log(table[:, 0]), values)
    return np.asarray(np.exp(found) if by_log else found)


def _band(times: float) -> Band:
    """Bands at REYNOLDS, so many times as wide as for sections like those measured."""
    slope, zero, greatest = (times * _along(REYNOLDS, _LIFT_BAND[:, [0, i]]) for i in (1, 2, 3))
    low, high = (_along(REYNOLDS, _DRAG_BAND[:, [0, i]]) ** times for i in (1, 2))
    return Band(slope, np.radians(zero), greatest, low, high)


def _widths(band: Band) -> str:
    """How wide the bands are, in words."""
    told = []
    for reynolds, name in ((2e5, "200 000"), (6e4, "60 000")):
        i = int(np.argmin(np.abs(REYNOLDS - reynolds)))
        told.append(
            f"Re {name}: slope within {percent(band.slope[i])}, angle without lift within "
            f"{math.degrees(band.zero_lift_rad[i]):.1f} deg, greatest lift within {band.greatest_lift[i]:.2f}, "
            f"drag {band.drag_low[i]:.2f} to {band.drag_high[i]:.2f} times"
        )
    return f"how far it may be off: {'; '.join(told)}"


def _outside(flow: PotentialFlow) -> list[str]:
    """What is told of a section that is unlike those measured."""
    thin, thick = MEASURED_THICKNESS
    told = []
    if not 0.9 * thin <= flow.thickness <= 1.05 * thick:
        told.append(
            f"it is {percent(flow.thickness, 1)} thick, those measured are {percent(thin, 1)} to {percent(thick, 1)}"
        )
    if abs(flow.camber) > 1.05 * MEASURED_CAMBER:
        told.append(f"its camber is {percent(flow.camber, 1)}, of those measured at most {percent(MEASURED_CAMBER, 1)}")
    return [f"{each}: bands half as wide again" for each in told]
