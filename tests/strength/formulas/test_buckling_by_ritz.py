"""Panels, cylinders, faces and tubes that buckle, by least energy over trial shapes found here with scipy."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.polynomial import Polynomial
from numpy.polynomial.legendre import Legendre, leggauss
from scipy.linalg import eigh
from scipy.optimize import minimize, minimize_scalar

from geomgen.strength.formulas.panel import (
    SHEARED,
    curve_buckling_mpa,
    panel_buckling_mpa,
)
from geomgen.strength.formulas.sandwich import (
    core_shear_mpa,
    wrinkling_mpa,
)
from geomgen.strength.formulas.shell import (
    ovalising_nmm,
    wall_buckling_along_mpa,
    wall_buckling_mpa,
    wall_knock_down,
)
from geomgen.strength.formulas.short_panel import short_panel_mpa
from geomgen.strength.formulas.tube import column_n, tube_section

AT, WEIGHT = leggauss(24)
AT, WEIGHT = (AT + 1.0) / 2.0, WEIGHT / 2.0  # across a strip of width 1


def shapes(edges: Polynomial, count: int = 9) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Trial shapes across a strip that keep to its edges, with their first and second slopes; (count, points) each."""
    forms = [
        edges * Legendre.basis(each, domain=[0.0, 1.0]).convert(kind=Polynomial, domain=[-1, 1])
        for each in range(count)
    ]
    one, two, three = ([form.deriv(times)(AT) for form in forms] for times in (0, 1, 2))
    return np.array(one), np.array(two), np.array(three)


BOTH_LAID_ON, ONE_FREE = Polynomial([0.0, 1.0, -1.0]), Polynomial([0.0, 1.0])
Plate = tuple[float, float, float, float]  # D along, across, their coupling nu D, and G t3 / 12


def energy(plate: Plate, wave: float, forms: tuple[np.ndarray, ...]) -> np.ndarray:
    """Energy of bending by pairs of shapes times a sine of that wave number along the strip, averaged over it."""
    along, across, coupled, twisted = plate
    f, slope, curve = (form * np.sqrt(WEIGHT) for form in forms)
    mixed = f @ curve.T
    return np.asarray(
        along * wave**4 * f @ f.T
        - coupled * wave**2 * (mixed + mixed.T)
        + across * curve @ curve.T
        + 4.0 * twisted * wave**2 * slope @ slope.T
    )


def pressed(plate: Plate, edges: Polynomial) -> float:
    """Least force by width along a strip of width 1 at which it buckles, over all wave lengths."""
    forms = shapes(edges)

    def force(log_wave: float) -> float:
        wave = float(np.exp(log_wave))
        f = forms[0] * np.sqrt(WEIGHT)
        return float(eigh(energy(plate, wave, forms), wave**2 * f @ f.T, eigvals_only=True)[0])

    return float(minimize_scalar(force, bounds=(-3.0, 3.0), method="bounded", options={"xatol": 1e-6}).fun)


def sheared(plate: Plate) -> float:
    """Least shear by width at which a strip with both edges laid on buckles; skew waves."""
    forms = shapes(BOTH_LAID_ON)
    mixed = (forms[0] * WEIGHT) @ forms[1].T

    def force(wave: float) -> float:
        skew = 1j * wave * (mixed - mixed.T)
        return float(1.0 / eigh(skew, energy(plate, wave, forms).astype(complex), eigvals_only=True)[-1])

    return float(minimize_scalar(force, bounds=(1.0, 8.0), method="bounded", options={"xatol": 1e-6}).fun)


def isotropic(modulus: float, thickness: float, poisson: float) -> Plate:
    d = modulus * thickness**3 / 12.0 / (1.0 - poisson**2)
    return d, d, poisson * d, (1.0 - poisson) / 2.0 * d


