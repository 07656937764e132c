"""Pitches that pins hold, against dividing plates: worked examples of indexing, and number theory.

sources: Machinery's Handbook, 27th ed., p. 1995 (compound indexing with two usual sets of plates; spin index and its
vernier) and 1916 (angles); US Army OD 1644 (plain indexing by 40 turns); steps of two full circles are exact.
"""

from __future__ import annotations

import re

import numpy as np
import pytest

from geomgen.root.pinned import pinned_deg

# part of a turn by holes of two circles; as printed; how far off it is
COMPOUND = [
    ("17/39-12/49", "0.1910", -5.23e-07), ("21/57-11/62", "0.1910", 1.70e-06), ("7/41+1/47", "0.1920", 8.30e-06),
    ("12/57-1/54", "0.1920", 7.80e-06), ("10/19-5/15", "0.1930", -1.75e-05), ("19/59-8/62", "0.1930", 1.64e-06),
    ("7/41+1/43", "0.1940", -1.25e-05), ("14/43-5/38", "0.1940", 2.45e-06), ("1/23+5/33", "0.1950", -6.59e-06),
    ("8/25-3/24", "0.1950", 0.00e+00), ("21/49-10/43", "0.1960", 1.33e-05), ("34/66-15/47", "0.1960", 2.58e-06),
    ("21/39-14/41", "0.1970", -1.88e-06), ("11/47-2/54", "0.1970", 5.52e-06), ("2/29+4/31", "0.1980", -2.22e-06),
    ("17/49-7/47", "0.1980", 2.61e-06), ("5/37+3/47", "0.1990", -3.51e-05), ("27/59-15/58", "0.1990", 6.43e-06),
    ("11/39-3/37", "0.2010", -2.98e-05), ("8/49+2/53", "0.2010", 1.16e-06), ("23/41-14/39", "0.2020", 1.25e-06),
    ("23/41-14/39", "0.2020", 1.25e-06), ("2/37+7/47", "0.2030", -9.78e-06), ("19/62-6/58", "0.2030", 3.34e-06),
    ("12/47-2/39", "0.2040", 3.71e-05), ("18/51-7/47", "0.2040", 5.01e-06), ("13/37-6/41", "0.2050", 9.89e-06),
    ("3/24+2/25", "0.2050", 2.78e-17), ("15/43-7/49", "0.2060", -1.99e-05), ("12/53-1/49", "0.2060", 6.93e-06),
    ("15/31-6/23", "0.2230", 1.40e-06), ("11/46-1/62", "0.2230", 1.40e-06), ("5/41+5/49", "0.2240", -7.96e-06),
    ("15/38-7/41", "0.2240", 5.13e-06), ("7/39+2/43", "0.2260", -1.19e-06), ("2/49+10/54", "0.2260", 1.51e-06),
    ("7/27-1/31", "0.2270", 1.19e-06), ("14/54-2/62", "0.2270", 1.19e-06), ("18/39-10/43", "0.2290", -1.97e-05),
    ("29/51-18/53", "0.2290", 4.81e-06), ("7/37+2/49", "0.2300", 5.52e-06), ("12/25-6/24", "0.2300", -2.78e-17),
    ("20/41-11/43", "0.2320", -9.08e-06), ("26/57-13/58", "0.2320", 2.42e-06), ("11/27-5/29", "0.2350", -6.39e-06),
    ("9/25-3/24", "0.2350", 0.00e+00), ("2/43+9/47", "0.2380", 9.90e-07), ("34/57-19/53", "0.2380", 6.62e-07),
]  # fmt: skip

# holes of either circle; step [deg], pins that line up at once, positions
FULL_CIRCLES = [
    (5, 6, 12.0, 1, 30), (6, 7, 8.571429, 1, 42), (7, 8, 6.428571, 1, 56), (8, 9, 5.0, 1, 72),
    (9, 10, 4.0, 1, 90), (10, 11, 3.272727, 1, 110), (11, 12, 2.727273, 1, 132), (12, 13, 2.307692, 1, 156),
    (15, 16, 1.5, 1, 240), (17, 18, 1.176471, 1, 306), (18, 19, 1.052632, 1, 342), (19, 20, 0.947368, 1, 380),
    (24, 25, 0.6, 1, 600), (36, 40, 1.0, 4, 360), (6, 8, 15.0, 2, 24), (8, 12, 15.0, 4, 24),
    (12, 16, 7.5, 4, 48),
]  # fmt: skip


