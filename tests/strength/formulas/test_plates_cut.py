"""Ribs cut along a line, by hand and by small steps; a ring plate, by its differential equation."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy.integrate import solve_ivp

from geomgen.strength.formulas.plate import ring_plate_mpa, ring_shear_mpa
from geomgen.strength.formulas.rib import ligaments, rib_bearing_mpa, web_shear_mpa

RIB = shapely.box(0.0, 0.0, 60.0, 30.0)
HOLE = shapely.Point(30.0, 14.0).buffer(9.0, quad_segs=512)
SLOT = shapely.box(20.0, 26.0, 40.0, 28.0)


def test_a_rib_through_a_hole() -> None:
    """4 mm beside a hole's middle its chord is 2 sqrt(81 - 16); a slot above takes 2 mm more."""
    chord = np.sqrt(81.0 - 16.0)
    cut = ligaments(RIB.difference(HOLE).difference(SLOT), (34.0, -5.0), (34.0, 35.0), 3.0)
    assert cut.starts - 5.0 == pytest.approx([0.0, 14.0 + chord, 28.0], abs=1e-4)
    assert cut.ends - 5.0 == pytest.approx([14.0 - chord, 26.0, 30.0], abs=1e-4)
    # second moment in small steps
    at = (np.arange(300_000) + 0.5) * 1e-4 + 5.0
    kept = at[((at[:, None] > cut.starts) & (at[:, None] < cut.ends)).any(axis=1)]
    assert cut.area_mm2 == pytest.approx(kept.size * 3e-4, rel=1e-4)
    assert cut.middle == pytest.approx(kept.mean(), abs=1e-3)
    assert cut.second_mm4 == pytest.approx(((kept - kept.mean()) ** 2).sum() * 3e-4, rel=1e-4)
    assert cut.section_mm3 == pytest.approx(cut.second_mm4 / max(35.0 - kept.mean(), kept.mean() - 5.0), rel=1e-4)
    assert cut.own_second_mm4 == pytest.approx(3.0 * np.array([14.0 - chord, 12.0 - chord, 2.0]) ** 3 / 12.0, rel=1e-4)
    assert cut.out_of_plane_mm4 == pytest.approx(cut.area_mm2 * 9.0 / 12.0)


def test_a_slanted_cut_is_longer() -> None:
    """At 45 deg through a strip 10 mm wide: 10 sqrt 2."""
    cut = ligaments(shapely.box(-50.0, 0.0, 50.0, 10.0), (-20.0, -20.0), (20.0, 20.0), 2.0)
    assert cut.widths == pytest.approx([10.0 * np.sqrt(2.0)])


def test_a_cut_beside_the_rib_leaves_nothing() -> None:
    cut = ligaments(RIB, (80.0, -5.0), (80.0, 35.0), 3.0)
    assert cut.widths.size == 0 and cut.area_mm2 == 0.0
    touching = ligaments(shapely.Polygon([(0, 0), (2, 0), (1, 1)]), (0.0, 1.0), (2.0, 1.0), 3.0)
    assert touching.widths.size == 0


def test_a_solid_web() -> None:
    """1.5 V / (h t), by hand: 10 N on 30 x 3 is .16667; a 10 mm tube on a 3 mm rib bears on 30 mm2."""
    assert web_shear_mpa(10.0, 30.0, 3.0) == pytest.approx(1.0 / 6.0)
    assert rib_bearing_mpa(15.0, 10.0, 3.0) == pytest.approx(0.5)


def ring_moments(force: float, circles: tuple[float, float, float], poisson: float) -> np.ndarray:
    """(2, n) radial and round moments of a thin ring plate that lies on its outer rim, from hole to rim.

    Slope phi: (phi' + phi / r)' = Q / D, Q only outside the pressed circle; no radial moment at either rim. D is 1. The
    slope at the hole is found from two tries, for the equation is linear.
    """
    hole, pressed, rim = (each / 2.0 for each in circles)

    def tried(first: float) -> tuple[float, np.ndarray]:
        state, kept = np.array([first, -poisson * first / hole]), []
        for start, end, shear in ((hole, pressed, 0.0), (pressed, rim, force / (2.0 * np.pi))):
            if end == start:
                continue

            def slope(r: float, y: np.ndarray, shear: float = shear) -> list[float]:
                return [y[1], -y[1] / r + y[0] / r**2 + shear / r]

            at = np.linspace(start, end, 60)
            y = solve_ivp(slope, (start, end), state, t_eval=at, rtol=1e-10, atol=1e-12).y
            state = y[:, -1]
            kept.append([y[1] + poisson * y[0] / at, y[0] / at + poisson * y[1]])
        moments = np.concatenate(kept, axis=1)
        return float(moments[0, -1]), moments

    (left, none), (with_one, one) = tried(0.0), tried(1.0)
    return np.asarray(none - left / (with_one - left) * (one - none))


@pytest.mark.parametrize("pressed", [10.0, 13.0, 17.0])
@pytest.mark.parametrize("poisson", [0.3, 0.38])
def test_a_ring_plate(pressed: float, poisson: float) -> None:
    """Both radial and round moments are searched for the greatest, over all radii."""
    moments = ring_moments(100.0, (10.0, pressed, 20.0), poisson)
    expected = 6.0 * abs(moments).max() / 9.0
    assert ring_plate_mpa(100.0, 20.0, 10.0, pressed, 3.0, poisson) == pytest.approx(expected, rel=1e-6)


def test_a_prints_poisson_is_taken_unless_told() -> None:
    moments = ring_moments(100.0, (10.0, 12.0, 20.0), 0.35)
    assert ring_plate_mpa(100.0, 20.0, 10.0, 12.0, 3.0) == pytest.approx(6.0 * abs(moments).max() / 9.0, rel=1e-6)


def test_a_plate_punched() -> None:
    """1.5 F over the face that would be cut: 10 mm round, 3 mm thick, 94.248 mm2."""
    assert ring_shear_mpa(94.2478, 10.0, 3.0) == pytest.approx(1.5, rel=1e-6)