def test_a_panel_alike_in_all_directions() -> None:
    """Timoshenko's 4, 5.35 and, one edge free, .425 (its limit for a long strip at nu .3 as he prints it)."""
    plate = isotropic(9.0, 6.0, 0.3)
    for factor, force in ((4.0, pressed(plate, BOTH_LAID_ON)), (SHEARED, sheared(plate))):
        assert panel_buckling_mpa(9.0, 6.0, 60.0, factor) == pytest.approx(force / 60.0**2 / 6.0, rel=3e-3)
    free = pressed(plate, ONE_FREE)
    assert panel_buckling_mpa(9.0, 6.0, 60.0, 0.425) == pytest.approx(free / 60.0**2 / 6.0, rel=2e-2)


@pytest.mark.parametrize(
    ("along", "across", "shear", "thickness"), [(2413.0, 60.0, 112.0, 1.5), (60.0, 2413.0, 112.0, 1.5)]
)
def test_a_sheet_of_wood(along: float, across: float, shear: float, thickness: float) -> None:
    cube = thickness**3 / 12.0
    # nu D is the same from both sides: nu of the stretch along, times the stiffness across
    force = pressed((along * cube, across * cube, 0.3 * across * cube, shear * cube), BOTH_LAID_ON)
    # long enough for its waves to be as long as they like
    waves = 12 * 60.0 * (along / across) ** 0.25
    assert short_panel_mpa(along, across, shear, thickness, waves, 60.0) == pytest.approx(
        force / 60.0**2 / thickness, rel=1e-6
    )


def test_the_curve_adds_half_of_a_cylinder() -> None:
    """A perfect cylinder is .605 E t / r: the table has .3 of it for a curved panel."""
    perfect = wall_buckling_mpa(2413.0, 80.0, 1.5) / wall_knock_down(80.0, 1.5)
    assert curve_buckling_mpa(2413.0, 1.5, 80.0) == pytest.approx(0.3 / 0.605 * perfect, rel=1e-3)
    assert curve_buckling_mpa(2413.0, 1.5, np.inf) == 0.0


def cylinder(moduli: tuple[float, float, float], radius: float, wall: float, poisson: float) -> float:
    """Least stress at which a long cylinder of two moduli buckles into waves along and round it (Donnell).

    Each pair of wave numbers k, l: ((D1 k4 + 2 (D12 + 2 D66) k2 l2 + D2 l4) + k4 / r2 / m) / k2,
    m = k4 / E2t + (1 / Gt - 2 nu / E1t) k2 l2 + l4 / E1t.
    """
    along, across, shear = moduli
    other = poisson * across / along
    cube = wall**3 / 12.0
    d1, d2 = (each * cube / (1.0 - poisson * other) for each in (along, across))
    mixed = 2.0 * (poisson * d2 + 2.0 * shear * cube)

    def stress(waves: np.ndarray) -> float:
        k2, l2 = waves**2
        skin = k2**2 / across + (1.0 / shear - 2.0 * poisson / along) * k2 * l2 + l2**2 / along
        bent = d1 * k2**2 + mixed * k2 * l2 + d2 * l2**2
        return float((bent / wall + k2**2 / radius**2 / skin) / k2)

    starts = [(k / radius, around / radius) for k in (0.5, 1.0, 2.0, 5.0) for around in (0.0, 1.0, 3.0)]
    found = [minimize(stress, start, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-9}) for start in starts]
    return min(float(each.fun) for each in found)


@pytest.mark.parametrize("shear", [4.3e3, 30e3])
@pytest.mark.parametrize("wall", [1.0, 0.5])
def test_a_carbon_tubes_wall(shear: float, wall: float) -> None:
    """Soft in shear, it buckles into diamonds; stiff in shear, into rings."""
    perfect = cylinder((120e3, 8e3, shear), 5.0 - wall / 2.0, wall, 0.3)
    radius = 5.0 - wall / 2.0
    ours = wall_buckling_along_mpa(120e3, 8e3, shear, radius, wall) / wall_knock_down(radius, wall)
    assert ours == pytest.approx(perfect, rel=1e-5)