def circle(holes: int) -> list[tuple[float, float]]:
    return [(100.0, 360.0 * k / holes) for k in range(holes)]


def pinned(one: list[tuple[float, float]], other: list[tuple[float, float]], pins: int = 1) -> np.ndarray:
    """Middles of all stretches, pins a ten-thousandth of a millimetre thinner than their holes."""
    return pinned_deg(one, other, pins=pins, fit_mm=1e-4).mean(axis=1)


@pytest.mark.parametrize(("parts", "printed", "off"), COMPOUND)
def test_compound_indexing(parts: str, printed: str, off: float) -> None:
    """Moved along one circle, and back or on along the other: the product's list has that part of a turn."""
    a, n, sign, b, m = re.fullmatch(r"(\d+)/(\d+)([+-])(\d+)/(\d+)", parts).groups()
    turn = float(printed) + off
    found = pinned(circle(int(n)), circle(int(m))) / 360.0 % 1.0
    nearest = found[np.abs(found - turn).argmin()]
    assert f"{nearest:.4f}" == printed
    assert nearest == pytest.approx(turn, abs=6e-8)
    # and those two holes alone hold it
    there, back = 360.0 * int(a) / int(n), 360.0 * int(b) / int(m) * (1 if sign == "-" else -1)
    assert pinned([(100.0, there)], [(100.0, back)]) / 360.0 == pytest.approx([turn], abs=6e-8)


@pytest.mark.parametrize(("n", "m", "step", "at_once", "positions"), FULL_CIRCLES)
def test_plates_of_full_circles(n: int, m: int, step: float, at_once: int, positions: int) -> None:
    """Steps of 360 / lcm(n, m), gcd(n, m) pins in line at each: several pins make none finer."""
    for pins in (1, at_once):
        found = pinned(circle(n), circle(m), pins)
        assert len(found) == positions and np.allclose(np.diff(found), step, atol=1e-6)
    assert len(pinned(circle(n), circle(m), at_once + 1)) == 0


@pytest.mark.parametrize("apart", [9.0, 11.0])
def test_a_spin_index_and_its_vernier(apart: float) -> None:
    """A plate of 36 holes, a vernier of 10: 1 deg steps; 46 deg by hole 40 (deg) and vernier hole 6."""
    plate, vernier = circle(36), [(100.0, apart * k) for k in range(10)]
    found = pinned(plate, vernier)
    assert len(found) == 360 and np.allclose(np.diff(found), 1.0)
    sixth = 6 if apart == 9.0 else 4  # with 11 deg the other way round
    hole = (46.0 + apart * sixth) / 10.0
    assert hole == pytest.approx(round(hole))
    assert np.abs(found - 46.0).min() < 1e-9


PLAIN = [
    # holes, of a circle, part of a turn
    (12, 18, 2.0 / 3.0), (26, 39, 2.0 / 3.0), (20, 21, 40.0 / 42.0), (40, 42, 40.0 / 42.0),  # 40 turns: 6, 42 divisions
    (2, 20, 54.0 / 540.0), (1, 23, 23.478 / 540.0), (16, 18, 8.0 / 9.0), (5, 18, 2.5 / 9.0),  # 9 deg a turn: 54', 24'
]  # fmt: skip


@pytest.mark.parametrize(("holes", "of", "turn"), PLAIN)
def test_plain_indexing(holes: int, of: int, turn: float) -> None:
    """One circle and one pin: 24 min of arc is missed by .522 min, as the source says."""
    found = np.sort(pinned(circle(of), [(100.0, 0.0)]) / 360.0 % 1.0)
    assert len(found) == of and np.abs(found - turn).min() < 1e-6
    assert found[holes] == pytest.approx(turn, abs=1e-6)


def test_no_circle_divides_a_turn_into_127() -> None:
    """40 / 127 of a turn: on none of the usual circles does a hole stand there."""
    sets = [*range(15, 21), 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49, 24, 25, 28, 30, 34, 38, 42, 46, 51, 53, 54]
    for of in (*sets, 57, 58, 59, 62, 66):
        found = pinned(circle(of), [(100.0, 0.0)]) / 360.0 % 1.0
        assert np.abs(found - 40.0 / 127.0).min() > 1e-5
