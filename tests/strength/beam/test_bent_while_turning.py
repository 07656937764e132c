"""Beams that bend and twist, against differential equations solved another way and closed forms.

Equations of a turning beam: those of any book on rotor blades (string and beam together), written out here.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_bvp

from geomgen.strength.beam.beam import Beam, Masses, States, clamped, hinged, in_socket, turning
from geomgen.strength.beam.equilibrium import acting, reactions, resultants
from geomgen.strength.beam.statics import statics

FloatArray = NDArray[np.float64]

ROOT, TIP, EI_UP, EI_FORWARD, GJ, KG_M = 0.1, 1.5, 30.0, 90.0, 3.0, 0.4
STIFF = 1e9


def bar(pieces: int = 40, *, end: str = "clamped", axis: tuple[float, float] = (0.0, 0.0)) -> Beam:
    """A uniform bar."""
    x = np.linspace(ROOT, TIP, pieces + 1)
    ei = np.tile(np.diag([EI_FORWARD, EI_UP]), (pieces, 1, 1))
    held = clamped(pieces + 1) if end == "clamped" else hinged(pieces + 1)
    return Beam(x, ei, np.full(pieces, GJ), np.tile(axis, (pieces + 1, 1)), held)


def spread(beam: Beam, kg_m: float = KG_M) -> Masses:
    """Its mass at three points of each piece, weighed so that a smooth load counts as it does in full (Gauss)."""
    points, weights = np.polynomial.legendre.leggauss(3)
    half, middle = np.diff(beam.x_m)[:, None] / 2, (beam.x_m[1:] + beam.x_m[:-1])[:, None] / 2
    x = (middle + half * points).ravel()
    return Masses((half * weights * kg_m).ravel(), np.column_stack((x, np.zeros((len(x), 2)))))


def pushed(masses: Masses, per_m: FloatArray, rad_s: float, coning: float = 0.0) -> States:
    """Forces (3,) for each metre, spread like the masses."""
    forces = masses.kg[:, None] / KG_M * per_m
    none = np.zeros((1, len(forces), 3))
    return States(coning, np.array([rad_s]), np.zeros(1), np.zeros(1), masses.place_m, forces[None], none)


def solved_otherwise(rad_s: float, ei: float, per_m: float, *, softened: bool) -> tuple[FloatArray, FloatArray]:
    """Deflection and bending moment at ROOT..TIP of a clamped bar: (EI w'')'' - (T w')' - m W2 w = p, by scipy."""

    def pull(x: FloatArray) -> FloatArray:
        return 0.5 * KG_M * rad_s**2 * (TIP**2 - x**2)

    def rates(x: FloatArray, y: FloatArray) -> FloatArray:
        w, slope, moment, shear = y
        inertia = KG_M * rad_s**2 * w if softened else 0.0 * w
        return np.vstack(
            (slope, moment / ei, shear, per_m + inertia + pull(x) * moment / ei - KG_M * rad_s**2 * x * slope)
        )

    def ends(a: FloatArray, b: FloatArray) -> FloatArray:
        return np.array([a[0], a[1], b[2], b[3]])

    x = np.linspace(ROOT, TIP, 200)
    found = solve_bvp(rates, ends, x, np.zeros((4, 200)), tol=1e-8, max_nodes=20000)
    assert found.success
    y = found.sol(np.linspace(ROOT, TIP, 41))
    return y[0], y[2]


@pytest.mark.parametrize("rad_s", [0.0, 12.0, 25.0])
@pytest.mark.parametrize("way", ["up", "forward"])
def test_cantilever_with_pull_by_its_differential_equation(rad_s: float, way: str) -> None:
    up = way == "up"
    beam = bar()
    masses = spread(beam)
    states = pushed(masses, np.array([0.0, 0.0, 2.0] if up else [0.0, 2.0, 0.0]), rad_s)
    deflected = statics(beam, masses, states)
    across, moment = solved_otherwise(rad_s, EI_UP if up else EI_FORWARD, 2.0, softened=not up)
    assert np.allclose(deflected.nodes[0, :, 2 if up else 0], across, rtol=1e-3, atol=1e-3 * np.abs(across).max())
    through, _ = resultants(beam, acting(masses, deflected, states), deflected, beam.x_m)
    bent = (through.flap_nm if up else through.lag_nm)[0]
    assert np.allclose(bent, moment, rtol=1e-3, atol=1e-3 * np.abs(moment).max())


@pytest.mark.parametrize(("rpm", "newton"), [(100, 54.283), (120, 78.167), (150, 122.136), (200, 217.131)])
def test_pull_of_a_uniform_blade(rpm: int, newton: float) -> None:
    """.6 kg from .15 to 1.5 m: m W2 (r1 + r2)/2, also in section 9 of our list of references."""
    beam = Beam(np.linspace(0.15, 1.5, 10), np.tile(np.eye(2), (9, 1, 1)), np.ones(9), np.zeros((10, 2)), clamped(10))
    masses = spread(beam, 0.6 / 1.35)
    rad_s = rpm * math.pi / 30
    states = turning(np.array([rad_s]))
    deflected = statics(beam, masses, states)
    through, _ = resultants(beam, acting(masses, deflected, states), deflected, np.array([0.0, 0.9]))
    assert through.pull_n[0] == pytest.approx([newton, 0.6 * 0.6 / 1.35 * rad_s**2 * 1.2], rel=1e-5)


@pytest.mark.parametrize(("rpm", "newton"), [(100, 51.815), (120, 74.614), (150, 116.585), (200, 207.262)])
def test_pull_of_a_point(rpm: int, newton: float) -> None:
    """.35 kg at 1.35 m: m r W2."""
    beam, masses = bar(), Masses(np.array([0.35]), np.array([[1.35, 0.0, 0.0]]))
    states = turning(np.array([rpm * math.pi / 30]))
    deflected = statics(beam, masses, states)
    through, _ = resultants(beam, acting(masses, deflected, states), deflected, np.array([0.1, 1.0, 1.4]))
    assert np.allclose(through.pull_n[0], [newton, newton, 0.0], atol=6e-4)


def stiff(held: NDArray[np.bool_] | None = None, axis: tuple[float, float] = (0.0, 0.0)) -> Beam:
    """A bar that hardly gives."""
    x = np.linspace(ROOT, TIP, 15)
    ei = np.tile(STIFF * np.eye(2), (14, 1, 1))
    return Beam(x, ei, np.full(14, STIFF), np.tile(axis, (15, 1)), clamped(15) if held is None else held)


def test_a_tapered_blade_coned() -> None:
    """Mass that falls straight to none at the tip, coned by 6 degrees: integrals by hand."""
    beam, coning, rad_s = stiff(), math.radians(6.0), 17.0
    even = spread(beam)
    tapered = Masses(even.kg * (TIP - even.place_m[:, 0]) / (TIP - ROOT), even.place_m)
    states = turning(np.array([rad_s]), coning_rad=coning)
    deflected = statics(beam, tapered, states)
    through, _ = resultants(beam, acting(tapered, deflected, states), deflected, np.array([0.0]))
    slope = KG_M / (TIP - ROOT)
    first = slope * (TIP * (TIP**2 - ROOT**2) / 2 - (TIP**3 - ROOT**3) / 3)
    second = slope * (TIP * (TIP**3 - ROOT**3) / 3 - (TIP**4 - ROOT**4) / 4)
    across = rad_s**2 * math.sin(coning) * math.cos(coning)
    assert through.pull_n[0, 0] == pytest.approx(rad_s**2 * math.cos(coning) ** 2 * first, rel=1e-6)
    assert through.flap_n[0, 0] == pytest.approx(-across * first, rel=1e-6)
    assert through.flap_nm[0, 0] == pytest.approx(-across * second, rel=1e-6)


def test_weight_and_growing_speed_of_a_level_blade() -> None:
    """Droops by m g, lags behind by its inertia about the hub times how fast the speed grows."""
    beam = stiff()
    masses = spread(beam)
    none = np.zeros((1, 0, 3))
    states = States(0.0, np.zeros(1), np.array([3.0]), np.array([9.80665]), np.zeros((0, 3)), none, none)
    deflected = statics(beam, masses, states)
    through, _ = resultants(beam, acting(masses, deflected, states), deflected, np.array([0.0]))
    assert through.flap_nm[0, 0] == pytest.approx(-9.80665 * KG_M * (TIP**2 - ROOT**2) / 2, rel=1e-6)
    assert through.lag_nm[0, 0] == pytest.approx(-3.0 * KG_M * (TIP**3 - ROOT**3) / 3, rel=1e-6)
    assert through.lag_n[0, 0] == pytest.approx(-3.0 * KG_M * (TIP**2 - ROOT**2) / 2, rel=1e-6)


@pytest.mark.parametrize("pitch_deg", [-9.0, 0.0, 12.0])
def test_turning_pulls_a_flat_plate_flat(pitch_deg: float) -> None:
    """Plate .2 wide and 1.4 long of .56 kg, nose up by p: the moment is -W2 (m c2/12) sin p cos p, in closed form."""
    pitch, rad_s = math.radians(pitch_deg), 15.0
    beam = stiff()
    even = spread(beam)
    points, weights = np.polynomial.legendre.leggauss(2)
    chord = np.concatenate([np.full(len(even.kg), 0.1 * each) for each in points])
    place = np.column_stack((np.tile(even.place_m[:, 0], 2), chord * math.cos(pitch), chord * math.sin(pitch)))
    plate = Masses(np.concatenate([even.kg * each / 2 for each in weights]), place)
    states = turning(np.array([rad_s]))
    deflected = statics(beam, plate, states)
    through, own = resultants(beam, acting(plate, deflected, states), deflected, np.array([ROOT - 0.01]))
    moment = -(rad_s**2) * KG_M * (TIP - ROOT) * 0.2**2 / 12 * math.sin(pitch) * math.cos(pitch)
    assert through.turn_nm[0, 0] == pytest.approx(moment, rel=1e-6, abs=1e-9)
    assert own[0, 0] == pytest.approx(moment, rel=1e-5, abs=1e-9)


def test_a_fan_carried_round_turns_the_blade() -> None:
    """Section 13 of our references: 1.2e-5 kg m2 at 40000 rpm on a rotor of 150 rpm: .78957 N m; twist T x/GJ."""
    couple = 1.2e-5 * 40000 * math.pi / 30 * 150 * math.pi / 30
    assert couple == pytest.approx(0.78957, abs=5e-6)
    x = np.linspace(ROOT, TIP, 29)
    beam = Beam(
        x, np.tile(50.0 * np.eye(2), (28, 1, 1)), np.full(28, GJ), np.zeros((29, 2)),
        in_socket(x, inner_m=0.1, outer_m=0.2, twist_m=0.3),
    )  # fmt: skip
    moment = np.array([[[couple, 0.0, 0.0]]])
    states = States(0.0, np.zeros(1), np.zeros(1), np.zeros(1), np.array([[1.2, 0.05, 0.0]]), 0.0 * moment, moment)
    none = Masses(np.zeros(0), np.zeros((0, 3)))
    deflected = statics(beam, none, states)
    loads = acting(none, deflected, states)
    assert reactions(beam, loads).pins_nm == pytest.approx([couple])
    assert deflected.nodes[0, :, 4] == pytest.approx(couple * np.clip(np.minimum(x, 1.2) - 0.3, -1, None).clip(0) / GJ)
    through, _ = resultants(beam, loads, deflected, np.array([0.15, 0.3, 0.31, 1.19, 1.21]))
    assert through.turn_nm[0] == pytest.approx([0.0, couple, couple, couple, 0.0])


def test_bending_askew() -> None:
    """A load at the tip of a cantilever whose stiff way lies askew: F L3/3 times the inverse of its stiffness."""
    ei = np.array([[60.0, -18.0], [-18.0, 20.0]])
    x = np.linspace(0.0, 1.0, 4)
    beam = Beam(x, np.tile(ei, (3, 1, 1)), np.ones(3), np.zeros((4, 2)), clamped(4))
    forces = np.array([[[0.0, 1.5, 0.0]], [[0.0, 0.0, -2.0]]])
    none = np.zeros(2)
    states = States(0.0, none, none, none, np.array([[1.0, 0.0, 0.0]]), forces, 0.0 * forces)
    nodes = statics(beam, Masses(np.zeros(0), np.zeros((0, 3))), states).nodes
    assert np.allclose(nodes[:, -1, [0, 2]], forces[:, 0, 1:] @ np.linalg.inv(ei) / 3, rtol=1e-12)


@pytest.mark.parametrize("forward_n", [0.4, -0.4])
def test_twist_about_itself_of_a_beam_bent_both_ways(forward_n: float) -> None:
    """Forces Fy and Fz at the tip turn a cantilever about itself by Fy Fz (L - x)3/3 (1/EIlag - 1/EIflap): by how far
    each bends it off the line of the other (equilibrium on the bent beam, as for its buckling sideways)."""
    x = np.linspace(0.0, 1.2, 31)
    beam = Beam(x, np.tile(np.diag([120.0, 30.0]), (30, 1, 1)), np.full(30, GJ), np.zeros((31, 2)), clamped(31))
    force = np.array([[[0.0, forward_n, 1.5]]])
    none = np.zeros(1)
    states = States(0.0, none, none, none, np.array([[1.2, 0.0, 0.0]]), force, 0.0 * force)
    masses = Masses(np.zeros(0), np.zeros((0, 3)))
    deflected = statics(beam, masses, states)
    through, own = resultants(beam, acting(masses, deflected, states), deflected, x)
    assert own[0] == pytest.approx(forward_n * 1.5 * (1.2 - x) ** 3 / 3 * (1 / 120 - 1 / 30), abs=1e-9)
    assert through.lag_nm[0] == pytest.approx(forward_n * (1.2 - x))