def test_a_metal_tubes_wall() -> None:
    shear = 70e3 / 2.6
    ours = wall_buckling_mpa(70e3, 4.75, 0.5) / wall_knock_down(4.75, 0.5)
    assert ours == pytest.approx(cylinder((70e3, 70e3, shear), 4.75, 0.5, 0.3), rel=1e-5)


def test_a_tube_that_flattens() -> None:
    """Brazier: energy of a bent tube whose section becomes an oval, its second moment and ring energy by quadrature."""
    along, across, poisson, radius, wall = 120e3, 8e3, 0.3, 4.5, 1.0
    angle = np.arange(3600) * 2.0 * np.pi / 3600

    def second(oval: float) -> float:
        """Of a ring whose wall moves out by -oval r cos 2a and round by half of its sine: unstretched."""
        out, round_it = -oval * radius * np.cos(2.0 * angle), oval * radius / 2.0 * np.sin(2.0 * angle)
        height = (radius + out) * np.cos(angle) - round_it * np.sin(angle)
        return float((height**2).mean() * 2.0 * np.pi * radius * wall)

    falls = (second(1e-6) - second(-1e-6)) / 2e-6
    # the wall's change of curvature (w + w'') / r2 = 3 oval cos 2a / r; Poisson's coupling kept from both ways
    ring = across * wall**3 / 12.0 / (1.0 - poisson**2 * across / along)
    stiff = ring * ((3.0 * np.cos(2.0 * angle) / radius) ** 2).mean() * 2.0 * np.pi * radius

    def moment(curved: float) -> float:
        """Slope of the least energy by curvature; second moment to first order of the oval, as Brazier has it."""
        oval = -along * curved**2 * falls / (2.0 * stiff)
        return along * curved * (second(0.0) + falls * oval)

    peak = minimize_scalar(lambda c: -moment(c), bounds=(1e-5, 0.1), method="bounded", options={"xatol": 1e-10})
    assert ovalising_nmm(along, across, radius, wall, poisson) == pytest.approx(-peak.fun, rel=1e-4)


def test_wrinkles() -> None:
    """Least energy over wave number and how deep the core moves: .825 of the cube root.

    The core moves straight up and down, w exp(-y / deep): energy E / deep + G k2 deep, a quarter of it on average.
    """
    face, core, shear, thick = 11667.0, 9.0, 4.0, 0.4

    def stress(logs: np.ndarray) -> float:
        wave, deep = np.exp(logs)
        bed = core / (2.0 * deep) + shear * wave**2 * deep / 2.0
        return float((face * thick**3 / 12.0 * wave**2 + bed / wave**2) / thick)

    least = minimize(stress, (0.0, 0.0), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-9, "maxiter": 4000})
    assert wrinkling_mpa(face, core, shear, 0.825) == pytest.approx(least.fun, rel=1e-3)


def test_the_core_of_a_bent_board() -> None:
    """Even over the depth between its faces' middles, the core's shear is the force."""
    assert core_shear_mpa(1.5, 20.0, 4.68) * 20.0 * 4.68 == pytest.approx(1.5)


def test_columns_held_in_other_ways() -> None:
    """Both held 4 times, one held 20.19 / pi2 (tan z = z), free at one end a quarter of Euler's force."""
    second = tube_section(10.0, 8.0).second_mm4
    euler = column_n(120e3, second, 500.0)
    z = minimize_scalar(lambda z: (np.tan(z) - z) ** 2, bounds=(4.3, 4.6), method="bounded").x
    assert column_n(120e3, second, 500.0, 0.5) == pytest.approx(4.0 * euler)
    assert column_n(120e3, second, 500.0, 0.7) == pytest.approx(z**2 / np.pi**2 * euler, rel=3e-3)
    assert column_n(120e3, second, 500.0, 2.0) == pytest.approx(euler / 4.0)
