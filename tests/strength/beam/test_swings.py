"""How turning beams swing, against a published table, closed forms, and other solvers.

reference/rotating_beam/wright.csv : swings of a uniform beam whose root is on the axis, times (m L4/EI)^.5, at speeds
times the same; Wright, Smith, Thresher and Wang, J. Appl. Mech. 49 (1982), from memory for the cantilever, and computed
apart by a Galerkin method to 1e-9.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from beams_by_hand import rows_at
from numpy.typing import NDArray
from scipy.linalg import eigh

from geomgen.strength.beam.beam import Beam, Masses, clamped, hinged, in_socket
from geomgen.strength.beam.matrices import elastic, mass, spun
from geomgen.strength.beam.modes import Modes, modes

FloatArray = NDArray[np.float64]

TABLE = np.genfromtxt(
    Path(__file__).parents[2] / "reference" / "rotating_beam" / "wright.csv", delimiter=",", names=True, skip_header=1
)
LENGTH, KG_M, EI, EI_LAG, GJ, INERTIA = 1.4, 0.4, 30.0, 30.0e4, 3.0, 4e-4
UNIT = math.sqrt(EI / (KG_M * LENGTH**4))  # rad/s of the table's 1


def uniform(held: str, *, root: float = 0.0, pieces: int = 24) -> tuple[Beam, Masses]:
    """A uniform beam, its mass at three Gauss points a piece, in pairs so that it resists twist by INERTIA a metre."""
    x = root + np.linspace(0.0, LENGTH, pieces + 1)
    held_at = (clamped if held == "clamped" else hinged)(pieces + 1)
    beam = Beam(
        x, np.tile(np.diag([EI_LAG, EI]), (pieces, 1, 1)), np.full(pieces, GJ), np.zeros((pieces + 1, 2)), held_at
    )
    points, weights = np.polynomial.legendre.leggauss(3)
    half, middle = np.diff(x)[:, None] / 2, (x[1:] + x[:-1])[:, None] / 2
    at, kg = (middle + half * points).ravel(), (half * weights * KG_M / 4).ravel()
    arm = math.sqrt(INERTIA / KG_M)
    places = [
        np.column_stack((at, 0 * at + way[0] * arm, 0 * at + way[1] * arm))
        for way in ((1, 0), (-1, 0), (0, 1), (0, -1))
    ]
    return beam, Masses(np.tile(kg, 4), np.concatenate(places))


def named(found: Modes, kind: str) -> FloatArray:
    """(k, m) swings of one kind, lowest first."""
    return np.column_stack([found.natural[:, k] for k, name in enumerate(found.names) if name.startswith(kind)])


@pytest.mark.parametrize(("held", "column"), [("clamped", "cant"), ("hinged", "hinged")])
def test_flap_by_the_table_of_turning_beams(held: str, column: str) -> None:
    """Twist's inertia is taken so small that sections' own turning doesn't count."""
    beam, masses = uniform(held)
    thin = Masses(masses.kg, masses.place_m * [1.0, 1e-3, 1e-3])
    found = named(modes(beam, thin, TABLE["eta"] * UNIT, count=12), "flap") / UNIT
    table = np.column_stack([TABLE[f"{column}{k}"] for k in (1, 2, 3)])
    assert np.allclose(found[:, :3], table, rtol=2e-5, atol=1e-3)


def test_lag_is_flap_less_the_square_of_speed() -> None:
    """Exact for equal stiffness both ways: within its plane, turning takes W2 off each square."""
    beam, masses = uniform("clamped")
    beam = Beam(beam.x_m, np.tile(EI * np.eye(2), (24, 1, 1)), beam.gj_nm2, beam.axis_m, beam.held)
    thin = Masses(masses.kg, masses.place_m * [1.0, 1e-3, 1e-3])
    speeds = np.linspace(0.0, 12.0, 7) * UNIT
    found = modes(beam, thin, speeds, count=8)
    assert np.allclose(
        named(found, "lag")[:, :2] ** 2, named(found, "flap")[:, :2] ** 2 - speeds[:, None] ** 2, rtol=1e-4
    )


@pytest.mark.parametrize("offset", [0.0, 0.1, 0.5])
def test_southwells_constant_grows_with_a_hubs_radius(offset: float) -> None:
    """K1 = 1.1933 + 1.571 e/L where speed goes to 0: section 9 of our references, computed there."""
    beam, masses = uniform("clamped", root=offset * LENGTH)
    thin = Masses(masses.kg, masses.place_m * [1.0, 1e-3, 1e-3])
    slow = 0.05 * UNIT
    first = named(modes(beam, thin, np.array([0.0, slow])), "flap")[:, 0]
    assert (first[1] ** 2 - first[0] ** 2) / slow**2 == pytest.approx(1.1933 + 1.571 * offset, abs=1e-3)


def test_southwells_constants_of_the_table() -> None:
    beam, masses = uniform("clamped")
    thin = Masses(masses.kg, masses.place_m * [1.0, 1e-3, 1e-3])
    found = named(modes(beam, thin, TABLE["eta"] * UNIT, count=12), "flap") / UNIT
    constants = (found[1:, :2] ** 2 - found[0, :2] ** 2) / TABLE["eta"][1:, None] ** 2
    table = np.column_stack([TABLE[f"southwell_cant{k}"] for k in (1, 2)])[1:]
    assert np.allclose(constants, table, atol=2e-3)


