"""A battery pack: its voltage at a charge, its resistance, and how long it lasts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import percent
from geomgen.materials.figure import Figure
from geomgen.materials.packs import cell_voltage

LEAST_CHARGE = 0.2  # of a full one; a cell emptied further ages fast; common practice
_STEPS = 160


class Stop(Enum):
    """What ends a flight."""

    CHARGE = f"{percent(LEAST_CHARGE)} of the charge is left"
    VOLTAGE = "a cell's voltage under load is at its floor"
    THROTTLE = "full throttle no longer gives what is asked"
    NEVER = "the pack can't give what is asked even when full"


@dataclass(frozen=True)
class Pack:
    """Cells one after the other, packs side by side.

    cells, parallel     : how many [-]
    capacity_ah         : of one pack [Ah]
    cell_resistance_ohm : of one cell, leads and plug included [ohm]
    floor_v             : of one cell under load [V]
    """

    cells: int
    capacity_ah: float
    cell_resistance_ohm: Figure
    floor_v: float
    parallel: int = 1

    @property
    def resistance_ohm(self) -> float:
        """Of all of it, typical [ohm]."""
        return self.cells * self.cell_resistance_ohm.typical / self.parallel

    def rest_v(self, charge: FloatArray | float) -> FloatArray:
        """Voltage at rest [V] at a share of a full charge [-], typical."""
        table = cell_voltage()
        return np.asarray(self.cells * np.interp(charge, table.charge, table.typical))


@dataclass(frozen=True)
class Endurance:
    """How long a pack lasts at an even demand.

    minutes : [min]
    stop    : what ends it
    charge  : share of a full charge that is left then [-]
    """

    minutes: float
    stop: Stop
    charge: float


Drain = Callable[[FloatArray], FloatArray]


def endurance(pack: Pack, current_a: Drain) -> Endurance:
    """How long a full pack lasts.

    current_a : rest voltages (n,) [V] to what is drawn at them (n,) [A]; nan where it can't be had
    source    : charge is current times time; to LEAST_CHARGE, the floor of a cell under load, or the end of what
                throttle can do, whichever comes first
    """
    charge = np.linspace(1.0, LEAST_CHARGE, _STEPS + 1)
    rest = pack.rest_v(charge)
    current = current_a(rest)
    loaded = (rest - current * pack.resistance_ohm) / pack.cells
    hold = np.nan_to_num(loaded, nan=-np.inf) >= pack.floor_v
    ends = int(np.argmin(hold)) if not np.all(hold) else _STEPS + 1
    if ends == 0:
        return Endurance(0.0, Stop.NEVER, 1.0)
    at, stop = charge[:ends], Stop.CHARGE
    if ends <= _STEPS:
        stop, share, last = Stop.THROTTLE, 0.5, current[ends - 1]
        if not np.isnan(current[ends]):
            stop, share = Stop.VOLTAGE, (loaded[ends - 1] - pack.floor_v) / (loaded[ends - 1] - loaded[ends])
            last += share * (current[ends] - last)
        at = np.append(at, charge[ends - 1] + share * (charge[ends] - charge[ends - 1]))
        current = np.append(current[:ends], last)
    hours = float(np.sum(-np.diff(at) * 0.5 * (1.0 / current[1:] + 1.0 / current[:-1]))) if len(at) > 1 else 0.0
    return Endurance(60.0 * hours * pack.capacity_ah * pack.parallel, stop, float(at[-1]))
