"""Packs: how long they last at constant power, and at constant current.

Source of the table: voltage of a cell straight between the entries of a public chart of polymer cells, current at
constant power (V0 - sqrt(V0^2 - 4 R P)) / 2 R, charge summed in steps of 0.05 s: worked out apart, by a loop.
"""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.arrays import FloatArray
from geomgen.hover.power.pack import LEAST_CHARGE, Drain, Pack, Stop, endurance
from geomgen.materials.figure import Figure

OUTSIDE = 0.010  # ohm, of wires between pack and load
ROWS = [  # W, ohm a cell, floor [V], A and V at first, s, what stops it, charge left
    (90, 0.008, 3.3, 7.2861, 12.3523, 551.1, Stop.CHARGE, 0.20),
    (180, 0.008, 3.3, 14.8835, 12.0940, 268.9, Stop.CHARGE, 0.20),
    (180, 0.016, 3.3, 15.3737, 11.7083, 258.7, Stop.CHARGE, 0.20),
    (180, 0.024, 3.3, 15.9391, 11.2930, 236.9, Stop.VOLTAGE, 0.237),
    (180, 0.024, 3.5, 15.9391, 11.2930, 109.9, Stop.VOLTAGE, 0.660),
]


def pack(cell_ohm: float, floor_v: float = 3.3, parallel: int = 1) -> Pack:
    return Pack(3, 1.5, Figure(cell_ohm, cell_ohm, cell_ohm, "ohm", "stated"), floor_v, parallel)


def at_constant_power(one: Pack, power_w: float, outside_ohm: float = OUTSIDE) -> Drain:
    ohm = one.resistance_ohm + outside_ohm

    def current_a(rest_v: FloatArray) -> FloatArray:
        inside = rest_v**2 - 4 * ohm * power_w
        return (rest_v - np.sqrt(np.where(inside >= 0.0, inside, np.nan))) / (2 * ohm)

    return current_a


@pytest.mark.parametrize(("power", "ohm", "floor", "amps", "volts", "seconds", "stop", "charge"), ROWS)
def test_endurance_at_constant_power(
    power: float, ohm: float, floor: float, amps: float, volts: float, seconds: float, stop: Stop, charge: float
) -> None:
    """The wires' resistance loads the pack, but isn't inside its cells."""
    one = pack(ohm, floor)
    drain = at_constant_power(one, power)
    first = float(drain(one.rest_v(1.0)))
    assert first == pytest.approx(amps, rel=1e-4)
    assert 12.6 - first * (one.resistance_ohm + OUTSIDE) == pytest.approx(volts, rel=1e-5)
    lasts = endurance(one, drain)
    assert lasts.minutes * 60 == pytest.approx(seconds, rel=0.003)
    assert (lasts.stop, lasts.charge) == (stop, pytest.approx(charge, abs=2e-3))


def test_current_at_half_a_charge() -> None:
    """11.52 V at rest, 34 mohm, 90 W: 8.00146 A at 11.24795 V."""
    one = pack(0.008)
    assert one.rest_v(0.5) == pytest.approx(11.52)
    amps = float(at_constant_power(one, 90.0)(one.rest_v(0.5)))
    assert amps == pytest.approx(8.00146, rel=1e-6) and 11.52 - 0.034 * amps == pytest.approx(11.24795, rel=1e-6)


def test_constant_current_by_hand() -> None:
    """4 Ah, four fifths of it at 24 A: 8 minutes; of two such packs side by side, 16."""
    for parallel, minutes in ((1, 8.0), (2, 16.0)):
        one = Pack(3, 4.0, Figure(1e-3, 1e-3, 1e-3, "ohm", "stated"), 3.0, parallel)
        lasts = endurance(one, lambda rest: np.full_like(rest, 24.0))
        assert lasts.minutes == pytest.approx(minutes) and lasts.charge == pytest.approx(LEAST_CHARGE)


def test_resistance_in_a_row_and_side_by_side() -> None:
    assert pack(0.008).resistance_ohm == pytest.approx(0.024)
    assert pack(0.008, parallel=2).resistance_ohm == pytest.approx(0.012)


def test_end_of_what_throttle_can_do() -> None:
    """1 A as long as there are 11.4 V at rest, which is at two fifths of a charge: 0.6 of 1.5 Ah, 54 minutes."""
    lasts = endurance(pack(0.0), lambda rest: np.where(rest >= 11.4, 1.0, np.nan))
    assert lasts.stop is Stop.THROTTLE
    assert lasts.minutes == pytest.approx(54.0, rel=0.005) and lasts.charge == pytest.approx(0.4, abs=0.005)


def test_what_a_full_pack_cannot_give() -> None:
    """180 W by 250 mohm: more than V0^2 / 4 R; 60 A by 24 mohm: 3.72 V a cell, below a floor of 3.8."""
    weak = pack(0.080)
    lasts = endurance(weak, at_constant_power(weak, 180.0))
    assert (lasts.minutes, lasts.stop, lasts.charge) == (0.0, Stop.NEVER, 1.0)
    lasts = endurance(pack(0.008, 3.8), lambda rest: np.full_like(rest, 60.0))
    assert (lasts.minutes, lasts.stop) == (0.0, Stop.NEVER)