@pytest.mark.parametrize("rad_s", [0.0, 20.0])
def test_twist_of_a_uniform_bar(rad_s: float) -> None:
    """(k - 1/2) pi (GJ/I)^.5/L at rest; turning adds W2 of (I forward - I up)/I to each square, none for a round one,
    one for a flat one: closed forms."""
    beam, masses = uniform("clamped", pieces=40)
    stiff = Beam(beam.x_m, 1e3 * beam.ei_nm2, beam.gj_nm2, beam.axis_m, beam.held)
    flat = Masses(masses.kg, masses.place_m * [1.0, math.sqrt(2.0), 0.0])
    rest = (np.arange(1, 4) - 0.5) * math.pi * math.sqrt(GJ / INERTIA) / LENGTH
    for kind, more in ((masses, 0.0), (flat, rad_s**2)):
        found = named(modes(stiff, kind, np.array([0.0, rad_s]), count=10), "twist")[-1, :3]
        assert found == pytest.approx(np.sqrt(rest**2 + more), rel=2e-3)


def a_blade(seed: int) -> tuple[Beam, Masses]:
    """One that bends askew on a kinked axis, with its mass off it."""
    draw = np.random.default_rng(seed)
    x = np.concatenate(([0.03, 0.09, 0.13, 0.16], np.linspace(0.2, 1.5, 25)))
    ei = np.einsum("kij,klj->kil", each := draw.normal(0.0, 4.0, (28, 2, 2)), each) + np.diag([120.0, 30.0])
    axis = 0.1 * np.column_stack((np.clip(x - 0.2, 0, 0.2), -0.4 * np.clip(x - 0.2, 0, 0.3)))
    held = in_socket(x, inner_m=0.03, outer_m=0.13, twist_m=0.16)
    place = np.column_stack((draw.uniform(0.1, 1.52, 300), draw.normal(-0.01, 0.04, 300), draw.normal(0.0, 0.008, 300)))
    return Beam(x, ei, draw.uniform(2.0, 5.0, 28), axis, held), Masses(np.full(300, 0.5 / 300), place)


def test_speeds_between_are_as_the_whole_problem_has_them() -> None:
    """All that the beam can do, by scipy, at each speed; masses moved by the tests' own shapes."""
    beam, masses = a_blade(3)
    speeds = np.linspace(0.0, 25.0, 9)
    free = ~beam.held.ravel()
    at_rest, turned = elastic(beam).dense(), spun(beam, masses, 0.06).stiffness.dense()
    sections = rows_at(beam, masses.place_m[:, 0])
    y, z = (masses.place_m[:, 1 + k] - np.interp(masses.place_m[:, 0], beam.x_m, beam.axis_m[:, k]) for k in (0, 1))
    ways = [-y[:, None] * sections[:, 1] - z[:, None] * sections[:, 3]]
    ways += [sections[:, 0] - z[:, None] * sections[:, 4], sections[:, 2] + y[:, None] * sections[:, 4]]
    weighs = sum(way.T @ (masses.kg[:, None] * way) for way in ways)
    found = modes(beam, masses, speeds, coning_rad=0.06)
    for speed, swings in zip(speeds, found.natural, strict=True):
        inside = np.ix_(free, free)
        slowest = eigh(weighs[inside], (at_rest + speed**2 * turned)[inside], eigvals_only=True)[::-1]  # of 1/w2
        assert np.allclose(np.sort(swings), slowest[:6] ** -0.5, rtol=1e-4)
    assert np.allclose(mass(beam, masses).dense(), weighs, atol=1e-12)


def test_modes_keep_their_names_where_swings_cross() -> None:
    """Flap grows with speed and lag hardly: uncoupled, they cross, and each goes on as what it is."""
    beam, masses = uniform("clamped")
    beam = Beam(beam.x_m, np.tile(np.diag([60.0 * EI, EI]), (24, 1, 1)), 100 * beam.gj_nm2, beam.axis_m, beam.held)
    found = modes(beam, masses, np.linspace(0.0, 60.0 * UNIT, 21), count=4)
    lag, flap = (found.names.index(name) for name in ("lag 1", "flap 2"))
    assert found.natural[0, flap] < found.natural[0, lag] and found.natural[-1, flap] > found.natural[-1, lag]
    assert np.all(found.shares[:, flap, 0] > 0.99) and np.all(found.shares[:, lag, 1] > 0.99)
    assert np.all(np.diff(found.natural[:, flap]) > 0.0)
    assert np.allclose(found.shares.sum(-1), 1.0)


def test_a_point_at_the_tip() -> None:
    """(3 EI/(m L3))^.5 for a beam without mass of its own; forward too, and nothing else swings."""
    x = np.linspace(0.0, 1.0, 6)
    beam = Beam(x, np.tile(np.diag([90.0, 30.0]), (5, 1, 1)), np.ones(5), np.zeros((6, 2)), clamped(6))
    found = modes(beam, Masses(np.array([0.2]), np.array([[1.0, 0.0, 0.0]])), np.zeros(1))
    assert found.names == ("flap 1", "lag 1")
    assert found.natural[0] == pytest.approx(np.sqrt(3 * np.array([30.0, 90.0]) / 0.2))
